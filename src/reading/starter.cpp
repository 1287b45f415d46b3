// SPDX-License-Identifier: Apache-2.0
// Every key of a format in a file of comments: with the leading "# " of each line taken away it is a
// file that parses. What explains begins with two signs and stays a comment.
#include <algorithm>
#include <set>

#include "housepower/reading/fields.hpp"
#include "housepower/reading/shape.hpp"

namespace housepower {
namespace {

constexpr int deepest_block = 3;  // deeper tables, which may hold themselves, stand inline

std::string key_line(const Field& field) {
  std::string out = "# " + std::string(field.key) + " = " + detail::example_of(field);
  if (!field.says.empty()) out += "  # " + std::string(field.says);
  return out + "\n";
}

/// A list of which the keys of several kinds stand side by side names a key once.
class Keys {
public:
  bool is_new(const Field& field) {
    return field.role == Field::Role::member && seen_.insert(field.key).second;
  }

private:
  std::set<std::string_view> seen_;
};

void append_block(std::string& out, const Field& field, const std::string& path, int depth) {
  const bool many = field.shape->form == Shape::Form::list;
  const FieldList inner = detail::innermost(*field.shape).inner();
  out += "\n";
  if (!field.says.empty()) out += "## " + std::string(field.says) + "\n";
  out += (many ? "# [[" : "# [") + path + (many ? "]]\n" : "]\n");
  Keys plain, tables;
  const auto has_block = [&](const Field& key) {
    return detail::holds_tables(key) && depth < deepest_block;
  };
  for (const auto& key : inner)
    if (!has_block(key) && plain.is_new(key)) out += key_line(key);
  for (const auto& key : inner)
    if (has_block(key) && tables.is_new(key))
      append_block(out, key, path + "." + std::string(key.key), depth + 1);
}

}  // namespace

std::string every_key(FieldList list) {
  std::string out;
  Keys plain, tables;
  for (const auto& field : list)
    if (!detail::holds_tables(field) && plain.is_new(field)) out += key_line(field);
  for (const auto& field : list)
    if (detail::holds_tables(field) && tables.is_new(field))
      append_block(out, field, std::string(field.key), 1);
  return out;
}

}  // namespace housepower

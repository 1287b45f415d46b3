// SPDX-License-Identifier: Apache-2.0
// A file to start from: required keys with their examples, the others as comments. Tables at the
// top have blocks of their own, deeper ones stand inline. It reads without an error as it stands.
#include <algorithm>

#include "housepower/reading/fields.hpp"
#include "housepower/reading/shape.hpp"

namespace housepower {
namespace {

bool is_needed(const Field& field, FieldList list) {
  return field.required || std::any_of(list.begin(), list.end(), [&](const Field& group) {
           return group.role == Field::Role::exactly_one && group.group[0] == field.key;
         });
}

std::string key_line(const Field& field, bool live) {
  std::string out = (live ? "" : "# ") + std::string(field.key) + " = " + detail::example_of(field);
  if (!field.says.empty()) out += "  # " + std::string(field.says);
  return out + "\n";
}

std::string block(const Field& field, bool live) {
  const bool many = field.shape->form == Shape::Form::list;
  const FieldList inner = detail::innermost(*field.shape).inner();
  std::string out = "\n";
  if (!field.says.empty()) out += "# " + std::string(field.says) + "\n";
  out += std::string(live ? "" : "# ") + (many ? "[[" : "[") + std::string(field.key) +
         (many ? "]]\n" : "]\n");
  for (const auto& key : inner)
    if (key.role == Field::Role::member) out += key_line(key, live && is_needed(key, inner));
  return out;
}

}  // namespace

std::string starter(FieldList list) {
  std::string out;
  for (const auto& field : list)
    if (field.role == Field::Role::member && !detail::holds_tables(field))
      out += key_line(field, is_needed(field, list));
  for (const auto& field : list)
    if (detail::holds_tables(field)) out += block(field, is_needed(field, list));
  return out;
}

}  // namespace housepower

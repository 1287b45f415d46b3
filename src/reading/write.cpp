// SPDX-License-Identifier: Apache-2.0
// A tree as TOML again.
#include <algorithm>
#include <cmath>

#include "housepower/reading/fields.hpp"
#include "housepower/reading/shown.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/reading/write.hpp"
#include "housepower/units/unit.hpp"

namespace housepower {
namespace {

std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  while (!text.empty()) {
    const auto [value, bytes] = detail::first_code_point(text);
    if (value == '"' || value == '\\') out += {'\\', char(value)};
    else if (value == '\n') out += "\\n";
    else if (value == '\t') out += "\\t";
    else if (is_unseen(value)) out += escape_of(value);  // as TOML writes them, too
    else out += text.substr(0, bytes);
    text.remove_prefix(bytes);
  }
  return out + '"';
}

bool is_bare(std::string_view key) {
  return !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  });
}
std::string key_text(std::string_view key) {
  return is_bare(key) ? std::string(key) : in_quotes(key);
}

std::string value_text(const Node& node) {
  struct Write {
    std::string operator()(std::monostate) const { return "\"\""; }
    std::string operator()(bool flag) const { return flag ? "true" : "false"; }
    std::string operator()(std::int64_t n) const { return std::to_string(n); }
    std::string operator()(double n) const {
      std::string text;
      for (int digits = 1; digits <= 17; ++digits)
        if (text = print_plain(n, digits); parse_double(text) == n) break;
      return text.find_first_of(".en") == text.npos ? text + ".0" : text;
    }
    std::string operator()(const std::string& text) const { return in_quotes(text); }
    std::string operator()(const Node::List& list) const {
      std::string text;
      for (const Node& one : list) text += (text.empty() ? "" : ", ") + value_text(one);
      return "[" + text + "]";
    }
    std::string operator()(const Node::Table& table) const {
      std::string text;
      for (const auto& entry : table)
        text += (text.empty() ? " " : ", ") + key_text(entry.key) + " = " + value_text(entry.value);
      return "{" + text + " }";
    }
  };
  return std::visit(Write{}, node.value);
}

bool is_list_of_tables(const Node& node) {
  const auto* list = std::get_if<Node::List>(&node.value);
  return list && !list->empty() && std::all_of(list->begin(), list->end(), detail::is_table);
}

std::string lines_of(const Node& table) {
  std::string out;
  for (const auto& entry : std::get<Node::Table>(table.value))
    out += key_text(entry.key) + " = " + value_text(entry.value) + "\n";
  return out;
}

}  // namespace

Node node_of(Number number) {
  constexpr double same = 1e-15;  // what a change of unit there and back may cost
  std::string text;
  for (int digits = 3; digits <= 17; ++digits) {
    text = written(number, digits);
    const auto again = parse_quantity(text, number.kind);
    const auto* read = std::get_if<Number>(&again);
    if (read && std::abs(read->si - number.si) <= same * std::abs(number.si)) break;
  }
  if (const auto bare = parse_double(text)) return {*bare, {}};
  return {std::move(text), {}};
}

Node node_of(FieldList list, const void* object) {
  Node::Table table;
  for (const Field& field : list)
    if (field.role == Field::Role::member && !field.absent(object))
      table.push_back({std::string(field.key), {}, field.node(object)});
  return {std::move(table), {}};
}

std::string toml_of(const Node& document) {
  std::string keys, blocks;
  for (const auto& entry : std::get<Node::Table>(document.value)) {
    if (is_list_of_tables(entry.value))
      for (const Node& one : std::get<Node::List>(entry.value.value))
        blocks += "\n[[" + key_text(entry.key) + "]]\n" + lines_of(one);
    else if (detail::is_table(entry.value))
      blocks += "\n[" + key_text(entry.key) + "]\n" + lines_of(entry.value);
    else keys += key_text(entry.key) + " = " + value_text(entry.value) + "\n";
  }
  return keys.empty() && !blocks.empty() ? blocks.substr(1) : keys + blocks;
}

}  // namespace housepower

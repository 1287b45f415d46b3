// SPDX-License-Identifier: Apache-2.0
// What a field takes, in words and as an example.
#include "housepower/reading/shape.hpp"

#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::detail {

using Form = Shape::Form;

const Shape& innermost(const Shape& shape) {
  return shape.form == Form::list && shape.items ? innermost(*shape.items) : shape;
}

bool holds_tables(const Field& field) {
  if (!field.shape) return false;
  const Shape& shape = *field.shape;
  return shape.form == Form::table || (shape.items && shape.items->form == Form::table);
}

std::vector<std::string_view> keys_of(FieldList list) {
  std::vector<std::string_view> keys;
  for (const auto& field : list)
    if (field.role == Field::Role::member) keys.push_back(field.key);
  return keys;
}

const Field* field_named(FieldList list, std::string_view key) {
  for (const auto& field : list)
    if (field.role == Field::Role::member && field.key == key) return &field;
  return nullptr;
}

std::vector<std::string_view> group_of(const Field& field) {
  std::vector<std::string_view> keys;
  for (const auto key : field.group)
    if (!key.empty()) keys.push_back(key);
  return keys;
}

std::string listed(const std::vector<std::string_view>& words, std::string_view between) {
  std::string out;
  for (const auto word : words) {
    if (!out.empty()) out += between;
    out += word;
  }
  return out;
}

std::string limits_of(const Field& field) {
  std::string out;
  const auto say = [&](std::string_view how, const std::optional<Number>& limit) {
    if (!limit) return;
    if (!out.empty()) out += ", ";
    const Shape& one = innermost(*field.shape);
    const bool plain = (one.items ? *one.items : one).form != Form::quantity;
    out += std::string(how) + (plain ? print_plain(limit->si, 9) : print(*limit, 6));
  };
  say("more than ", field.above);
  say("at least ", field.least);
  say("at most ", field.most);
  return out;
}

std::string what_it_is(const Shape& shape) {
  switch (shape.form) {
  case Form::text: return "text";
  case Form::flag: return "true or false";
  case Form::count: return "a whole number";
  case Form::number: return "a number";
  case Form::quantity: return std::string(name_of(shape.kind));
  case Form::word: return "one of " + listed({shape.words.begin(), shape.words.end()}, ", ");
  case Form::table: return "a table";
  case Form::free_keys: return "a table, each " + what_it_is(*shape.items);
  case Form::list: break;
  }
  return shape.items ? "a list, each " + what_it_is(*shape.items) : "a list";
}

namespace {
// Required keys, and the first of each exactly_one, as an inline table.
std::string inline_table(FieldList list) {
  std::string out;
  const auto add = [&](const Field* field) {
    if (!field) return;
    out += out.empty() ? "{ " : ", ";
    out += std::string(field->key) + " = " + example_of(*field);
  };
  for (const auto& field : list) {
    if (field.role == Field::Role::exactly_one) add(field_named(list, field.group[0]));
    else if (field.role == Field::Role::member && field.required) add(&field);
  }
  return out.empty() ? "{}" : out + " }";
}

std::string made_up(const Shape& shape) {
  switch (shape.form) {
  case Form::text: return "…";
  case Form::flag: return "true";
  case Form::count: return "1";
  case Form::number: return "1.0";
  case Form::quantity:
    return shape.kind == Kind{} ? "1.0" : "1 " + std::string(plain_unit(shape.kind).symbol);
  case Form::word: return std::string(shape.words.empty() ? "" : shape.words.front());
  case Form::table: return inline_table(shape.inner());
  case Form::free_keys: return "{}";
  case Form::list: break;
  }
  return shape.items ? made_up(*shape.items) : "[]";
}
}  // namespace

std::string as_written(const Shape& shape, std::string_view text) {
  switch (shape.form) {
  case Form::list:
    if (text.substr(0, 1) == "[") return std::string(text);
    return shape.items ? "[" + as_written(*shape.items, text) + "]" : "[" + std::string(text) + "]";
  case Form::flag:
  case Form::count:
  case Form::number:
  case Form::table:
  case Form::free_keys: return std::string(text);
  case Form::quantity:
    if (shape.kind == Kind{} && parse_double(text)) return std::string(text);
    break;
  case Form::text:
  case Form::word: break;
  }
  return "\"" + std::string(text) + "\"";
}

std::string example_of(const Field& field, const Shape& shape) {
  const auto text = field.example.empty() ? field.otherwise : field.example;
  // The example of a whole list or table says nothing of one member.
  const bool whole = (text.substr(0, 1) == "[" && shape.form != Form::list) ||
                     (text.substr(0, 1) == "{" && shape.form != Form::free_keys);
  return as_written(shape, text.empty() || whole ? made_up(shape) : std::string(text));
}

std::string example_of(const Field& field) { return example_of(field, *field.shape); }

}  // namespace housepower::detail

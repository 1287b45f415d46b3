// SPDX-License-Identifier: Apache-2.0
// JSON Schema (2020-12) of an input, for editors: they complete keys, explain them and underline
// mistakes while somebody types. The reader is the judge; the schema says the same as it can.
#include <vector>

#include "housepower/reading/schema.hpp"
#include "housepower/reading/shape.hpp"
#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "members.hpp"

namespace housepower {
namespace {

using Form = Shape::Form;

std::string json(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
  }
  return out += '"';
}

std::string listed_json(const std::vector<std::string>& items) {
  std::string out;
  for (const auto& item : items) out += (out.empty() ? "" : ",") + item;
  return out;
}

// A text as a regular expression that matches only itself.
std::string literally(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (std::string_view("^$\\.*+?()[]{}|/").find(c) != std::string_view::npos) out += '\\';
    out += c;
  }
  return out;
}

std::string quantity_pattern(Kind kind) {
  std::string names;
  for (const auto& unit : units())
    if (unit.kind == kind && !unit.symbol.empty())
      names += (names.empty() ? "" : "|") + literally(unit.symbol);
  // A comma is no decimal one where it may stand between thousands: before three figures, after up to
  // three that do not begin with 0.
  const std::string number = R"(^\s*(?:[-+]|−)?(\d+\.?\d*|\.\d+|\d+,(?:\d{1,2}|\d{4,})|)"
                             R"((?:0\d*|\d{4,}),\d+)([eE][-+]?\d+)?)";
  if (names.empty()) return number;  // a kind spelled in SI only: the reader judges the unit
  return number + "\\s*(" + names + ")" + (kind == Kind{} ? "?" : "") + "\\s*$";
}

std::string number_limits(const Field& field) {
  std::string out;
  if (field.above) out += ",\"exclusiveMinimum\":" + print_plain(field.above->si, 9);
  if (field.least) out += ",\"minimum\":" + print_plain(field.least->si, 9);
  if (field.most) out += ",\"maximum\":" + print_plain(field.most->si, 9);
  return out;
}

// A pack takes away a member of a list, or keys of any table that is merged.
constexpr std::string_view keys_to_remove =
    R"({"type":"array","items":{"type":"string"},"description":"These keys of the extended file are dropped."})";
constexpr std::string_view one_to_remove =
    R"({"type":"boolean","description":"true drops what the extended file has."})";
std::string removal_of_one(SchemaOf of) {
  if (of == SchemaOf::whole) return R"("remove":)" + std::string(one_to_remove);
  return R"("remove":{"anyOf":[)" + std::string(one_to_remove) + "," + std::string(keys_to_remove) +
         "]}";
}

std::string table_members(FieldList list, std::string_view more_properties, SchemaOf of);

// The members of the schema object of one value: `"type":…`.
std::string value_members(const Shape& shape, const Field& field, SchemaOf of) {
  switch (shape.form) {
  case Form::text:
    return (field.number_too ? R"("type":["string","number"],"minLength":1)"
                             : R"("type":"string","minLength":1)") +
           (field.any_length ? "" : ",\"maxLength\":" + std::to_string(longest_text));
  case Form::flag: return R"("type":"boolean")";
  case Form::count: return R"("type":"integer")" + number_limits(field);
  case Form::number: return R"("type":"number")" + number_limits(field);
  case Form::word: {
    std::vector<std::string> words;
    for (const auto word : shape.words) words.push_back(json(word));
    return "\"enum\":[" + listed_json(words) + "]";
  }
  case Form::quantity: {
    const std::string text = R"("type":"string","pattern":)" + json(quantity_pattern(shape.kind));
    if (!(shape.kind == Kind{})) return text;
    return R"("anyOf":[{"type":"number")" + number_limits(field) + "},{" + text + "}]";
  }
  case Form::table: return table_members(shape.inner(), {}, of);
  case Form::free_keys:
    return R"("type":"object","additionalProperties":{)" + value_members(*shape.items, field, of) +
           "}" +
           (of == SchemaOf::pack ? R"(,"properties":{"remove":)" + std::string(keys_to_remove) + "}"
                                 : "");
  case Form::list: break;
  }
  if (!shape.items) return R"("type":"array")";
  if (shape.items->form != Form::table)
    return std::string(R"("type":"array",)") +
           (detail::needs_a_member(field) ? R"("minItems":1,)" : "") + R"("items":{)" +
           value_members(*shape.items, field, of) + "}";
  const FieldList inner = shape.items->inner();
  const bool has_names = detail::field_named(inner, "name");  // only those merge
  const std::string item = table_members(inner, has_names ? removal_of_one(of) : "", of);
  return R"("type":"array","items":{)" + item + "}";
}

std::string as_json(const Shape& shape, std::string_view text) {
  const bool bare = shape.form == Form::flag || shape.form == Form::count;
  return bare ? std::string(text) : json(text);
}

std::string property_members(const Field& field, SchemaOf of) {
  std::string description(field.says);
  if (const auto limits = detail::limits_of(field); !limits.empty())
    description += (description.empty() ? "Must be " : " Must be ") + limits + ".";
  std::string out = "\"description\":" + json(description);
  const Shape& shape = *field.shape;
  if (!field.otherwise.empty()) out += ",\"default\":" + as_json(shape, field.otherwise);
  const bool plain =
      shape.form != Form::list && shape.form != Form::table && shape.form != Form::free_keys;
  if (plain && !field.example.empty())
    out += ",\"examples\":[" + as_json(shape, field.example) + "]";
  return out + "," + value_members(shape, field, of);
}

/// Keys that mean one thing in one kind of part and another in the next take either.
std::string property(const Field& field, FieldList list, SchemaOf of) {
  std::vector<std::string> meanings;
  for (const Field& other : list)
    if (other.role == Field::Role::member && other.key == field.key)
      meanings.push_back("{" + property_members(other, of) + "}");
  return json(field.key) + ":" +
         (meanings.size() == 1 ? meanings.front() : "{\"anyOf\":[" + listed_json(meanings) + "]}");
}

std::string group(const Field& field, SchemaOf of) {
  std::vector<std::string> alternatives;
  for (const auto key : detail::group_of(field))
    alternatives.push_back("{\"required\":[" + json(key) + "]}");
  const std::string any = listed_json(alternatives);
  const bool none_too = of == SchemaOf::pack || field.role == Field::Role::at_most_one;
  return "{\"oneOf\":[" + (none_too ? "{\"not\":{\"anyOf\":[" + any + "]}}," : "") + any + "]}";
}

std::string table_members(FieldList list, std::string_view more_properties, SchemaOf of) {
  std::vector<std::string> properties, required, groups;
  for (const auto& field : list) {
    if (field.role != Field::Role::member) {
      groups.push_back(group(field, of));
      continue;
    }
    if (detail::field_named(list, field.key) != &field) continue;  // told with the first
    properties.push_back(property(field, list, of));
    if (field.required && of == SchemaOf::whole) required.push_back(json(field.key));
  }
  if (!detail::field_named(list, "note"))
    properties.push_back(R"("note":{"type":"string","description":"Your own words; ignored."})");
  if (!detail::field_named(list, "own"))
    properties.push_back(R"("own":{"type":"object","description":"Your own keys; ignored."})");
  if (!more_properties.empty()) properties.emplace_back(more_properties);
  if (of == SchemaOf::pack && more_properties.find("\"remove\"") == more_properties.npos)
    properties.push_back(R"("remove":)" + std::string(keys_to_remove));
  std::string out = R"("type":"object","additionalProperties":false,"properties":{)" +
                    listed_json(properties) + "}";
  if (!required.empty()) out += ",\"required\":[" + listed_json(required) + "]";
  if (!groups.empty()) out += ",\"allOf\":[" + listed_json(groups) + "]";
  return out;
}

}  // namespace

std::string json_schema(FieldList list, std::string_view title) {
  return json_schema(list, title, SchemaOf::whole);
}

std::string json_schema(FieldList list, std::string_view title, SchemaOf of) {
  const std::string_view extends =
      R"("extends":{"type":"string","description":"A file beside this one that this one adds to."})";
  return R"({"$schema":"https://json-schema.org/draft/2020-12/schema","title":)" + json(title) +
         "," + table_members(list, extends, of) + "}\n";
}

}  // namespace housepower

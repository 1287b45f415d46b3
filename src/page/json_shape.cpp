// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/json_shape.hpp"

namespace housepower::page {
namespace {

constexpr std::string_view definition = "#/$defs/";

Json of_type(const char* type) { return {{"type", type}}; }

Json of_kind(CellKind kind) {
  switch (kind) {
  case CellKind::quantity:
  case CellKind::number:
  case CellKind::share: return is::number();
  case CellKind::flag: return is::flag();
  case CellKind::text:
  case CellKind::amounts: break;
  }
  return is::text();
}

/// "voltage drop, V".
std::string told(const Column& column) {
  const std::string title(column.title), unit(column.unit.symbol);
  return title + (title.empty() || unit.empty() ? "" : ", ") + unit;
}

}  // namespace

JsonKeys sometimes(JsonKeys keys) {
  JsonKeys all{};
  for (JsonKey key : keys.all()) {
    key.may_miss = true;
    all += {std::move(key)};
  }
  return all;
}

JsonKeys keys_of(std::span<const Column> columns) {
  JsonKeys keys{};
  for (const Column& column : columns) {
    Json shape = of_kind(column.kind);
    if (column.may_lack) shape = is::or_null(shape);
    if (const std::string says = told(column); !says.empty()) shape["description"] = says;
    keys += {{std::string(column.key), std::move(shape)}};
  }
  return keys;
}

namespace is {

Json text() { return of_type("string"); }
Json number() { return of_type("number"); }
Json whole() { return of_type("integer"); }
Json flag() { return of_type("boolean"); }
Json exactly(const Json& value) { return {{"const", value}}; }

Json words(std::span<const std::string_view> all) {
  Json list = Json::array();
  for (const auto word : all) list.push_back(word);
  return {{"enum", list}};
}

Json list(const Json& of) { return {{"type", "array"}, {"items", of}}; }

Json object(const JsonKeys& keys) {
  Json properties = Json::object(), required = Json::array();
  for (const JsonKey& key : keys.all()) {
    properties[key.key] = key.is;
    if (!key.may_miss) required.push_back(key.key);
  }
  return {{"type", "object"},
          {"additionalProperties", false},
          {"properties", properties},
          {"required", required}};
}

Json by_name(const Json& of) { return {{"type", "object"}, {"additionalProperties", of}}; }

Json or_null(const Json& shape) {
  const auto* type = std::get_if<std::string>(&shape["type"].value());
  if (!type) return any_of({shape, of_type("null")});
  Json either = shape;
  either["type"] = Json::array({*type, "null"});
  return either;
}

Json any_of(const std::vector<Json>& shapes) { return {{"anyOf", Json(shapes)}}; }

Json a(std::string_view name) { return {{"$ref", std::string(definition) + std::string(name)}}; }

}  // namespace is

std::vector<std::string> names_in(const Json& shape) {
  std::vector<std::string> names;
  const auto take = [&](const Json& inner) {
    for (auto& name : names_in(inner)) names.push_back(std::move(name));
  };
  if (const auto* list = std::get_if<Json::Array>(&shape.value()))
    for (const Json& one : *list) take(one);
  const auto* members = std::get_if<Json::Object>(&shape.value());
  for (const auto& member : members ? *members : Json::Object{}) {
    const auto* text = std::get_if<std::string>(&member.value.value());
    if (member.key == "$ref" && text) names.push_back(text->substr(definition.size()));
    else take(member.value);
  }
  return names;
}

}  // namespace housepower::page

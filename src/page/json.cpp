// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "characters.hpp"
#include "digits.hpp"
#include "housepower/page/json_read.hpp"
#include "housepower/page/page.hpp"
#include "housepower/reading/shown.hpp"
#include "housepower/units/unit.hpp"
#include "housepower/version.hpp"

namespace housepower::page {

Json::Json() = default;
Json::Json(std::nullptr_t) {}
Json::Json(std::int64_t number) : value_(number) {}
Json::Json(double number) : value_(number) {}
Json::Json(const char* text) : value_(std::string(text)) {}
Json::Json(std::string_view text) : value_(std::string(text)) {}
Json::Json(std::string text) : value_(std::move(text)) {}
Json::Json(std::initializer_list<Member> members) : value_(Object(members)) {}
Json::Json(const Json&) = default;
Json::Json(Json&&) noexcept = default;
Json& Json::operator=(const Json&) = default;
Json& Json::operator=(Json&&) noexcept = default;
Json::~Json() = default;

Json Json::array(std::initializer_list<Json> elements) {
  Json json;
  json.value_ = Array(elements);
  return json;
}

Json Json::object() {
  Json json;
  json.value_ = Object{};
  return json;
}

Json& Json::operator[](std::string_view key) {
  if (std::holds_alternative<std::nullptr_t>(value_)) value_ = Object{};
  auto& members = std::get<Object>(value_);
  const auto at = std::find_if(members.begin(), members.end(),
                               [&](const Member& member) { return member.key == key; });
  if (at != members.end()) return at->value;
  members.push_back({std::string(key), {}});
  return members.back().value;
}

const Json& Json::operator[](std::string_view key) const {
  static const Json none;
  if (const auto* members = std::get_if<Object>(&value_))
    for (const Member& member : *members)
      if (member.key == key) return member.value;
  return none;
}

void Json::push_back(Json element) {
  if (std::holds_alternative<std::nullptr_t>(value_)) value_ = Array{};
  std::get<Array>(value_).push_back(std::move(element));
}

void Json::update(const Json& other) {
  for (const Member& member : std::get<Object>(other.value_)) (*this)[member.key] = member.value;
}

std::size_t Json::size() const {
  if (const auto* elements = std::get_if<Array>(&value_)) return elements->size();
  const auto* members = std::get_if<Object>(&value_);
  return members ? members->size() : 0;
}

bool operator==(const Json& a, const Json& b) { return a.value_ == b.value_; }
bool operator==(const Json::Member& a, const Json::Member& b) {
  return a.key == b.key && a.value == b.value;
}

Json head() {
  return {{"schema", 1},
          {"tool", {{"name", "housepower"}, {"version", version()}}},
          {"safety", safety_note()}};
}

namespace {

using Printed = nlohmann::ordered_json;

Printed printed(const Json& json) {
  return std::visit(
      [](const auto& value) -> Printed {
        using Value = std::remove_cvref_t<decltype(value)>;
        if constexpr (std::is_same_v<Value, Json::Array>) {
          Printed list = Printed::array();
          for (const Json& element : value) list.push_back(printed(element));
          return list;
        } else if constexpr (std::is_same_v<Value, Json::Object>) {
          Printed object = Printed::object();
          for (const Json::Member& member : value)
            object.emplace(member.key, printed(member.value));
          return object;
        } else if constexpr (std::is_same_v<Value, double>) {
          return as_carried(value);
        } else {
          return value;
        }
      },
      json.value());
}

/// Outside of texts JSON is plain ASCII, so what stands here stands in one; as JSON escapes it.
std::string escaped_unseen(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  const auto plain = [](char c) { return c >= ' ' && c < '\x7F'; };
  while (!json.empty()) {
    const auto run = std::find_if_not(json.begin(), json.end(), plain) - json.begin();
    out.append(json.substr(0, std::size_t(run)));  // most of it
    json.remove_prefix(std::size_t(run));
    if (json.empty()) break;
    const std::string_view c = next_character(json);
    json.remove_prefix(c.size());
    const std::string seen = c.size() > 1 || c == "\x7F" ? with_escapes(c) : std::string(c);
    if (!seen.starts_with("\\U")) {
      out += seen;
      continue;
    }
    const unsigned beyond =
        static_cast<unsigned>(std::stoul(seen.substr(2), nullptr, 16)) - 0x10000U;
    out += escape_of(0xD800U + (beyond >> 10U)) + escape_of(0xDC00U + (beyond & 0x3FFU));
  }
  return out;
}

}  // namespace

std::string dump(const Json& json) {
  return escaped_unseen(printed(json).dump(2, ' ', false, Printed::error_handler_t::replace)) +
         "\n";
}

namespace {

/// Nothing where it nests deeper.
std::optional<Json> read_from(const Printed& value, int levels) {
  if (value.is_boolean()) return Json(value.get<bool>());
  if (value.is_number_integer()) return Json(value.get<std::int64_t>());
  if (value.is_number()) return Json(value.get<double>());
  if (value.is_string()) return Json(value.get_ref<const std::string&>());
  Json read;
  if (value.is_null()) return read;
  if (levels == 0) return std::nullopt;
  read = value.is_array() ? Json::array() : Json::object();
  for (const auto& [key, member] : value.items()) {
    auto inside = read_from(member, levels - 1);
    if (!inside) return std::nullopt;
    if (value.is_array()) read.push_back(*std::move(inside));
    else read[key] = *std::move(inside);
  }
  return read;
}

}  // namespace

std::optional<Json> read_json(std::string_view text) {
  constexpr int deepest = 64;
  const auto value = Printed::parse(text, nullptr, false);
  return value.is_discarded() ? std::nullopt : read_from(value, deepest);
}

Json json_of(Number number) { return in_unit(number, plain_unit(number.kind)); }

Json json_of(const Source& source) {
  return {{"kind", word_of(source.kind)}, {"title", source.title}, {"where", source.where}};
}

Json json_of(const Working& working) {
  Json list = Json::array();
  for (const Step& step : working) {
    const bool bare = !step.formula.unit.empty();  // an equation between bare numbers
    const Unit unit = plain_unit(step.value.kind);
    list.push_back({{"symbol", step.formula.symbol},
                    {"meaning", step.formula.meaning},
                    {"formula", step.formula.text},
                    {"with", with_numbers(step)},
                    {"value", bare ? step.value.si : in_unit(step.value, unit)},
                    {"unit", bare ? step.formula.unit : unit.symbol},
                    {"source", json_of(step.formula.source)}});
  }
  return list;
}

}  // namespace housepower::page

// SPDX-License-Identifier: Apache-2.0
// A value against a JSON Schema, as far as the program's own schemas of its answers go. A word of a
// schema that is not known here is told, so that nothing passes because it was not looked at.
#pragma once

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <string>

namespace housepower::test {

/// The schema itself, or what it names.
inline const nlohmann::json& resolved(const nlohmann::json& schema, const nlohmann::json& root) {
  if (!schema.contains("$ref")) return schema;
  return root.at(nlohmann::json::json_pointer(schema["$ref"].get<std::string>().substr(1)));
}

inline bool is_of_type(const nlohmann::json& value, const nlohmann::json& type) {
  if (type.is_array())
    return std::any_of(type.begin(), type.end(),
                       [&](const auto& one) { return is_of_type(value, one); });
  if (type == "integer")
    return value.is_number() && value.get<double>() == std::floor(value.get<double>());
  return (type == "string" && value.is_string()) || (type == "number" && value.is_number()) ||
         (type == "boolean" && value.is_boolean()) || (type == "null" && value.is_null()) ||
         (type == "array" && value.is_array()) || (type == "object" && value.is_object());
}

inline std::string against(const nlohmann::json& value, const nlohmann::json& schema,
                           const nlohmann::json& root, const std::string& at = "");

inline std::string members_against(const nlohmann::json& value, const nlohmann::json& schema,
                                   const nlohmann::json& root, const std::string& at) {
  for (const auto& key : schema.value("required", nlohmann::json::array()))
    if (!value.contains(key.get<std::string>()))
      return at + "/" + key.get<std::string>() + " is missing";
  for (const auto& [key, member] : value.items()) {
    const bool known = schema.contains("properties") && schema["properties"].contains(key);
    const auto& its = known ? schema["properties"][key] : schema["additionalProperties"];
    if (its == false) return at + "/" + key + " is not in the schema";
    if (auto wrong = against(member, its, root, at + "/" + key); !wrong.empty()) return wrong;
  }
  return "";
}

/// A text's length in characters, as a schema counts them.
inline std::size_t characters(const std::string& text) {
  return std::size_t(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80;
  }));
}

inline bool matches(const std::string& text, const std::string& pattern) {
  static std::map<std::string, std::regex> compiled;
  const auto [at, is_new] = compiled.try_emplace(pattern);
  if (is_new) at->second = std::regex(pattern, std::regex::ECMAScript);
  return std::regex_search(text, at->second);
}

/// What a schema of a file that is typed asks of a plain value; empty: it holds, or is not of that kind.
inline std::string plain_against(const nlohmann::json& value, const std::string& word,
                                 const nlohmann::json& of) {
  if (value.is_string()) {
    const auto text = value.get<std::string>();
    if (word == "minLength" && characters(text) < of.get<std::size_t>()) return " is too short";
    if (word == "maxLength" && characters(text) > of.get<std::size_t>()) return " is too long";
    if (word == "pattern" && !matches(text, of.get<std::string>())) return " is not written so";
  }
  if (value.is_array() && word == "minItems" && value.size() < of.get<std::size_t>())
    return " has too few members";
  if (value.is_number()) {
    const double number = value.get<double>(), limit = of.is_number() ? of.get<double>() : 0.0;
    if (word == "minimum" && !(number >= limit)) return " is too small";
    if (word == "exclusiveMinimum" && !(number > limit)) return " is too small";
    if (word == "maximum" && !(number <= limit)) return " is too large";
  }
  return "";
}

/// What does not hold first, with its place; empty: all does.
inline std::string against(const nlohmann::json& value, const nlohmann::json& schema,
                           const nlohmann::json& root, const std::string& at) {
  const auto& s = resolved(schema, root);
  for (const auto& [word, of] : s.items()) {
    if (word == "type" && !is_of_type(value, of)) return at + " is not of type " + of.dump();
    if (word == "const" && value != of) return at + " is not " + of.dump();
    if (word == "enum" && std::find(of.begin(), of.end(), value) == of.end())
      return at + " is none of " + of.dump();
    if (word == "anyOf") {
      std::string wrong, deepest;
      for (const auto& one : of) {
        wrong = against(value, one, root, at);
        if (wrong.empty()) break;
        if (deepest.empty() || std::count(wrong.begin(), wrong.end(), '/') >
                                   std::count(deepest.begin(), deepest.end(), '/'))
          deepest = wrong;
      }
      if (!wrong.empty()) return deepest;
    }
    if (word == "items" && value.is_array())
      for (std::size_t i = 0; i < value.size(); ++i)
        if (auto wrong = against(value[i], of, root, at + "/" + std::to_string(i)); !wrong.empty())
          return wrong;
    if (word == "additionalProperties" && value.is_object())
      if (auto wrong = members_against(value, s, root, at); !wrong.empty()) return wrong;
    if (auto wrong = plain_against(value, word, of); !wrong.empty()) return at + wrong;
    if (word == "allOf")
      for (const auto& one : of)
        if (auto wrong = against(value, one, root, at); !wrong.empty()) return wrong;
    if (word == "oneOf" && std::count_if(of.begin(), of.end(), [&](const auto& one) {
                             return against(value, one, root, at).empty();
                           }) != 1)
      return at + " is not just one of what it may be";
    if (word == "not" && against(value, of, root, at).empty()) return at + " is what it may not be";
    if (word == "required" && !s.contains("additionalProperties") && value.is_object())
      for (const auto& key : of)
        if (!value.contains(key.get<std::string>()))
          return at + "/" + key.get<std::string>() + " is missing";
    static const auto known = {"type",       "const",    "enum",
                               "anyOf",      "items",    "additionalProperties",
                               "properties", "required", "description",
                               "title",      "$schema",  "$defs",
                               "allOf",      "oneOf",    "not",
                               "minLength",  "minItems", "maxLength",
                               "pattern",    "minimum",  "exclusiveMinimum",
                               "maximum",    "default",  "examples"};
    if (std::find(known.begin(), known.end(), word) == known.end())
      return at + ": \"" + word + "\" is not looked at";
  }
  return "";
}

}  // namespace housepower::test

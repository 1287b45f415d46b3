// SPDX-License-Identifier: Apache-2.0
// A JSON value whose members keep the order in which they were set, and how figures, sources and
// steps stand in one. The library that prints it stays in one source of the room.
#pragma once

#include <concepts>
#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "housepower/working/working.hpp"

namespace housepower::page {

class Json {
public:
  struct Member;
  using Array = std::vector<Json>;
  using Object = std::vector<Member>;

  Json();  // null
  Json(std::nullptr_t);
  Json(std::same_as<bool> auto flag) : value_(flag) {}
  template <std::integral Whole>
  requires(!std::same_as<Whole, bool>) Json(Whole number)
      : Json(static_cast<std::int64_t>(number)) {}
  Json(std::int64_t number);
  Json(double number);
  Json(const char* text);
  Json(std::string_view text);
  Json(std::string text);
  /// An array of what makes a value each.
  template <class Element>
  requires std::constructible_from<Json, const Element&> Json(const std::vector<Element>& elements);
  /// {{"key", value}, …}: an object.
  Json(std::initializer_list<Member> members);

  [[nodiscard]] static Json array(std::initializer_list<Json> = {});
  [[nodiscard]] static Json object();

  Json(const Json&);
  Json(Json&&) noexcept;
  Json& operator=(const Json&);
  Json& operator=(Json&&) noexcept;
  ~Json();

  /// The member of that name; set to null where it was not there. A null becomes an object.
  Json& operator[](std::string_view key);
  [[nodiscard]] const Json& operator[](std::string_view key) const;  // null where there is none
  /// A null becomes an array.
  void push_back(Json);
  /// Each member of the other object, in place of one with its name or at the end.
  void update(const Json& other);
  /// Of an array or an object; 0 of anything else.
  [[nodiscard]] std::size_t size() const;
  [[nodiscard]] bool empty() const { return size() == 0; }
  using Value =
      std::variant<std::nullptr_t, bool, std::int64_t, double, std::string, Array, Object>;
  [[nodiscard]] const Value& value() const { return value_; }
  friend bool operator==(const Json&, const Json&);

private:
  Value value_;
};

struct Json::Member {
  std::string key;
  Json value;
  friend bool operator==(const Member&, const Member&);
};

template <class Element>
requires std::constructible_from<Json, const Element&>
Json::Json(const std::vector<Element>& elements)
    : value_(Array(elements.begin(), elements.end())) {}

/// {"schema": 1, "tool": …, "safety": …}: the head of every answer.
[[nodiscard]] Json head();
/// Indented by two; what acts unseen in a text is escaped; a number that is none is null.
[[nodiscard]] std::string dump(const Json&);
/// The number in the plain unit of its kind: V, A, W, Wh, Ah …
[[nodiscard]] Json json_of(Number);
[[nodiscard]] Json json_of(const Source&);
[[nodiscard]] Json json_of(const Working&);

}  // namespace housepower::page

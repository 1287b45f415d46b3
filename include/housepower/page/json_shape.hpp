// SPDX-License-Identifier: Apache-2.0
// What stands in a JSON answer, told as JSON Schema (2020-12): `is::text()`, `is::list(is::number())`,
// an object by its keys. What rows of columns hold is taken from the columns, so that it is stated
// once; only what is made by hand is told by hand, beside its maker.
#pragma once

#include <algorithm>
#include <initializer_list>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/page/column.hpp"
#include "housepower/page/json.hpp"

namespace housepower::page {

/// A key of an object, what stands under it, and whether an answer may go without it.
struct JsonKey {
  std::string key;
  Json is;
  bool may_miss = false;
};
/// The keys of an object, in the order in which they are told.
class JsonKeys {
public:
  JsonKeys(std::initializer_list<JsonKey> keys) : all_(keys) {}
  [[nodiscard]] const std::vector<JsonKey>& all() const { return all_; }
  /// A key that is told again is what it is told to be then.
  JsonKeys& operator+=(const JsonKeys& more) {
    for (const JsonKey& one : more.all_) {
      const auto before = std::find_if(all_.begin(), all_.end(),
                                       [&](const JsonKey& told) { return told.key == one.key; });
      if (before == all_.end()) all_.push_back(one);
      else *before = one;
    }
    return *this;
  }
  friend JsonKeys operator+(JsonKeys first, const JsonKeys& then) { return first += then; }

private:
  std::vector<JsonKey> all_;
};
/// The same keys, each of which an answer may go without.
[[nodiscard]] JsonKeys sometimes(JsonKeys);
/// The keys of a row of these columns.
[[nodiscard]] JsonKeys keys_of(std::span<const Column>);
template <class Row> JsonKeys keys_of(const Columns<Row>& columns) {
  return keys_of(columns.erased());
}

namespace is {

[[nodiscard]] Json text();
[[nodiscard]] Json words(std::span<const std::string_view>);
[[nodiscard]] Json number();
[[nodiscard]] Json whole();
[[nodiscard]] Json flag();
/// Nothing but this number, or this text.
[[nodiscard]] Json exactly(const Json& value);
[[nodiscard]] Json list(const Json& of);
/// These keys and no others.
[[nodiscard]] Json object(const JsonKeys&);
/// An object whose keys are names of whoever wrote the input.
[[nodiscard]] Json by_name(const Json& of);
[[nodiscard]] Json or_null(const Json&);
[[nodiscard]] Json any_of(const std::vector<Json>&);
/// Rows of these columns.
template <class Row> Json rows(const Columns<Row>& columns) {
  return list(object(keys_of(columns)));
}
/// What is defined once under that name (`$defs`).
[[nodiscard]] Json a(std::string_view name);

}  // namespace is

/// The names that `is::a` took in it.
[[nodiscard]] std::vector<std::string> names_in(const Json& shape);

}  // namespace housepower::page

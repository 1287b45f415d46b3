// SPDX-License-Identifier: Apache-2.0
// Questions about fields that the reader, the schema, the manual and the starter all ask.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/fields.hpp"

namespace housepower::detail {

/// The shape itself, or that of a list's members.
[[nodiscard]] const Shape& innermost(const Shape& shape);
/// A table, or a list of tables.
[[nodiscard]] bool holds_tables(const Field& field);
[[nodiscard]] std::vector<std::string_view> keys_of(FieldList list);
[[nodiscard]] const Field* field_named(FieldList list, std::string_view key);
/// The keys of a group, without the empty places.
[[nodiscard]] std::vector<std::string_view> group_of(const Field& field);
/// "power, current"
[[nodiscard]] std::string listed(const std::vector<std::string_view>& words,
                                 std::string_view between);

/// "more than 0 m, at most 5 m"; empty where the field has no limits.
[[nodiscard]] std::string limits_of(const Field& field);
/// "a length", "a whole number", "a list of times", "one of ordinary, careful"
[[nodiscard]] std::string what_it_is(const Shape& shape);
/// An example (or a default) as it stands in a file: "\"2.4 m\"", "2", "true", "[\"x\"]".
[[nodiscard]] std::string as_written(const Shape& shape, std::string_view text);
/// The example of a field as it stands in a file; made up where the field gives none.
[[nodiscard]] std::string example_of(const Field& field);
/// The same for one member of a list, whose shape that is.
[[nodiscard]] std::string example_of(const Field& field, const Shape& shape);

}  // namespace housepower::detail

// SPDX-License-Identifier: Apache-2.0
// The answer of `range`: its columns, which rows are wanted, in which order, and the three renderings.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/answers/range.hpp"
#include "housepower/page/page.hpp"
#include "housepower/page/select.hpp"

namespace housepower::report {

using namespace page;

[[nodiscard]] std::variant<Condition, ParseProblem> condition_of(std::string_view);
[[nodiscard]] std::variant<Order, ParseProblem> order_of(std::string_view);

[[nodiscard]] Holds holds(const Condition&, const range::RangeRow&);
void sort(std::vector<range::RangeRow>&, const Order&);

using answers::RangeReport;
/// Only the rows of which every condition holds, and those that could not be read: of these nothing
/// is known, and that is to be seen.
void keep_where(RangeReport&, const std::vector<Condition>&);

/// The columns of JSON and CSV; conditions and orders name them.
[[nodiscard]] const Columns<range::RangeRow>& range_columns();
/// What people are shown: a line a row at a glance; all, in tables by subject; or these columns.
struct RangeShown {
  bool all = false;
  std::vector<std::size_t> columns{};
};
/// "all", or keys between commas.
[[nodiscard]] std::variant<RangeShown, ParseProblem> shown_of(std::string_view);
[[nodiscard]] Page range_page(const RangeReport&, const RangeShown& = {});
[[nodiscard]] std::string range_json(const RangeReport&);
[[nodiscard]] std::string range_csv(const RangeReport&);
/// The rows of a part: those of the whole, each with its number and what it is a part of.
[[nodiscard]] std::string range_csv_part(const RangeReport&);

/// The file of a part.
struct PartText {
  std::string name, text;
};
/// The whole of its parts, in whatever order they are given.
struct JoinedRange {
  std::string csv{};  // byte for byte that of the whole; empty where problems are
  std::vector<std::string>
      problems{};  // parts that are missing, there twice, of something else or cut
  bool fails = false, not_read = false;  // a row of it is
};
[[nodiscard]] JoinedRange join_range(std::span<const PartText>);
/// What a reader must know of the table: beside a CSV, where it has no place.
[[nodiscard]] std::vector<std::string> range_notes(const RangeReport&);

}  // namespace housepower::report

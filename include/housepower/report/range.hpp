// SPDX-License-Identifier: Apache-2.0
// The answer of `range`: its columns, which rows are wanted, in which order, and the three renderings.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/page/page.hpp"
#include "housepower/range/range.hpp"

namespace housepower::report {

using namespace page;

/// "verdict=fail", "place!=hobart", "mass_kg>100 kg", "price<5000 EUR", of one column.
struct Condition {
  enum class Is { equal, unequal, more, less };
  std::size_t column = 0;
  Is is = Is::equal;
  std::variant<std::string, double, design::Money> value;  // a number in the column's unit
};
/// `-autonomy_d`: the largest first. What a column does not know stands last.
struct Order {
  std::size_t column = 0;
  bool falling = false;
};
[[nodiscard]] std::variant<Condition, ParseProblem> condition_of(std::string_view);
[[nodiscard]] std::variant<Order, ParseProblem> order_of(std::string_view);

/// Whether it holds for a row; not known where the row lacks the figure, or states only the least
/// that it can be.
enum class Holds { no, not_known, yes };
[[nodiscard]] Holds holds(const Condition&, const range::RangeRow&);
void sort(std::vector<range::RangeRow>&, const Order&);

struct RangeReport {
  struct LeftOut {
    std::string file, why;
  };
  std::vector<range::RangeRow> rows;
  range::Simulate simulate = range::Simulate::promised;
  std::vector<LeftOut> left_out;       // files that are no design
  int designs = 0;                     // before the conditions
  std::vector<std::string> not_known;  // files of which it cannot be said whether they hold
};
/// Only the rows of which every condition holds, and those that could not be read: of these nothing
/// is known, and that is to be seen.
void keep_where(RangeReport&, const std::vector<Condition>&);

/// The columns of JSON and CSV; conditions and orders name them.
[[nodiscard]] std::span<const Column> range_columns();
[[nodiscard]] Page range_page(const RangeReport&);
[[nodiscard]] std::string range_json(const RangeReport&);
[[nodiscard]] std::string range_csv(const RangeReport&);
/// What a reader must know of the table: beside a CSV, where it has no place.
[[nodiscard]] std::vector<std::string> range_notes(const RangeReport&);

}  // namespace housepower::report

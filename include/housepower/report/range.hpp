// SPDX-License-Identifier: Apache-2.0
// The answer of `range`: its columns, which rows are wanted, in which order, and the three renderings.
#pragma once

#include <optional>
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
[[nodiscard]] Page range_page(const RangeReport&);
[[nodiscard]] std::string range_json(const RangeReport&);
[[nodiscard]] std::string range_csv(const RangeReport&);
/// What a reader must know of the table: beside a CSV, where it has no place.
[[nodiscard]] std::vector<std::string> range_notes(const RangeReport&);

}  // namespace housepower::report

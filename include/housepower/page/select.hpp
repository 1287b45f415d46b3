// SPDX-License-Identifier: Apache-2.0
// Which rows of a list are wanted, and in which order: conditions and orders name columns, and ask
// them for all else.
#pragma once

#include <algorithm>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/page/column.hpp"

namespace housepower::page {

/// "verdict=fail", "place!=hobart", "mass_kg>100 kg", "price<5000 EUR", of one column.
struct Condition {
  enum class Is { equal, unequal, more, less };
  std::size_t column = 0;
  Is is = Is::equal;
  std::variant<std::string, double, Amounts::Amount> value;  // a number in the column's unit
};
/// `-autonomy_d`: the largest first; `best:mass_kg`: the one that one would rather have first. What a
/// column does not know stands last.
struct Order {
  enum class Way { rising, falling, best_first };  // rising where a column has no better
  std::size_t column = 0;
  Way way = Way::rising;
};
/// `for_example` helps where the text is no condition at all. A word that the column never holds is
/// refused with those that it does; letters may be large or small.
[[nodiscard]] std::variant<Condition, ParseProblem>
condition_of(std::span<const Column>, std::string_view, std::string_view for_example);
[[nodiscard]] std::variant<Order, ParseProblem> order_of(std::span<const Column>, std::string_view);
/// Where a column of that key stands.
[[nodiscard]] std::variant<std::size_t, ParseProblem> column_named(std::span<const Column>,
                                                                   std::string_view key);

/// Whether it holds for a row; not known where the row lacks the figure or the text, or states only
/// the least that it can be.
enum class Holds { no, not_known, yes };
[[nodiscard]] Holds holds(const Condition&, std::span<const Column>, const void* row);
template <class Row>
[[nodiscard]] Holds holds(const Condition& condition, const Columns<Row>& columns, const Row& row) {
  return holds(condition, columns.erased(), &row);
}

[[nodiscard]] bool comes_before(const Order&, std::span<const Column>, const void* a,
                                const void* b);
template <class Row>
void sort(std::vector<Row>& rows, const Columns<Row>& columns, const Order& order) {
  std::stable_sort(rows.begin(), rows.end(), [&](const Row& a, const Row& b) {
    return comes_before(order, columns.erased(), &a, &b);
  });
}

}  // namespace housepower::page

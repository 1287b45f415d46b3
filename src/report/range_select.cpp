// SPDX-License-Identifier: Apache-2.0
// Which rows of a range are wanted, and in which order: conditions and orders name columns.
#include <algorithm>
#include <cmath>

#include "housepower/report/range.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::report {
namespace {

using range::RangeRow;

std::string_view without_spaces(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

std::variant<std::size_t, ParseProblem> column_named(std::string_view key) {
  std::vector<std::string_view> keys;
  std::string all;
  for (const Column& column : range_columns()) {
    if (column.key == key) return keys.size();
    keys.push_back(column.key);
    all += (all.empty() ? "" : ", ") + std::string(column.key);
  }
  const std::string hint = did_you_mean(key, keys);
  return ParseProblem{quoted(key) + " is no column", hint.empty() ? "the columns are " + all : hint,
                      1};
}

/// What a column holds tells from a row that knows everything.
bool holds_numbers(const Column& column) {
  RangeRow full;
  full.summer = full.autumn = full.winter = full.spring = full.daily = Charge{};
  full.autonomy = full.stay = Duration{};
  full.chance = Ratio(0.0);
  full.fails = full.cautions = full.not_checked = full.passes = 0;
  full.mass = full.copper = Mass{};
  const Cell cell = column.cell(&full);
  return std::holds_alternative<Number>(cell) || std::holds_alternative<double>(cell);
}

std::string text_of_cell(const Cell& cell) {
  if (const auto* flag = std::get_if<bool>(&cell)) return *flag ? "true" : "false";
  const auto* text = std::get_if<std::string>(&cell);
  return text ? *text : "";
}

std::optional<double> number_of(const Cell& cell, const Unit& unit) {
  if (const auto* number = std::get_if<Number>(&cell)) return in_unit(*number, unit);
  if (const auto* bare = std::get_if<double>(&cell)) return *bare;
  return std::nullopt;
}

/// The row's figure is the least that it can be: parts are left out of the sum.
bool is_a_least(const Column& column, const RangeRow& row) {
  return (column.key == "mass_kg" && !row.mass_missing.empty()) ||
         (column.key == "price" && !row.price_missing.empty()) ||
         (column.key == "stay_d" && row.outlasts.value_or(false));
}

Holds held(bool yes) { return yes ? Holds::yes : Holds::no; }

/// Of a figure, or of the least that it can be.
Holds holds_for(double figure, Condition::Is is, double with, bool least) {
  const bool same = std::abs(figure - with) <= 1e-9 * std::max(std::abs(figure), std::abs(with));
  const bool above = figure > with && !same;
  if (least && !above && !(same && is == Condition::Is::less)) return Holds::not_known;
  switch (is) {
  case Condition::Is::more: return held(above);
  case Condition::Is::less: return held(!above && !same);
  case Condition::Is::equal: return held(same);
  case Condition::Is::unequal: return held(!same);
  }
  return Holds::not_known;
}

Holds price_holds(const design::Money& with, Condition::Is is, const RangeRow& row) {
  const bool least = !row.price_missing.empty();
  if (row.prices.size() != 1 || row.prices.front().currency != with.currency)
    return Holds::not_known;  // nothing is converted
  return holds_for(double(row.prices.front().amount), is, double(with.amount), least);
}

bool is_price(const Column& column) { return column.key == "price"; }

/// One currency first and rising in it; several, or none, last.
int compare_prices(const RangeRow& a, const RangeRow& b) {
  if (a.prices.size() != 1 || b.prices.size() != 1)
    return int(b.prices.size() == 1) - int(a.prices.size() == 1);
  const auto &x = a.prices.front(), &y = b.prices.front();
  if (x.currency != y.currency) return x.currency < y.currency ? -1 : 1;
  return double(x.amount) < double(y.amount) ? -1 : double(x.amount) > double(y.amount) ? 1 : 0;
}

bool is_known(const Column& column, const RangeRow& row) {
  if (is_price(column)) return row.prices.size() == 1;
  const Cell cell = column.cell(&row);
  const auto* text = std::get_if<std::string>(&cell);
  return !std::holds_alternative<std::monostate>(cell) && !(text && text->empty());
}

/// Worse is more; what could not be read is worst.
int rank_of(std::string_view verdict) {
  constexpr std::string_view rising[] = {"pass", "caution", "fail"};
  return int(std::find(std::begin(rising), std::end(rising), verdict) - std::begin(rising));
}

int compare(const Column& column, const RangeRow& a, const RangeRow& b) {
  if (is_price(column)) return compare_prices(a, b);
  if (column.key.starts_with("verdict"))
    return rank_of(text_of_cell(column.cell(&a))) - rank_of(text_of_cell(column.cell(&b)));
  const Cell x = column.cell(&a), y = column.cell(&b);
  const auto m = number_of(x, column.unit), n = number_of(y, column.unit);
  if (m && n) return *m < *n ? -1 : *m > *n ? 1 : 0;
  return text_of_cell(x).compare(text_of_cell(y));
}

}  // namespace

std::variant<Condition, ParseProblem> condition_of(std::string_view text) {
  using Is = Condition::Is;
  const std::size_t at = text.find_first_of("=<>!");
  const bool unequal = at != text.npos && text.substr(at, 2) == "!=";
  if (at == text.npos || at == 0 || (text[at] == '!' && !unequal))
    return ParseProblem{quoted(text) + " is no condition",
                        "for example \"verdict=fail\", \"autonomy_d<3 d\" or \"mass_kg>100 kg\"",
                        1};
  const auto found = column_named(without_spaces(text.substr(0, at)));
  if (const auto* problem = std::get_if<ParseProblem>(&found)) return *problem;
  Condition c;
  c.column = std::get<std::size_t>(found);
  c.is = unequal           ? Is::unequal
         : text[at] == '>' ? Is::more
         : text[at] == '<' ? Is::less
                           : Is::equal;
  const Column& column = range_columns()[c.column];
  const auto value = without_spaces(text.substr(at + (unequal ? 2 : 1)));
  const bool orders = c.is == Is::more || c.is == Is::less;
  if (is_price(column)) {
    const auto money = design::money_of(value);
    if (!money) return ParseProblem{quoted(value) + " is no price", "for example \"5000 EUR\"", 1};
    c.value = *money;
  } else if (holds_numbers(column)) {
    if (const auto bare = parse_double(value)) c.value = *bare;  // in the unit of the key
    else {
      const auto parsed = parse_quantity(value, column.unit.kind);
      if (const auto* problem = std::get_if<ParseProblem>(&parsed)) return *problem;
      c.value = in_unit(std::get<Number>(parsed), column.unit);
    }
  } else if (orders) {
    return ParseProblem{quoted(column.key) + " holds texts: they are equal or not",
                        "use = or != with it", 1};
  } else {
    c.value = std::string(value);
  }
  return c;
}

std::variant<Order, ParseProblem> order_of(std::string_view text) {
  Order order;
  order.falling = text.starts_with('-');
  const auto found = column_named(order.falling ? text.substr(1) : text);
  if (const auto* problem = std::get_if<ParseProblem>(&found)) return *problem;
  order.column = std::get<std::size_t>(found);
  return order;
}

Holds holds(const Condition& c, const RangeRow& row) {
  const Column& column = range_columns()[c.column];
  if (const auto* money = std::get_if<design::Money>(&c.value))
    return price_holds(*money, c.is, row);
  const Cell cell = column.cell(&row);
  if (const auto* text = std::get_if<std::string>(&c.value))
    return held((text_of_cell(cell) == *text) == (c.is == Condition::Is::equal));
  const auto figure = number_of(cell, column.unit);
  if (!figure) return Holds::not_known;
  return holds_for(*figure, c.is, std::get<double>(c.value), is_a_least(column, row));
}

void keep_where(RangeReport& report, const std::vector<Condition>& conditions) {
  std::vector<RangeRow> kept;
  for (RangeRow& row : report.rows) {
    Holds all = Holds::yes;
    for (const Condition& c : conditions) all = std::min(all, holds(c, row));
    if (all == Holds::yes || row.verdict == range::not_read) kept.push_back(std::move(row));
    else if (all == Holds::not_known) report.not_known.push_back(row.file);
  }
  report.rows = std::move(kept);
}

void sort(std::vector<RangeRow>& rows, const Order& order) {
  const Column& column = range_columns()[order.column];
  std::stable_sort(rows.begin(), rows.end(), [&](const RangeRow& a, const RangeRow& b) {
    const bool known = is_known(column, a);
    if (known != is_known(column, b)) return known;
    return order.falling ? compare(column, b, a) < 0 : compare(column, a, b) < 0;
  });
}

}  // namespace housepower::report

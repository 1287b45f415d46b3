// SPDX-License-Identifier: Apache-2.0
// Which rows of a range are wanted, and in which order.
#include "housepower/report/range.hpp"

#include <algorithm>

namespace housepower::report {

using range::RangeRow;

std::variant<Condition, ParseProblem> condition_of(std::string_view text) {
  return page::condition_of(
      range_columns().erased(), text,
      "for example \"verdict=fail\", \"autonomy_d<3 d\" or \"mass_kg>100 kg\"");
}

std::variant<Order, ParseProblem> order_of(std::string_view text) {
  return page::order_of(range_columns().erased(), text);
}

Holds holds(const Condition& condition, const RangeRow& row) {
  return page::holds(condition, range_columns(), row);
}

namespace {

/// Its file, and where and when it stands in a range over these.
std::string which(const RangeRow& row, const RangeReport& report) {
  std::string text = row.file;
  if (report.places > 0) text += ", " + row.place;
  if (report.months > 0) text += ", " + row.month;
  return text;
}

}  // namespace

void keep_where(RangeReport& report, const std::vector<Condition>& conditions) {
  std::vector<RangeRow> kept;
  for (RangeRow& row : report.rows) {
    Holds all = Holds::yes;
    for (const Condition& c : conditions) all = std::min(all, holds(c, row));
    if (all == Holds::yes || row.verdict == range::not_read) kept.push_back(std::move(row));
    else if (all == Holds::not_known) report.not_known.push_back(which(row, report));
  }
  report.rows = std::move(kept);
}

std::variant<RangeShown, ParseProblem> shown_of(std::string_view text) {
  RangeShown shown;
  if (text == "all") {
    shown.all = true;
    return shown;
  }
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find(',', begin), text.size());
    const auto column =
        page::column_named(range_columns().erased(), text.substr(begin, end - begin));
    if (const auto* problem = std::get_if<ParseProblem>(&column)) return *problem;
    shown.columns.push_back(std::get<std::size_t>(column));
    begin = end + 1;
  }
  return shown;
}

void sort(std::vector<RangeRow>& rows, const Order& order) {
  page::sort(rows, range_columns(), order);
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
#include "stay_rows.hpp"

#include <algorithm>

#include "housepower/energy/months.hpp"
#include "pieces.hpp"

namespace housepower::report {

using energy::StayAnswer;

std::string told_length(Duration length, Duration longest) {
  return print_plain(days(length), 3) + (length >= longest ? "+" : "");
}
namespace {

/// Its figure for programs, and as people are told it.
template <class Row, class Length, class Longest>
ColumnOf<Row> length_column(std::string_view key, std::string_view title, std::string_view head,
                            Length length, Longest longest) {
  return ColumnOf<Row>(key, title, "d", length).told(head, [=](const Row& row) {
    return told_length(length(row), longest(row));
  });
}
template <class Length>
ColumnOf<StayAnswer> told_stay(std::string_view key, std::string_view title, std::string_view head,
                               Length length) {
  return length_column<StayAnswer>(key, title, head, length,
                                   [](const StayAnswer& a) { return a.longest; });
}

/// The two columns of what is compared by its stays.
template <class Thing> Columns<Simulated<Thing>> parked_and_stay() {
  using Row = Simulated<Thing>;
  const auto longest = [](const Row& row) { return row.longest; };
  return {length_column<Row>(
              "parked_d", "parked", "parked, d", [](const Row& r) { return r.it.parked; }, longest),
          length_column<Row>(
              "stay_d", "with travel", "with travel, d", [](const Row& r) { return r.it.met; },
              longest)};
}

}  // namespace

const Columns<StayAnswer>& stay_month_columns() {
  static const Columns<StayAnswer> columns{
      {"month", "month", [](const StayAnswer& a) { return energy::month_name(a.month); }},
      told_stay("parked_d", "parked", "parked, d",
                [](const StayAnswer& a) { return a.parked.met; }),
      told_stay("stay_d", "with travel", "with travel, d",
                [](const StayAnswer& a) { return a.met; }),
      told_stay("first_percentile_d", "1 in 100 after", "1 in 100 after, d",
                [](const StayAnswer& a) { return a.first_percentile; }),
      told_stay("stay_new_d", "bank new", "bank new, d",
                [](const StayAnswer& a) { return a.met_when_new; }),
      told_stay("doubt_low_d", "less sun, more use", "less sun, more use, d",
                [](const StayAnswer& a) { return a.doubt[0]; }),
      told_stay("doubt_high_d", "more sun, less use", "more sun, less use, d",
                [](const StayAnswer& a) { return a.doubt[1]; }),
      {"unserved_share", "not served", &StayAnswer::unserved},
      {"gathered_Wh", "offered a day", "Wh", &StayAnswer::gathered},
      {"spilled_Wh", "not needed", "Wh", &StayAnswer::spilled}};
  return columns;
}

std::vector<EmptiedRow> emptied_by(const StayReport& r) {
  std::vector<EmptiedRow> rows;
  if (r.day.months.empty()) return rows;
  Energy all = r.answer.heated;
  for (const auto& c : r.day.months[0].consumers) {
    if (!(c.energy.value() > 0.0)) continue;
    all += c.energy;
    rows.push_back({c.name, c.energy, 0.0});
  }
  if (r.answer.heated.value() > 0.0) rows.push_back({"heater in the box", r.answer.heated, 0.0});
  for (auto& row : rows) row.share = row.energy / all;
  std::stable_sort(rows.begin(), rows.end(),
                   [](const auto& a, const auto& b) { return a.energy > b.energy; });
  return rows;
}
const Columns<EmptiedRow>& emptied_columns() {
  static const Columns<EmptiedRow> columns{{"name", "consumer", &EmptiedRow::name},
                                           {"Wh_per_day", "a day", "Wh", &EmptiedRow::energy},
                                           {"Wh_share", "share", &EmptiedRow::share}};
  return columns;
}

const Columns<LeverRow>& lever_columns() {
  static const Columns<LeverRow> columns =
      Columns<LeverRow>{{"change", "change", [](const LeverRow& r) { return r.it.change; }}} +
      parked_and_stay<Lever>() +
      Columns<LeverRow>{{"why", "", [](const LeverRow& r) { return r.it.why; }}};
  return columns;
}
const Columns<PlaceRow>& place_columns() {
  static const Columns<PlaceRow> columns =
      Columns<PlaceRow>{{"place", "place", [](const PlaceRow& r) { return r.it.place; }},
                        {"title", "town", [](const PlaceRow& r) { return r.it.title; }},
                        {"month", "month", [](const PlaceRow& r) { return r.it.month; }}} +
      parked_and_stay<PlaceStay>();
  return columns;
}

std::vector<Lever> possible(const pack::Levers& levers) {
  std::vector<Lever> list;
  for (const Lever& lever : levers.all)
    if (lever.possible) list.push_back(lever);
  return list;
}

}  // namespace housepower::report

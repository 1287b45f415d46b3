// SPDX-License-Identifier: Apache-2.0
// One list of columns for JSON, CSV, conditions and orders; the text shows it as three tables.
#include "housepower/report/range.hpp"

#include <algorithm>

#include "housepower/page/csv.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

using range::RangeRow;
using range::Simulate;

const std::vector<Column>& keyed_columns() {
  static const std::vector<Column> all{
      column<&RangeRow::name>("name", "model"),
      column<&RangeRow::file>("file", "file"),
      column<&RangeRow::verdict>("verdict", "verdict"),
      column<&RangeRow::verdict_safety>("verdict_safety", "safety"),
      column<&RangeRow::verdict_service>("verdict_service", "service"),
      column<&RangeRow::place>("place", "place"),
      column<&RangeRow::month>("month", "month"),
      column<&RangeRow::summer>("summer_Ah", "summer", "Ah"),
      column<&RangeRow::autumn>("autumn_Ah", "autumn", "Ah"),
      column<&RangeRow::winter>("winter_Ah", "winter", "Ah"),
      column<&RangeRow::spring>("spring_Ah", "spring", "Ah"),
      column<&RangeRow::daily>("daily_Ah", "mean", "Ah"),
      column<&RangeRow::autonomy>("autonomy_d", "autonomy", "d"),
      column<&RangeRow::parked>("parked_d", "parked", "d"),
      column<&RangeRow::parked_headline>("parked_headline_d", "parked, told", "d"),
      column<&RangeRow::parked_outlasts>("parked_is_at_least", "or more"),
      column<&RangeRow::stay>("stay_d", "stay", "d"),
      column<&RangeRow::headline>("headline_d", "stay, told", "d"),
      column<&RangeRow::outlasts>("stay_is_at_least", "or more"),
      column<&RangeRow::nights>("nights", "nights"),
      column<&RangeRow::first_percentile>("first_percentile_d", "1 in 100 ends after", "d"),
      column<&RangeRow::stay_month>("stay_month", "its month"),
      column<&RangeRow::chance>("chance", "chance"),
      column<&RangeRow::fails>("fail", "fail"),
      column<&RangeRow::cautions>("caution", "caution"),
      column<&RangeRow::not_checked>("not_checked", "not checked"),
      column<&RangeRow::passes>("pass", "pass"),
      column<&RangeRow::worst_rule>("worst_rule", "worst finding"),
      column<&RangeRow::worst_verdict>("worst_verdict", "which is"),
      column<&RangeRow::worst_subject>("worst_subject", "there"),
      column<&RangeRow::mass>("mass_kg", "mass", "kg"),
      column<&RangeRow::mass_missing>("mass_missing", "mass not stated"),
      column<&RangeRow::copper>("copper_kg", "copper", "kg"),
      column<&RangeRow::price>("price", "price"),
      column<&RangeRow::price_missing>("price_missing", "price not stated"),
      column<&RangeRow::problem>("problem", "problem"),
      column<&RangeRow::inputs_digest>("inputs_digest", "inputs")};
  return all;
}

const RangeRow& row_at(const void* row) { return *static_cast<const RangeRow*>(row); }

/// What people are told: whole half days, rounded down.
std::string told_days(const std::optional<Duration>& headline, bool or_more) {
  return headline ? print_plain(*headline / day) + (or_more ? " or more" : "") : "";
}
Cell told_parked(const void* at) {
  const RangeRow& row = row_at(at);
  if (!row.parked_headline) return {};
  return told_days(row.parked_headline, row.parked_outlasts.value_or(false));
}
Cell told_stay(const void* at) {
  const RangeRow& row = row_at(at);
  if (!row.headline) return {};
  return told_days(row.headline, row.outlasts.value_or(false));
}
Cell told_worst_stay(const void* at) {
  const RangeRow& row = row_at(at);
  if (!row.first_percentile) return {};
  return print_plain(energy::half_days(*row.first_percentile) / day);
}
Cell told_mass(const void* at) {
  const RangeRow& row = row_at(at);
  if (!row.mass) return {};
  return (row.mass_missing.empty() ? "" : "at least ") + print(*row.mass);
}
Cell told_price(const void* at) {
  const RangeRow& row = row_at(at);
  if (row.price.empty() || row.price_missing.empty()) return row.price;
  return "at least " + row.price;
}
Cell told_worst(const void* at) {
  const RangeRow& row = row_at(at);
  const bool as_the_whole = row.worst_verdict == row.verdict;
  return row.worst_rule + (row.worst_rule.empty() || as_the_whole ? "" : ", " + row.worst_verdict);
}

TableBlock part(std::string title, std::span<const std::string_view> keys,
                const std::vector<Column>& told, const std::vector<RangeRow>& rows) {
  std::vector<Column> shown;
  for (const auto key : keys)
    for (const auto* list : {&told, &keyed_columns()}) {
      const auto found =
          std::find_if(list->begin(), list->end(), [&](const Column& c) { return c.key == key; });
      if (found == list->end()) continue;
      shown.push_back(*found);
      break;
    }
  return table_of(std::move(title), shown, rows);
}

std::vector<TableBlock> tables(const std::vector<RangeRow>& rows) {
  const std::vector<Column> told{{"parked_d", "parked, d", {}, told_parked},
                                 {"stay_d", "with travel, d", {}, told_stay},
                                 {"first_percentile_d", "1 in 100 after, d", {}, told_worst_stay},
                                 {"mass_kg", "mass", {}, told_mass},
                                 {"price", "price", {}, told_price},
                                 {"worst_rule", "worst finding", {}, told_worst}};
  constexpr std::string_view checked[] = {"name",       "verdict_safety", "verdict_service",
                                          "fail",       "caution",        "not_checked",
                                          "worst_rule", "worst_subject"};
  constexpr std::string_view energy[] = {
      "name",      "place",    "month",      "summer_Ah", "autumn_Ah", "winter_Ah",
      "spring_Ah", "daily_Ah", "autonomy_d", "parked_d",  "stay_d",    "first_percentile_d"};
  constexpr std::string_view built[] = {"name", "mass_kg", "copper_kg", "price", "file"};
  return {part("What is checked", checked, told, rows),
          part("Used a day, and how long the bank lasts", energy, told, rows),
          part("Mass and price", built, told, rows)};
}

std::vector<std::string_view> rules_not_run(Simulate simulate) {
  std::vector<std::string_view> names;
  if (simulate == Simulate::none)
    for (const checks::Rule* rule : checks::rules())
      if (rule->needs == checks::Needs::hours) names.push_back(rule->name);
  return names;
}

std::string title(const RangeReport& report) {
  const auto count = [&](std::string_view verdict) {
    return std::to_string(
        std::count_if(report.rows.begin(), report.rows.end(),
                      [&](const RangeRow& row) { return row.verdict == verdict; }));
  };
  const std::string all = std::to_string(report.designs);
  const std::string shown = std::to_string(report.rows.size());
  std::string text = "Range: " + (shown == all ? all : shown + " of " + all) +
                     (report.designs == 1 ? " design: " : " designs: ");
  text += count("fail") + " fail, " + count("caution") + " caution, " + count("pass") + " pass";
  const std::string unread = count(range::not_read);
  return text + (unread == "0" ? "" : ", " + unread + " not read");
}

}  // namespace

std::span<const Column> range_columns() { return keyed_columns(); }

std::vector<std::string> range_notes(const RangeReport& report) {
  const auto any = [&](auto of) { return std::any_of(report.rows.begin(), report.rows.end(), of); };
  std::vector<std::string> notes{
      "Use is counted at the bank, in the mean of three months each: summer is December to "
      "February "
      "south of the equator, June to August north of it. Autonomy is without any charging, in the "
      "month named. Mass is of the electrical parts with their cable, copper that of all runs."};
  if (any([](const RangeRow& r) { return r.stay.has_value(); }))
    notes.push_back(
        "A stay is the length that the promised chance of stays reaches, from the time "
        "of arrival, with the weather of " +
        std::to_string(energy::years_for_promise) +
        " years, in whole half days rounded down: parked on the sun alone, and with the "
        "travel that each design states.");
  if (report.simulate == Simulate::promised)
    notes.emplace_back(
        "Stays are simulated where one is promised; --stays all asks for every one.");
  if (report.simulate == Simulate::none)
    notes.push_back(
        "Without the hourly simulation, so not checked: " + listed(rules_not_run(report.simulate)) +
        ". A verdict is at best caution while one of safety is not.");
  if (any([](const RangeRow& r) {
        return !r.mass_missing.empty() || (!r.price.empty() && !r.price_missing.empty());
      }))
    notes.emplace_back(
        "\"At least\": parts that do not state their mass or price are left out of the sum.");
  if (any([](const RangeRow& r) { return r.prices.size() > 1; }))
    notes.emplace_back("Prices in several currencies stand side by side; nothing is converted.");
  for (const RangeRow& row : report.rows)
    if (row.verdict == range::not_read) notes.push_back("Not read: " + row.problem);
  for (const auto& out : report.left_out) notes.push_back("Left out: " + out.file + ": " + out.why);
  for (const auto& file : report.not_known)
    notes.push_back("Not shown, since it is not known whether the conditions hold: " + file);
  return notes;
}

Page range_page(const RangeReport& report) {
  Page page{title(report), {}};
  for (TableBlock& table : tables(report.rows)) page.blocks.emplace_back(std::move(table));
  for (std::string& note : range_notes(report))
    page.blocks.emplace_back(Paragraph{std::move(note)});
  return page;
}

std::string range_json(const RangeReport& report) {
  Json json = head();
  json["designs"] = Json::array();
  for (const RangeRow& row : report.rows) {
    Json object = row_json(keyed_columns(), &row);
    object["prices"] = Json::array();
    for (const auto& sum : row.prices)
      object["prices"].push_back({{"amount", double(sum.amount)}, {"currency", sum.currency}});
    json["designs"].push_back(std::move(object));
  }
  json["of"] = report.designs;
  json["not_run"] = rules_not_run(report.simulate);
  json["left_out"] = Json::array();
  for (const auto& out : report.left_out)
    json["left_out"].push_back({{"file", out.file}, {"why", out.why}});
  json["not_known"] = report.not_known;
  json["notes"] = range_notes(report);
  return dump(json);
}

std::string range_csv(const RangeReport& report) { return csv(keyed_columns(), report.rows); }

}  // namespace housepower::report

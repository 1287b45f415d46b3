// SPDX-License-Identifier: Apache-2.0
// One list of columns for JSON, CSV, conditions and orders; the text shows it as three tables.
#include "housepower/report/range.hpp"

#include <algorithm>

#include "answer_shapes.hpp"
#include "housepower/page/csv.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

using range::RangeRow;
using range::Simulate;

/// What people are told: whole half days, rounded down.
std::string told_days(const std::optional<Duration>& headline, bool or_more) {
  return headline ? print_plain(*headline / day) + (or_more ? " or more" : "") : "";
}
bool parked_or_more(const RangeRow& row) { return row.parked_outlasts.value_or(false); }
bool stay_or_more(const RangeRow& row) { return row.outlasts.value_or(false); }
bool mass_is_least(const RangeRow& row) { return !row.mass_missing.empty(); }
bool price_is_least(const RangeRow& row) { return !row.price_missing.empty(); }
std::string told_parked(const RangeRow& row) {
  return told_days(row.parked_headline, parked_or_more(row));
}
std::string told_stay(const RangeRow& row) { return told_days(row.headline, stay_or_more(row)); }
std::string told_worst_stay(const RangeRow& row) {
  return row.first_percentile ? print_plain(energy::half_days(*row.first_percentile) / day) : "";
}
std::string told_mass(const RangeRow& row) {
  return row.mass ? (mass_is_least(row) ? "at least " : "") + print(*row.mass) : "";
}
std::string told_price(const RangeRow& row) {
  return row.price.empty() || !price_is_least(row) ? row.price : "at least " + row.price;
}
std::string told_worst(const RangeRow& row) {
  const bool as_the_whole = row.worst_verdict == row.verdict;
  return row.worst_rule + (row.worst_rule.empty() || as_the_whole ? "" : ", " + row.worst_verdict);
}
Amounts price_amounts(const RangeRow& row) {
  Amounts price{{}, row.price};
  for (const auto& sum : row.prices) price.sums.push_back({double(sum.amount), sum.currency});
  return price;
}

/// The tables for people; the file's name ends the last.
namespace range_in {
constexpr unsigned checked = 1, used = 2, built = 4, built_last = 8;
}
/// Worse is more; what could not be read is worst.
constexpr std::string_view verdicts_rising[] = {"pass", "caution", "fail"};

ColumnOf<RangeRow> verdict_column(std::string_view key, std::string_view title, auto member) {
  return ColumnOf<RangeRow>(key, title, member).words(verdicts_rising).less_is_better();
}
ColumnOf<RangeRow> use_column(std::string_view key, std::string_view title, auto member) {
  return ColumnOf<RangeRow>(key, title, "Ah", member).less_is_better().in(range_in::used);
}
ColumnOf<RangeRow> days_column(std::string_view key, std::string_view title, auto member) {
  return ColumnOf<RangeRow>(key, title, "d", member).more_is_better();
}
ColumnOf<RangeRow> count_column(std::string_view key, std::string_view title, auto member) {
  return ColumnOf<RangeRow>(key, title, member).less_is_better();
}

Columns<RangeRow> all_range_columns() {
  using namespace range_in;
  using Its = ColumnOf<RangeRow>;
  return {Its("name", "model", &RangeRow::name).in(checked | used | built),
          Its("file", "file", &RangeRow::file).in(built_last),
          verdict_column("verdict", "verdict", &RangeRow::verdict),
          verdict_column("verdict_safety", "safety", &RangeRow::verdict_safety).in(checked),
          verdict_column("verdict_service", "service", &RangeRow::verdict_service).in(checked),
          Its("place", "place", &RangeRow::place).in(used),
          Its("month", "month", &RangeRow::month).in(used),
          use_column("summer_Ah", "summer", &RangeRow::summer),
          use_column("autumn_Ah", "autumn", &RangeRow::autumn),
          use_column("winter_Ah", "winter", &RangeRow::winter),
          use_column("spring_Ah", "spring", &RangeRow::spring),
          use_column("daily_Ah", "mean", &RangeRow::daily),
          days_column("autonomy_d", "autonomy", &RangeRow::autonomy).in(used),
          days_column("parked_d", "parked", &RangeRow::parked)
              .at_least(parked_or_more)
              .told("parked, d", told_parked)
              .in(used),
          days_column("parked_headline_d", "parked, told", &RangeRow::parked_headline)
              .at_least(parked_or_more),
          {"parked_is_at_least", "or more", &RangeRow::parked_outlasts},
          days_column("stay_d", "stay", &RangeRow::stay)
              .at_least(stay_or_more)
              .told("with travel, d", told_stay)
              .in(used),
          days_column("headline_d", "stay, told", &RangeRow::headline).at_least(stay_or_more),
          {"stay_is_at_least", "or more", &RangeRow::outlasts},
          Its("nights", "nights", &RangeRow::nights).more_is_better().at_least(stay_or_more),
          days_column("first_percentile_d", "1 in 100 ends after", &RangeRow::first_percentile)
              .told("1 in 100 after, d", told_worst_stay)
              .in(used),
          {"stay_month", "its month", &RangeRow::stay_month},
          Its("chance", "chance", &RangeRow::chance).more_is_better(),
          count_column("fail", "fail", &RangeRow::fails).in(checked),
          count_column("caution", "caution", &RangeRow::cautions).in(checked),
          count_column("not_checked", "not checked", &RangeRow::not_checked).in(checked),
          Its("pass", "pass", &RangeRow::passes).more_is_better(),
          Its("worst_rule", "worst finding", &RangeRow::worst_rule)
              .told("worst finding", told_worst)
              .in(checked),
          {"worst_verdict", "which is", &RangeRow::worst_verdict},
          Its("worst_subject", "there", &RangeRow::worst_subject).in(checked),
          Its("mass_kg", "mass", "kg", &RangeRow::mass)
              .less_is_better()
              .at_least(mass_is_least)
              .told("mass", told_mass)
              .in(built),
          {"mass_missing", "mass not stated", &RangeRow::mass_missing},
          Its("copper_kg", "copper", "kg", &RangeRow::copper).less_is_better().in(built),
          Its("price", "price", price_amounts)
              .less_is_better()
              .at_least(price_is_least)
              .told("price", told_price)
              .in(built),
          {"price_missing", "price not stated", &RangeRow::price_missing},
          {"problem", "problem", &RangeRow::problem},
          {"inputs_digest", "inputs", &RangeRow::inputs_digest}};
}

std::vector<TableBlock> tables(const std::vector<RangeRow>& rows) {
  using namespace range_in;
  const auto& all = range_columns();
  return {table_of("What is checked", all.shown_in(checked), rows),
          table_of("Used a day, and how long the bank lasts", all.shown_in(used), rows),
          table_of("Mass and price", all.shown_in(built) + all.shown_in(built_last), rows)};
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

const Columns<RangeRow>& range_columns() {
  static const Columns<RangeRow> all = all_range_columns();
  return all;
}

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
    Json object = row_json(range_columns(), row);
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

std::string range_csv(const RangeReport& report) { return csv(range_columns(), report.rows); }

JsonKeys range_answer() {
  const Json price = is::object({{"amount", is::number()}, {"currency", is::text()}});
  const Json left_out = is::object({{"file", is::text()}, {"why", is::text()}});
  return {{"designs",
           is::list(is::object(keys_of(range_columns()) + JsonKeys{{"prices", is::list(price)}}))},
          {"of", is::whole()},
          {"not_run", is::list(is::text())},
          {"left_out", is::list(left_out)},
          {"not_known", is::list(is::text())},
          {"notes", is::list(is::text())}};
}

}  // namespace housepower::report

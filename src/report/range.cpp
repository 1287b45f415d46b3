// SPDX-License-Identifier: Apache-2.0
// One list of columns for JSON, CSV, conditions and orders; the text shows some of it a line a row, or
// all of it as three tables.
#include "housepower/report/range.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "answer_shapes.hpp"
#include "housepower/page/csv.hpp"
#include "housepower/reading/shown.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"
#include "range_glance.hpp"

namespace housepower::report {
namespace {

using range::RangeRow;
using range::Simulate;

bool mass_is_least(const RangeRow& row) { return !row.mass_missing.empty(); }
bool price_is_least(const RangeRow& row) { return !row.price_missing.empty(); }
std::string told_parked(const RangeRow& row) {
  return told_days(row.parked_headline, parked_or_more(row));
}
std::string told_stay(const RangeRow& row) { return told_days(row.headline, stay_or_more(row)); }
bool worst_stay_or_more(const RangeRow& row) {
  return row.first_percentile_outlasts.value_or(false);
}
std::string told_worst_stay(const RangeRow& row) {
  if (!row.first_percentile) return "";
  return told_days(energy::half_days(*row.first_percentile), worst_stay_or_more(row));
}
std::string told_autonomy(const RangeRow& row) {
  return row.autonomy
             ? print_plain(*row.autonomy / day, 3) + (autonomy_or_more(row) ? " or more" : "")
             : "";
}
std::string all_warnings(const RangeRow& row) { return listed(row.warnings, "; "); }
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
/// Sums in several currencies are none.
bool one_sum(const RangeRow& row) { return row.prices.size() == 1; }
Amounts price_amounts(const RangeRow& row) {
  Amounts price{{}, row.price};
  for (const auto& sum : row.prices) price.sums.push_back({double(sum.amount), sum.currency});
  return price;
}

/// The tables for people; the file's name ends the last.
namespace range_in {
constexpr unsigned checked = 1, used = 2, built = 4, built_last = 8;
}

/// The rules and months that a row may name.
std::span<const std::string_view> rule_words() {
  static const std::vector<std::string_view> names = [] {
    std::vector<std::string_view> all;
    for (const checks::Rule* rule : checks::rules()) all.push_back(rule->name);
    return all;
  }();
  return names;
}
std::span<const std::string_view> month_words() {
  static const std::vector<std::string_view> names = [] {
    std::vector<std::string_view> all;
    for (int month = 0; month < 12; ++month) all.push_back(energy::month_name(month));
    return all;
  }();
  return names;
}
std::span<const std::string_view> finding_words() {
  static const std::array words{word_of(Verdict::not_checked), word_of(Verdict::caution),
                                word_of(Verdict::fail)};
  return words;
}

ColumnOf<RangeRow> verdict_column(std::string_view key, std::string_view title, auto member) {
  return ColumnOf<RangeRow>(key, title, member).words(range::range_verdicts()).less_is_better();
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
          Its("month", "month", &RangeRow::month).words(month_words()).in(used),
          use_column("summer_Ah", "summer", &RangeRow::summer),
          use_column("autumn_Ah", "autumn", &RangeRow::autumn),
          use_column("winter_Ah", "winter", &RangeRow::winter),
          use_column("spring_Ah", "spring", &RangeRow::spring),
          use_column("daily_Ah", "mean", &RangeRow::daily),
          days_column("autonomy_d", "autonomy", &RangeRow::autonomy)
              .at_least(autonomy_or_more)
              .told("autonomy", told_autonomy)
              .in(used),
          {"autonomy_is_at_least", "or more", &RangeRow::autonomy_outlasts},
          days_column("parked_d", "parked", &RangeRow::parked)
              .at_least(parked_or_more)
              .told("parked", told_parked)
              .in(used),
          days_column("parked_headline_d", "parked, stated", &RangeRow::parked_headline)
              .at_least(parked_or_more),
          {"parked_is_at_least", "or more", &RangeRow::parked_outlasts},
          days_column("stay_d", "stay", &RangeRow::stay)
              .at_least(stay_or_more)
              .told("with travel", told_stay)
              .in(used),
          days_column("headline_d", "stay, stated", &RangeRow::headline).at_least(stay_or_more),
          {"stay_is_at_least", "or more", &RangeRow::outlasts},
          Its("nights", "nights", &RangeRow::nights).more_is_better().at_least(stay_or_more),
          days_column("first_percentile_d", "1 in 100 ends after", &RangeRow::first_percentile)
              .at_least(worst_stay_or_more)
              .told("1 in 100 after", told_worst_stay)
              .in(used),
          {"first_percentile_is_at_least", "or more", &RangeRow::first_percentile_outlasts},
          Its("stay_month", "its month", &RangeRow::stay_month).words(month_words()),
          Its("chance", "chance", &RangeRow::chance).more_is_better(),
          count_column("fail", "fail", &RangeRow::fails).in(checked),
          count_column("caution", "caution", &RangeRow::cautions).in(checked),
          count_column("not_checked", "not checked", &RangeRow::not_checked).in(checked),
          Its("pass", "pass", &RangeRow::passes).more_is_better(),
          Its("worst_rule", "worst finding", &RangeRow::worst_rule)
              .words(rule_words())
              .empty_is_none()
              .told("worst finding", told_worst)
              .in(checked),
          Its("worst_verdict", "which is", &RangeRow::worst_verdict)
              .words(finding_words())
              .empty_is_none(),
          Its("worst_subject", "there", &RangeRow::worst_subject).empty_is_none().in(checked),
          Its("mass_kg", "mass", "kg", &RangeRow::mass)
              .less_is_better()
              .at_least(mass_is_least)
              .told("mass", told_mass)
              .in(built),
          Its("mass_missing", "mass not stated", &RangeRow::mass_missing).empty_is_none(),
          Its("copper_kg", "copper", "kg", &RangeRow::copper).less_is_better().in(built),
          Its("price", "price", price_amounts)
              .less_is_better()
              .at_least(price_is_least)
              .told("price", told_price)
              .in(built),
          Its("price_missing", "price not stated", &RangeRow::price_missing).empty_is_none(),
          Its("warnings", "warnings", all_warnings).empty_is_none(),
          Its("problem", "problem", &RangeRow::problem).empty_is_none(),
          {"inputs_digest", "inputs", &RangeRow::inputs_digest}};
}

std::vector<TableBlock> tables(const std::vector<RangeRow>& rows) {
  using namespace range_in;
  const auto& all = range_columns();
  return {table_of("What is checked", all.shown_in(checked), rows),
          table_of("Used a day, and how long the bank lasts", all.shown_in(used), rows),
          table_of("Mass and price", all.shown_in(built) + all.shown_in(built_last), rows)};
}

Columns<RangeRow> chosen_columns(const RangeShown& shown) {
  Columns<RangeRow> columns{};
  for (const std::size_t at : shown.columns) columns += range_columns().at(at);
  return columns;
}

std::vector<std::string_view> rules_not_run(Simulate simulate) {
  std::vector<std::string_view> names;
  if (simulate == Simulate::none)
    for (const checks::Rule* rule : checks::rules())
      if (rule->needs == checks::Needs::hours) names.push_back(rule->name);
  return names;
}

std::string counted(std::size_t number, const std::string& one) {
  return std::to_string(number) + " " + one + (number == 1 ? "" : "s");
}

/// "2 fail, 1 caution, 5 pass".
std::string counts_by(const RangeReport& report, std::string RangeRow::*verdict) {
  std::string text;
  for (const Verdict v : {Verdict::fail, Verdict::caution, Verdict::pass}) {
    const auto number =
        std::count_if(report.rows.begin(), report.rows.end(),
                      [&](const RangeRow& row) { return row.*verdict == word_of(v); });
    text += (text.empty() ? "" : ", ") + std::to_string(number) + " " + std::string(word_of(v));
  }
  return text;
}

std::string title(const RangeReport& report) {
  std::string text = "Range: " + counted(std::size_t(report.designs), "design");
  if (report.places > 0) text += ", " + counted(std::size_t(report.places), "place");
  if (report.months > 0) text += ", " + counted(std::size_t(report.months), "month");
  const bool all = report.rows.size() == std::size_t(report.all_rows);
  if (!all || report.all_rows != report.designs)
    text += "; " + std::to_string(report.rows.size()) +
            (all ? "" : " of " + std::to_string(report.all_rows)) +
            (report.all_rows == 1 ? " row" : " rows");
  if (report.part)
    text += ", part " + std::to_string(report.part->part.number) + "/" +
            std::to_string(report.part->part.of);
  text += ". Safety: " + counts_by(report, &RangeRow::verdict_safety) +
          ". Service: " + counts_by(report, &RangeRow::verdict_service) + ".";
  const auto unread =
      std::count_if(report.rows.begin(), report.rows.end(),
                    [](const RangeRow& row) { return row.verdict == range::not_read; });
  return unread == 0 ? text : text + " Not read: " + std::to_string(unread) + ".";
}

/// Each once, in their order.
void add_once(std::vector<std::string>& notes, std::string note) {
  if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(std::move(note));
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
        std::to_string(report.years) +
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
    notes.emplace_back(
        "Prices in several currencies are shown side by side; nothing is converted.");
  if (any([](const RangeRow& r) { return autonomy_or_more(r) || worst_stay_or_more(r); }))
    notes.emplace_back("\"Or more\", and + at a glance: it lasts as long as is simulated.");
  for (const RangeRow& row : report.rows) {
    for (const auto& warning : row.warnings) add_once(notes, "Warning: " + warning);
    if (row.verdict == range::not_read) add_once(notes, "Not read: " + row.problem);
  }
  for (const auto& out : report.left_out) notes.push_back("Left out: " + out.file + ": " + out.why);
  for (const auto& file : report.not_known)
    notes.push_back("Not shown, since it is not known whether the conditions hold: " + file);
  return notes;
}

Page range_page(const RangeReport& report, const RangeShown& shown) {
  Page page{title(report), {}};
  const bool at_a_glance = !shown.all && shown.columns.empty();
  if (at_a_glance) page.blocks.emplace_back(glance_table(report));
  else if (!shown.all)
    page.blocks.emplace_back(table_of("As asked", chosen_columns(shown), report.rows));
  else
    for (TableBlock& table : tables(report.rows)) page.blocks.emplace_back(std::move(table));
  if (at_a_glance)
    page.blocks.emplace_back(Paragraph{"--columns all shows season, mass, price, copper, place and "
                                       "file of each; --columns KEY,KEY those that you name."});
  for (std::string& note : range_notes(report))
    page.blocks.emplace_back(Paragraph{std::move(note)});
  return page;
}

std::string range_json(const RangeReport& report) {
  Json json = head();
  json["designs"] = Json::array();
  Diagnostics problems;
  std::string_view told;  // a file once, at however many places and months
  for (const RangeRow& row : report.rows) {
    if (row.file != told)
      problems.all.insert(problems.all.end(), row.why_not_read.begin(), row.why_not_read.end());
    told = row.file;
    Json object = row_json(range_columns(), row);
    for (const Column& column : range_columns().erased())
      if (Json& value = object[column.key]; value == Json("")) value = Json();
    object["price"] = one_sum(row) ? Json(double(row.prices.front().amount)) : Json();
    object["currency"] = one_sum(row) ? Json(row.prices.front().currency) : Json();
    object["prices"] = Json::array();
    for (const auto& sum : row.prices)
      object["prices"].push_back({{"amount", double(sum.amount)}, {"currency", sum.currency}});
    object["warnings"] = Json::array();
    for (const auto& warning : row.warnings) object["warnings"].push_back(warning);
    json["designs"].push_back(std::move(object));
  }
  json["of"] = report.all_rows;
  if (report.part) {
    const auto& part = *report.part;
    json["part"] = {{"part", std::int64_t(part.part.number)},
                    {"parts", std::int64_t(part.part.of)},
                    {"first_row", std::int64_t(part.holds.first + 1)},
                    {"last_row", std::int64_t(part.holds.end)},
                    {"rows", std::int64_t(part.rows)},
                    {"question", part.question}};
  }
  json["not_run"] = rules_not_run(report.simulate);
  json["left_out"] = Json::array();
  for (const auto& out : report.left_out)
    json["left_out"].push_back({{"file", out.file}, {"why", out.why}});
  json["not_known"] = report.not_known;
  json["notes"] = range_notes(report);
  if (!problems.all.empty()) json["diagnostics"] = diagnostics_list(problems);
  return dump(json);
}

std::string range_csv(const RangeReport& report) { return csv(range_columns(), report.rows); }

JsonKeys range_answer() {
  const Json price = is::object({{"amount", is::number()}, {"currency", is::text()}});
  const Json left_out = is::object({{"file", is::text()}, {"why", is::text()}});
  const Json texts = is::list(is::text());
  JsonKeys columns = keys_of(range_columns());
  for (const Column& column : range_columns().erased())
    if (column.kind == CellKind::text)
      columns += {{std::string(column.key), is::or_null(is::text())}};
  columns += {{"price", is::or_null(is::number())}};
  const Json design = is::object(columns + JsonKeys{{"currency", is::or_null(is::text())},
                                                    {"prices", is::list(price)},
                                                    {"warnings", texts}});
  const Json part = is::object({{"part", is::whole()},
                                {"parts", is::whole()},
                                {"first_row", is::whole()},
                                {"last_row", is::whole()},
                                {"rows", is::whole()},
                                {"question", is::text()}});
  return JsonKeys{{"designs", is::list(design)},    {"of", is::whole()},  {"not_run", texts},
                  {"left_out", is::list(left_out)}, {"not_known", texts}, {"notes", texts}} +
         sometimes({{"part", part}, {"diagnostics", is::list(is::a("diagnostic"))}});
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// Conditions and orders of a range. What is not known neither holds nor fails to hold.
#include <doctest/doctest.h>

#include "housepower/report/range.hpp"

namespace report_range_select {
namespace {

using namespace housepower;
using range::RangeRow;
using report::Holds;

RangeRow van(std::string name, std::optional<double> kilograms, std::string missing = "") {
  RangeRow row;
  row.name = row.file = std::move(name);
  row.verdict = "pass";
  if (kilograms) row.mass = *kilograms * kilogram;
  row.mass_missing = std::move(missing);
  return row;
}
RangeRow priced(double amount, const char* currency, std::string missing = "") {
  RangeRow row = van("priced", {});
  row.prices.push_back({amount, currency});
  row.price = print(row.prices.front());
  row.price_missing = std::move(missing);
  return row;
}
Holds ask(const std::string& condition, const RangeRow& row) {
  CAPTURE(condition);
  const auto parsed = report::condition_of(condition);
  REQUIRE(std::holds_alternative<report::Condition>(parsed));
  return report::holds(std::get<report::Condition>(parsed), row);
}
std::string problem(const std::string& condition) {
  const auto parsed = report::condition_of(condition);
  REQUIRE(std::holds_alternative<ParseProblem>(parsed));
  return std::get<ParseProblem>(parsed).message + "; " + std::get<ParseProblem>(parsed).hint;
}
std::string sorted(std::vector<RangeRow> rows, const std::string& by) {
  const auto order = report::order_of(by);
  REQUIRE(std::holds_alternative<report::Order>(order));
  report::sort(rows, std::get<report::Order>(order));
  std::string names;
  for (const auto& row : rows) names += row.name;
  return names;
}

}  // namespace

TEST_CASE("conditions compare texts, and numbers with their units") {
  RangeRow row = van("a", 100.0);
  row.autonomy = 2.5 * day;
  row.chance = Ratio(0.9);
  row.fails = 3;
  CHECK(ask("verdict=pass", row) == Holds::yes);
  CHECK(ask("verdict=fail", row) == Holds::no);
  CHECK(ask("verdict!=fail", row) == Holds::yes);
  CHECK(ask("mass_kg>90 kg", row) == Holds::yes);
  CHECK(ask("mass_kg<90 kg", row) == Holds::no);
  CHECK(ask("mass_kg=100", row) == Holds::yes);        // in the unit of the key
  CHECK(ask("mass_kg > 90000 g", row) == Holds::yes);  // and in another
  CHECK(ask("autonomy_d<3 d", row) == Holds::yes);
  CHECK(ask("autonomy_d<48 h", row) == Holds::no);
  CHECK(ask("chance=90 %", row) == Holds::yes);
  CHECK(ask("fail>2", row) == Holds::yes);
  CHECK(ask("fail>3", row) == Holds::no);
}

TEST_CASE("a mass of which parts are missing may be more, never less") {
  const RangeRow row = van("a", 90.0, "inverter");
  CHECK(ask("mass_kg>80 kg", row) == Holds::yes);
  CHECK(ask("mass_kg>100 kg", row) == Holds::not_known);
  CHECK(ask("mass_kg<100 kg", row) == Holds::not_known);
  CHECK(ask("mass_kg<80 kg", row) == Holds::no);
  CHECK(ask("mass_kg<90 kg", row) == Holds::no);
  CHECK(ask("mass_kg>1 kg", van("b", {})) == Holds::not_known);
}

TEST_CASE("prices compare within one currency only") {
  CHECK(ask("price<500 EUR", priced(400, "EUR")) == Holds::yes);
  CHECK(ask("price<500 EUR", priced(400, "EUR", "inverter")) == Holds::not_known);
  CHECK(ask("price>300 EUR", priced(400, "EUR", "inverter")) == Holds::yes);
  CHECK(ask("price<500 EUR", priced(400, "AUD")) == Holds::not_known);
}

TEST_CASE("what is no condition is said with the next step") {
  CHECK(problem("verdict").find("is not a condition") != std::string::npos);
  CHECK(problem("verdikt=fail").find("did you mean \"verdict\"?") != std::string::npos);
  CHECK(problem("mass_kg>3 m").find("a mass") != std::string::npos);
  CHECK(problem("verdict>fail").find("use = or !=") != std::string::npos);
  CHECK(problem("price<500").find("does not fit the column price") != std::string::npos);
}

TEST_CASE("rows are kept where every condition holds; what was not read stays to be seen") {
  report::RangeReport report;
  report.rows = {van("light", 80.0), van("heavy", 120.0), van("open", 90.0, "inverter")};
  RangeRow broken = van("broken", {});
  broken.verdict = range::not_read;
  report.rows.push_back(broken);
  std::vector<report::Condition> conditions;
  for (const char* text : {"mass_kg<100 kg", "verdict=pass"})
    conditions.push_back(std::get<report::Condition>(report::condition_of(text)));
  report::keep_where(report, conditions);
  REQUIRE(report.rows.size() == 2);
  CHECK(report.rows[0].name == "light");
  CHECK(report.rows[1].name == "broken");
  REQUIRE(report.not_known.size() == 1);
  CHECK(report.not_known[0] == "open");
}

TEST_CASE("orders rise or fall, and what is not known stands last either way") {
  const std::vector<RangeRow> rows{van("a", 80.0), van("b", {}), van("c", 120.0), van("d", 100.0)};
  CHECK(sorted(rows, "mass_kg") == "adcb");
  CHECK(sorted(rows, "-mass_kg") == "cdab");
  CHECK(sorted(rows, "-name") == "dcba");
  std::vector<RangeRow> judged = rows;
  judged[0].verdict = "caution", judged[1].verdict = "not-read", judged[2].verdict = "fail";
  CHECK(sorted(judged, "verdict") == "dacb");  // not by the alphabet: by what is worse
  CHECK(std::holds_alternative<ParseProblem>(report::order_of("-mas_kg")));
}

namespace {

bool has_text(const page::Cell& cell) {
  const auto* text = std::get_if<std::string>(&cell);
  return std::holds_alternative<bool>(cell) || (text && !text->empty());
}

/// A row that knows everything; `more` raises each figure.
RangeRow full_row(double more) {
  RangeRow row = van(more > 0 ? "b" : "a", 100.0 + more);
  row.summer = row.autumn = row.winter = row.spring = row.daily = (1.0 + more) * ampere_hour;
  row.autonomy = row.parked = row.stay = row.parked_headline = row.headline = row.first_percentile =
      (1.0 + more) * day;
  row.parked_outlasts = row.outlasts = false;
  row.autonomy_outlasts = row.first_percentile_outlasts = false;
  row.verdict = "fail";
  row.nights = row.fails = row.cautions = row.not_checked = row.passes = 1 + int(more);
  row.chance = Ratio(0.5 + more / 10.0);
  row.copper = (1.0 + more) * kilogram;
  row.prices = {{100.0 + more, "EUR"}};
  row.price = print(row.prices.front());
  return row;
}

}  // namespace

TEST_CASE("every column of the range can be asked in a condition and an order") {
  const std::vector<RangeRow> rows{full_row(1.0), full_row(0.0)};
  for (const auto& column : report::range_columns().erased()) {
    CAPTURE(column.key);
    const std::string key(column.key);
    const bool figure = column.kind != page::CellKind::text && column.kind != page::CellKind::flag;
    if (figure) {
      CHECK_FALSE(std::holds_alternative<std::monostate>(column.cell(&rows[1])));
      const std::string of = column.kind == page::CellKind::amounts ? " EUR" : "";
      CHECK(ask(key + ">0" + of, rows[1]) == Holds::yes);
      CHECK(ask(key + "<0" + of, rows[1]) == Holds::no);
      CHECK(sorted(rows, key) == "ab");
      CHECK(sorted(rows, "-" + key) == "ba");
    } else {
      const std::string other = column.kind == page::CellKind::flag ? "true"
                                : column.words.empty()              ? "nothing of this name"
                                                                    : std::string(column.words[0]);
      const bool says = column.empty_is_none || has_text(column.cell(&rows[1]));
      CHECK(ask(key + "!=" + other, rows[1]) == (says ? Holds::yes : Holds::not_known));
      if (!column.words.empty() || column.kind == page::CellKind::flag)
        CHECK(problem(key + "=no such word").find("it is one of ") != std::string::npos);
      CHECK(problem(key + ">3").find("use = or !=") != std::string::npos);
      CHECK(sorted(rows, key).size() == 2);
    }
  }
}

TEST_CASE("a stay that lasts at least so long may last longer") {
  RangeRow row = full_row(0.0);
  row.parked_outlasts = true;
  CHECK(ask("parked_d>12 h", row) == Holds::yes);
  CHECK(ask("parked_d<3 d", row) == Holds::not_known);
  CHECK(ask("stay_d<3 d", row) == Holds::yes);
  // What lasts as long as is simulated may last longer: no figure above it is excluded.
  row.autonomy_outlasts = row.first_percentile_outlasts = true;
  CHECK(ask("autonomy_d>12 h", row) == Holds::yes);
  CHECK(ask("autonomy_d=1 d", row) == Holds::not_known);
  CHECK(ask("autonomy_d<3 d", row) == Holds::not_known);
  CHECK(ask("first_percentile_d<3 d", row) == Holds::not_known);
}

TEST_CASE("what a design has not is not known to be another") {
  RangeRow row = van("a", {});
  CHECK(ask("place=hobart", row) == Holds::not_known);
  CHECK(ask("place!=hobart", row) == Holds::not_known);
  CHECK(ask("stay_is_at_least!=true", row) == Holds::not_known);
  CHECK(ask("worst_rule!=drop", row) == Holds::yes);  // nothing was found: that is known
  row.place = "darwin";
  CHECK(ask("place!=hobart", row) == Holds::yes);
}

TEST_CASE("verdicts, rules, months and flags are asked by their own words") {
  CHECK(problem("verdict=failed").find("did you mean \"fail\"?") != std::string::npos);
  CHECK(problem("verdict=failed").find("pass, caution, fail, not-read") != std::string::npos);
  CHECK(problem("worst_rule=dropp").find("did you mean \"drop\"?") != std::string::npos);
  CHECK(problem("worst_verdict=pass").find("not-checked, caution, fail") != std::string::npos);
  CHECK(problem("month=Juli").find("did you mean \"July\"?") != std::string::npos);
  CHECK(problem("stay_is_at_least=yes").find("false, true") != std::string::npos);
  RangeRow row = van("a", {});
  row.month = "July";
  CHECK(ask("month=july", row) == Holds::yes);
  CHECK(ask("verdict=not-read", row) == Holds::no);
}

TEST_CASE("columns to show are named by their keys") {
  const auto shown = report::shown_of("name,mass_kg");
  REQUIRE(std::holds_alternative<report::RangeShown>(shown));
  CHECK(std::get<report::RangeShown>(shown).columns.size() == 2);
  CHECK(std::get<report::RangeShown>(report::shown_of("all")).all);
  CHECK(std::holds_alternative<ParseProblem>(report::shown_of("name,mas_kg")));
  CHECK(std::holds_alternative<ParseProblem>(report::shown_of("name,")));
  CHECK(std::holds_alternative<ParseProblem>(report::shown_of("")));
}

TEST_CASE("the best come first where the order says so") {
  const std::vector<RangeRow> rows{van("a", 80.0), van("b", {}), van("c", 120.0)};
  CHECK(sorted(rows, "best:mass_kg") == "acb");
  CHECK(std::holds_alternative<ParseProblem>(report::order_of("best:place")));
}

}  // namespace report_range_select

// SPDX-License-Identifier: Apache-2.0
// Conditions and orders of a range. What is not known neither holds nor fails to hold.
#include <doctest/doctest.h>

#include "housepower/report/range.hpp"

namespace report_range_select {
namespace {

using namespace housepower;
using report::Holds;
using range::RangeRow;

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
  CHECK(problem("verdict").find("is no condition") != std::string::npos);
  CHECK(problem("verdikt=fail").find("did you mean \"verdict\"?") != std::string::npos);
  CHECK(problem("mass_kg>3 m").find("a mass") != std::string::npos);
  CHECK(problem("verdict>fail").find("use = or !=") != std::string::npos);
  CHECK(problem("price<500").find("is no price") != std::string::npos);
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

}  // namespace report_range_select

// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/plots.hpp"

#include <doctest/doctest.h>

#include "checks/examples.hpp"
#include "housepower/diagram/diagram.hpp"
#include "support/drawing.hpp"

namespace report_plots {

using namespace housepower;
using namespace housepower::report;

namespace {

template <class AnyPlot> void shows_its_numbers(const AnyPlot& plot) {
  CAPTURE(plot.id);
  CHECK_FALSE(plot.title.empty());
  test::kept_rules(svg(plot, SvgFor::page));
  CHECK(svg(plot, SvgFor::page) == svg(plot, SvgFor::page));
  const TableBlock table = table_behind(plot);
  CHECK_FALSE(table.rows.empty());
  CHECK(table.numbers.size() == table.heads.size());
  for (const auto& row : table.rows) CHECK(row.size() == table.heads.size());
}

}  // namespace

TEST_CASE("ticks are round and reach from one end to the other") {
  CHECK(round_ticks(0.0, 10.0, 5) == std::vector<double>{0, 2, 4, 6, 8, 10});
  CHECK(round_ticks(0.0, 4800.0, 5) == std::vector<double>{0, 1000, 2000, 3000, 4000, 5000});
  const auto volts = round_ticks(12.31, 12.94, 5);
  CHECK(volts.front() <= 12.31);
  CHECK(volts.back() >= 12.94);
  CHECK(volts.size() <= 7);
}

TEST_CASE("a distribution tells the share that is at least so large") {
  const Curve c = distribution("stays", {3.0, 1.0, 2.0, 2.0});
  CHECK(c.kind == Curve::Kind::steps);
  CHECK(c.x == std::vector<double>{0, 1, 2, 3});
  // From the value on, until the next: after 1 three of four are left, after 2 one, after 3 none.
  CHECK(c.y == std::vector<double>{1.0, 0.75, 0.25, 0.0});
}

TEST_CASE("every plot of a report is a drawing with words and a table") {
  for (const auto* name : {"marrowick.toml", "pellibri.toml", "quondelay.toml"}) {
    CAPTURE(std::string(name));
    const auto opened = examples::opened(examples::folder + name);
    const auto checked = examples::checked(opened);
    const auto& energy = checked.energy;
    shows_its_numbers(daily_balance_plot(energy.months[energy.judged]));
    shows_its_numbers(monthly_plot(energy));
    shows_its_numbers(faults_plot(opened.design, checked.wiring));
    const auto* in = diagram::worst_drop_case(checked.wiring);
    REQUIRE(in != nullptr);
    const auto* worst = worst_consumer(*in);
    REQUIRE(worst != nullptr);
    const Plot profile = voltage_profile_plot(opened.design, checked.wiring, *in, *worst);
    shows_its_numbers(profile);
    REQUIRE_FALSE(profile.curves.empty());
    CHECK(profile.curves[0].y.back() == doctest::Approx(worst->voltage.value()));
  }
}

TEST_CASE("state of charge, stays and choices are drawn from plain numbers") {
  const std::vector<ChargeSeries> charge{{"worst stay", {0, 12, 24}, {1.0, 0.6, 0.2}},
                                         {"typical stay", {0, 12, 24}, {1.0, 0.8, 0.7}}};
  const Plot over = charge_plot(charge, Ratio(0.2));
  shows_its_numbers(over);
  CHECK(over.says.find("lowest 20 % after 1 days") != std::string::npos);
  CHECK(table_behind(over).rows[1] == std::vector<std::string>{"0.5", "60", "80"});
  const std::vector<StaySeries> stays{{"aged", {2.04, 3.0, 4.0}}, {"new", {3.0, 4.0, 5.0}}};
  const Plot lasting = stay_plot(stays, 3.0 * day, Ratio(0.9));
  shows_its_numbers(lasting);
  CHECK(lasting.curves[0].x[1] == doctest::Approx(2.0));  // rounded down
  const std::vector<TradeOff> choices{{300, 0.95, "large"}, {200, 0.5, "small"}};
  const Plot trade = trade_off_plot(choices, {"mass", "kg", {}, {}}, Ratio(0.9));
  shows_its_numbers(trade);
  CHECK(trade.says.find("large, 300 kg") != std::string::npos);
}

TEST_CASE("a plot without numbers is still a drawing") {
  test::kept_rules(svg(charge_plot({}, Ratio(0.2)), SvgFor::page));
  test::kept_rules(svg(trade_off_plot({}, {"price", "EUR", {}, {}}, Ratio(0.9)), SvgFor::file));
  RowPlot rows;
  rows.title = rows.says = rows.id = "none";
  test::kept_rules(svg(rows, SvgFor::page));
  rows.x.logarithmic = true;  // of nothing: it once asked for endless ticks
  test::kept_rules(svg(rows, SvgFor::page));
}

}  // namespace report_plots

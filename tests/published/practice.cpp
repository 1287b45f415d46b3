// SPDX-License-Identifier: Apache-2.0
// Practitioners' electrical cases with numbers: what they report, or agreed on, redone with the
// engine. They are reports, not measurements of ours; where one does not add up, that is tested.
#include <doctest/doctest.h>

#include "ampacities.hpp"
#include "housepower/wiring/formulas.hpp"
#include "housepower/wiring/network.hpp"

namespace housepower::test::published_practice {
namespace {

using namespace wiring;

/// Volts at loads at the end of a way, at 13.2 V.
struct Magnets {
  double volts, amperes;
};
Magnets magnets(design::Behaviour behaves, double loop_ohms) {
  Network n;
  n.nodes = 3;  // 0: minus, 1: plug, 2: magnets
  n.feeds.push_back({{0}, {1}, 13.2 * volt, Resistance{}});
  n.branches.push_back({{1}, {2}, Resistance::from_value(loop_ohms)});
  n.loads.push_back({{2}, {0}, behaves, 8.0 * 36.0 * watt, 12.0 * volt});  // 8 · 3 A at 12 V
  const auto solution = solve(n);
  const auto& p = std::get<OperatingPoint>(solution);
  return {(p.potential[2] - p.potential[0]) / volt, p.load[0] / ampere};
}

TEST_CASE("a dealer's question page: eight brakes of 3 A, 13.2 V at the plug, 10.2 V at them") {
  // 3 V / 24 A: a loop of 125 mΩ
  const Magnets as_told = magnets(design::Behaviour::constant_current, 0.125);
  CHECK(as_told.volts == to(10.2, 0.01));
  // the same loop in 10 instead of 14 AWG, as was agreed
  const double rewired = 0.125 * gauge_mm2(14) / gauge_mm2(10);
  CHECK(magnets(design::Behaviour::constant_current, rewired).volts == to(12.0, 0.05));
}

TEST_CASE("a public forum thread: magnets do not draw more at low voltage, as was thought there") {
  const Magnets far = magnets(design::Behaviour::resistive, 0.125);
  const Magnets near = magnets(design::Behaviour::resistive, 0.0);
  CHECK(far.volts < near.volts);
  CHECK(far.amperes < near.amperes);
  CHECK(near.amperes == about(24.0 * 13.2 / 12.0, 1e-4));
  CHECK(far.amperes == about(13.2 / (0.5 + 0.125), 1e-4));  // 12 V / 24 A = 0.5 Ω
  // what was the matter: a trade "4 mm" cable holds 1.84 mm², not 4
  CHECK(printed("auto-od", "4", "area") == exactly(1.84));
}

TEST_CASE("a public forum thread: a microwave oven of 8.3 A at 120 V needs a way for over 100 A") {
  // about 1000 W from the inverter; 85 % as planning value, 11.5 V under load
  const Power ac = 8.3 * ampere * (120.0 * volt);
  CHECK(ac / watt == about(1000.0, 0.005));
  CHECK(current_of_power(Ratio(1.0), ac / 0.85, 11.5 * volt) > 100.0 * ampere);
}

TEST_CASE(
    "a trade magazine, issue 5 p. 23: an oven of \"800 W\" takes 1200 W, 1350 W d.c., 112 A") {
  CHECK(current_of_power(Ratio(1.0), 1350.0 * watt, 12.0 * volt) / ampere == to(112.5, 0.6));
  CHECK(1200.0 / 1350.0 == to(0.89, 0.01));  // its inverter's efficiency
}

TEST_CASE(
    "a trade newsletter: 50 A at 120 V is 500 A at 12 V without loss, so a bank's limit trips") {
  const Power start = 50.0 * ampere * (120.0 * volt);
  CHECK(current_of_power(Ratio(1.0), start, 12.0 * volt) / ampere == about(500.0, 1e-9));
  CHECK(current_of_power(Ratio(1.0), start / 0.9, 12.0 * volt) / ampere == to(556.0, 1.0));
  // two batteries whose systems trip at 200 to 250 A
  CHECK(current_of_power(Ratio(1.0), start, 12.0 * volt) >= 2.0 * 250.0 * ampere);
  // 24 A with a soft start, against the surge of an inverter of 2000 W that gives double
  CHECK(24.0 * ampere * (120.0 * volt) < 2.0 * 2000.0 * watt);
  CHECK(start > 2.0 * 2000.0 * watt);
}

TEST_CASE("a travellers' page: an air conditioner of 13 A at 120 V is 142 A and 2.1 h of 300 Ah") {
  const Current dc = current_of_power(Ratio(1.0), 1700.0 * watt, 12.0 * volt);
  CHECK(dc / ampere == to(142.0, 1.0));
  CHECK(300.0 / (dc / ampere) == to(2.1, 0.05));   // to empty: no reserve in it
  CHECK(13.0 * 120.0 / 1700.0 == to(0.92, 0.01));  // its inverter's efficiency
  CHECK(dc > 100.0 * ampere);                      // one battery of 100 A cannot start it
}

TEST_CASE("a public forum thread: no 800 A fuse on 4/0 AWG") {
  for (const double insulation : {60.0, 75.0, 80.0, 90.0, 105.0, 125.0})
    CHECK(listed("us-33cfr-183-425", "4/0", insulation) < 800.0);
}

TEST_CASE("a public forum thread: 2 % of 13.6 V leaves 13.33 V; but 10 AWG bears more than 3.5 A") {
  CHECK(13.6 * (1.0 - 0.02) == to(13.33, 0.005));
  const auto most = [](double degrees) {  // over a run of 15 ft
    const auto r20 = copper_resistance(copper_resistivity, gauge_mm2(10) * square_millimetre);
    const auto r = resistance_at_temperature(r20, celsius(degrees));
    return 0.02 * 13.6 * volt / (r * (30.0 * foot)) / ampere;
  };
  CHECK(most(20.0) == to(9.1, 0.05));
  CHECK(most(75.0) > 7.3);  // not 3.5 A, which belongs to a loop of more than double the length
}

}  // namespace
}  // namespace housepower::test::published_practice

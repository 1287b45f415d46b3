// SPDX-License-Identifier: Apache-2.0
// The heat balance of a battery box against worked figures, and what a design's box makes of it.
#include "housepower/parts/battery_box.hpp"
#include "energy/camp.hpp"

namespace parts_battery_box {
namespace {

using namespace camp;
using namespace housepower::parts;

constexpr HeatConductance watt_per_kelvin = HeatConductance::from_value(1.0);
constexpr Irradiance full_sun = Irradiance::from_value(1000.0);

// The figures of these cases were computed from the formulas, which were read; heat transfers and
// absorptances in them are from memory, as is ISO 6946.

TEST_CASE("a wall of 51 mm foam between plywood and sheet passes about 0.514 W/(m²·K)") {
  using PerHeatTransfer = Quotient<Ratio, HeatTransfer>;
  const auto r = [](double value) { return PerHeatTransfer::from_value(value); };
  CHECK((wall_heat_transfer(r(1.774), r(0.13), r(0.04)) / heat_transfer_unit).value() ==
        doctest::Approx(0.514).epsilon(0.001));
}

TEST_CASE("the sun on a wall: 17.6, 35, 53 and 60 K by colour and wind") {
  struct Row {
    double absorptance, to_air, kelvins, within;
  };
  for (const Row& row : {Row{0.3, 17, 17.6, 0.05}, Row{0.6, 17, 35, 0.5}, Row{0.9, 17, 53, 0.5},
                         Row{0.6, 10, 60, 0.05}}) {
    CAPTURE(row.absorptance);
    const auto rise = sun_on_wall(row.absorptance, full_sun, row.to_air * heat_transfer_unit);
    CHECK(std::abs(rise.value() - row.kelvins) <= row.within);
  }
}

TEST_CASE("heat in a bare metal box of 4 W/K raises it by 0.3, 3.8 and 15 K") {
  // A bank of 600 Ah and 1.5 mΩ at 30, 100 and 200 A: 1.4, 15 and 60 W.
  for (const auto& [amperes, kelvins, within] :
       {std::array{30.0, 0.3, 0.05}, std::array{100.0, 3.8, 0.06}, std::array{200.0, 15.0, 0.05}})
    CHECK(std::abs(steady_rise(Power(amperes * ampere * (amperes * ampere) * (1.5 * milliohm)),
                               4.0 * watt_per_kelvin)
                       .value() -
                   kelvins) <= within);
}

TEST_CASE("66 kg of cells take 18, 9 and 4.6 h to follow, and 15, 30, 60 W to be held") {
  struct Row {
    double ua, hours, watts;
  };
  for (const Row& row : {Row{1.0, 18.0, 15.0}, Row{2.0, 9.0, 30.0}, Row{4.0, 4.6, 60.0}}) {
    CAPTURE(row.ua);
    const auto walls = row.ua * watt_per_kelvin;
    const auto constant = time_constant(66.0 * kilogram, cell_specific_heat, walls);
    CHECK(std::abs(double(constant / hour) - row.hours) <= 0.4);
    CHECK(holding_power(walls, celsius(5.0), celsius(-10.0)) / watt == doctest::Approx(row.watts));
  }
}

TEST_CASE("at -10 °C outside 66 kg behind 1 W/K freeze after 16.8 h from 15 °C, 7.4 h from 5 °C") {
  const auto constant = time_constant(66.0 * kilogram, cell_specific_heat, watt_per_kelvin);
  for (const auto& [start, hours] : {std::array{15.0, 16.8}, std::array{5.0, 7.4}})
    CHECK(std::abs(in_celsius(
              cells_after(celsius(-10.0), celsius(start), hours * hour, constant))) < 0.05);
}

TEST_CASE("a design's box: walls, mass and the share that the sun shines on") {
  // 0.7 · 0.4 · 0.3 m: 2 · (0.28 + 0.21 + 0.12) = 1.22 m²; 5 W/(m²·K) make 6.1 W/K. Two batteries of
  // 11 kg: 22 000 J/K, 3607 s. Top and long side: 0.28 + 0.21 of 1.22.
  const std::string box =
      "mass = \"11 kg\"\n[bank.box]\nsize = [\"0.7 m\", \"0.4 m\", \"0.3 m\"]\n";
  const Camp c(bank + box);
  Working working;
  const auto b = battery_box(*c.design()->bank, &working);
  REQUIRE(b.has_value());
  CHECK(b->walls.value() == about(6.1));
  CHECK(b->constant.value() == about(22000.0 / 6.1));
  CHECK(double(b->in_the_sun) == about(0.49 / 1.22));
  adds_up(working);
  // Without a mass 116 Wh/kg: 2560 Wh weigh 22.07 kg.
  const Camp without(bank + "[bank.box]\nsize = [\"0.7 m\", \"0.4 m\", \"0.3 m\"]\n");
  CHECK(battery_box(*without.design()->bank)->constant.value() ==
        about(2560.0 / 116.0 * 1000.0 / 6.1));
  CHECK_FALSE(battery_box(*Camp(bank).design()->bank).has_value());
}

TEST_CASE("the sun warms a box on the drawbar; under the floor a fifth of it, and the ground") {
  const std::string box =
      "[bank.box]\nsize = [\"0.7 m\", \"0.4 m\", \"0.3 m\"]\nabsorptance = 0.3\n";
  const auto warmer = [&](const std::string& more, const std::string& before = "") {
    const Camp c(bank + before + box + more);
    const auto& b = *c.design()->bank;
    return warmer_about_box(b, *battery_box(b), full_sun).value();
  };
  const double drawbar = 0.3 * 1000.0 / 17.0 * 0.49 / 1.22;
  CHECK(warmer("") == about(drawbar));
  CHECK(warmer("sits = \"underfloor\"\n") == about(drawbar / 5.0 + 10.0));
  CHECK(warmer("", "mounted = \"inside-sealed-vented-out\"\n") == 0.0);
}

}  // namespace

}  // namespace parts_battery_box

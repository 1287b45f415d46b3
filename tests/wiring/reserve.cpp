// SPDX-License-Identifier: Apache-2.0
// How far down a bank carries its inverter, against the closed form of a constant-power load behind
// one resistance: U = (E + √(E² − 4·R·P)) / 2.
#include "housepower/wiring/reserve.hpp"

#include "housepower/parts/cell.hpp"
#include "housepower/wiring/network_of.hpp"
#include "rig.hpp"

namespace wiring_reserve {

using namespace rig;

namespace {

/// One inverter at the end of 2 m of 35 mm², held at 60 °C so that its resistance is one number.
const std::string inverter = R"([place]
name = "hobart"
[[inverter]]
name = "inverter"
rating = "1000 W"
no_load = "10 W"
loss = { k = 0.11 }
cut_out = "10.8 V"
surge = { power = "2000 W", time = "3 s" }
)" + run("inverter", "bank", "inverter", "2 m", "35 mm2", "conductor_temperature = \"60 °C\"");
const double way = 2 * 2.0 * 0.554e-3 * (234.5 + 60.0) / 254.5;  // IEC 60228 class 5, 35 mm²

InverterReserve reserve_of(const Rig& r) {
  const auto all = inverter_reserves(r.design(), r.found);
  REQUIRE(all.size() == 1);
  return all.front();
}

/// The first charge from above, on a fine grid, at which the closed form falls below 10.8 V.
double by_closed_form(const Rig& r, Temperature t, double dc_watts) {
  for (int i = 10000; i >= 0; --i) {
    const double charge = i / 10000.0;
    const double e =
        parts::bank_open_circuit(r.design()->tables->cells, *r.design()->bank, charge).value();
    const double ohms =
        resistance_in_use(r.design(), {charge, t}).value.value() / r.design()->bank->parallel + way;
    const double root = e * e - 4 * ohms * dc_watts;
    if (root < 0.0 || 0.5 * (e + std::sqrt(root)) < 10.8) return charge;
  }
  return 0.0;
}

}  // namespace

TEST_CASE("an inverter is carried down to the charge at which its input falls to its cut-out") {
  int between = 0;
  for (const char* high : {"3 mΩ", "5 mΩ", "7 mΩ", "9 mΩ", "11 mΩ", "13 mΩ", "16 mΩ"}) {
    CAPTURE(high);
    const Rig r(van::with(bank, "high = \"5 mΩ\"", "high = \"" + std::string(high) + "\"") +
                inverter);
    const auto found = reserve_of(r);
    CHECK(found.why_unknown.empty());
    CHECK(in_celsius(found.temperature) == about(4.4));  // hobart, July
    // 1000 W + 10 W + 0.11 · 1000 W
    const double expected = by_closed_form(r, found.temperature, 1120.0);
    if (expected >= 1.0) {
      CHECK_FALSE(found.rated.down_to);
      continue;
    }
    REQUIRE(found.rated.down_to);
    CHECK(std::abs(double(*found.rated.down_to) - expected) < 2e-4);
    if (expected > 0.0) {
      CHECK(found.rated.input.value() == about(10.8, 1e-5));
      CHECK(found.rated.drawn.value() == about(1120.0 / 10.8, 1e-5));
      ++between;
    }
    Working working;
    CHECK(carried_down_to(r.design(), found, found.rated, &working) == *found.rated.down_to);
    adds_up(working);
  }
  CHECK(between >= 4);
}

TEST_CASE("the start is the largest on the inverter, the surge rating is shown with its charge") {
  const std::string mixer = "supply = \"inverter\"\nrated_at = \"230 V\"\n";
  const Rig r(van::with(bank, "quantity = 1", "quantity = 2") + inverter +
              appliance("Mixer", "power = \"300 W\"\n" + mixer +
                                     "starting = { current = \"5 A\", time = \"1 s\" }") +
              appliance("Fan", "power = \"50 W\"\n" + mixer +
                                   "starting = { current = \"1 A\", time = \"1 s\" }"));
  const auto found = reserve_of(r);
  REQUIRE(found.starter);
  CHECK(r.design()[*found.starter].name == "Mixer");
  REQUIRE(found.start);
  CHECK(found.start->given.value() == about(5.0 * 230.0 + 50.0));  // beside the fan
  REQUIRE(found.surge);
  const auto dc = [](double ac) { return ac + 10.0 + 0.11 * ac * ac / 1000.0; };
  CHECK(std::abs(double(found.start->down_to.value_or(Ratio(1.0))) -
                 by_closed_form(r, found.temperature, dc(1200.0))) < 2e-4);
  CHECK(std::abs(double(found.surge->down_to.value_or(Ratio(1.0))) -
                 by_closed_form(r, found.temperature, dc(2000.0))) < 2e-4);
  CHECK(found.start->busiest.value() == about(found.start->drawn.value() / 2, 1e-9));
}

TEST_CASE("what else the heaviest case runs counts, charging meanwhile does not") {
  const std::string lamp =
      appliance("Lamp",
                "current = \"30 A\"\nbehaves = \"constant-current\"\nlowest_voltage = \"10 V\"") +
      run("lamp", "bank", "Lamp", "1 m", "16 mm2");
  const Rig r(bank + inverter + lamp);
  const Rig alone(bank + inverter);
  const auto with = reserve_of(r);
  CHECK(with.beside == "all");
  REQUIRE(with.rated.down_to);
  REQUIRE(reserve_of(alone).rated.down_to);
  CHECK(*with.rated.down_to > *reserve_of(alone).rated.down_to);
  CHECK(with.rated.busiest.value() == about(with.rated.drawn.value() + 30.0, 1e-9));
}

TEST_CASE("without a place there is no answer") {
  const std::string nowhere = van::with(inverter, "[place]\nname = \"hobart\"\n", "");
  CHECK(reserve_of(Rig(bank + nowhere)).why_unknown.find("place") != std::string::npos);
}

}  // namespace wiring_reserve

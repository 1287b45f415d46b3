// SPDX-License-Identifier: Apache-2.0
// What parts do at their terminals, by hand.
#include "design/van.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/parts/controller.hpp"
#include "housepower/parts/inverter.hpp"
#include "housepower/parts/module.hpp"
#include "support/working_adds_up.hpp"

namespace parts_parts {
namespace {

using namespace housepower;

doctest::Approx about(double value) { return doctest::Approx(value).epsilon(1e-9); }
/// Every step of a working, redone with the pocket calculator.
void adds_up(const Working& working) {
  CHECK_FALSE(working.empty());
  for (const Step& s : working) {
    CAPTURE(s.formula.symbol);
    CHECK(test::text_against_code(s) == "");
    CHECK(test::line_against_value(s) == "");
  }
}

constexpr Irradiance watts = parts::watt_per_square_metre;

design::resolved::Bank bank() {
  design::resolved::Bank b;
  b.parallel = 2;
  b.capacity = 100.0 * ampere_hour;
  b.nominal_voltage = 12.8 * volt;
  b.storage_temperature = celsius(25.0);
  return b;
}
const tables::CellCurves& cells() { return van::shipped().cells; }

TEST_CASE("a resting bank is four cells, or eight") {
  // 3.2995 V a cell at 50 % (thesis TU Munich 2018)
  auto b = bank();
  CHECK(parts::bank_open_circuit(cells(), b, 0.5) / volt == about(4.0 * 3.2995));
  b.in_series = 2;
  CHECK(parts::bank_open_circuit(cells(), b, 0.5) / volt == about(8.0 * 3.2995));
}

TEST_CASE("the charge at which a bank rests is that of its voltage") {
  // Rows of a cell (thesis TU Munich 2018): 2.2862 V empty, 3.2120 V at 15 %, 3.2995 V at 50 %.
  const auto rests = [](double cell) {
    return double(parts::rests_at(cells(), bank(), 4.0 * cell * volt));
  };
  CHECK(rests(2.2) == 0.0);
  CHECK(rests(2.2862) == 0.0);
  CHECK(rests(3.2120) == doctest::Approx(0.15).epsilon(2e-5));  // to a millionth, and never above
  CHECK(rests(3.2120) <= 0.15);
  CHECK(rests(3.2995) == doctest::Approx(0.50).epsilon(2e-5));
  CHECK(rests(3.6) == 1.0);
}

TEST_CASE("capacity lies straight between its rows, and is nothing below the coldest") {
  const auto at = [](double t) { return double(parts::capacity_factor(cells(), celsius(t))); };
  CHECK(at(25.0) == about(1.0));
  CHECK(at(17.5) == about(0.97));   // half way from 0.94 at 10 to 1 at 25 °C
  CHECK(at(5.0) == about(0.87));    // from 0.80 at 0 to 0.94 at 10 °C
  CHECK(at(-2.5) == about(0.765));  // a quarter of the way from 0.80 down to 0.66 at −10 °C
  CHECK(at(-20.0) == about(0.44));
  CHECK(at(-20.1) == 0.0);
  CHECK(at(50.0) == 1.0);   // no more than rated,
  auto generous = cells();  // not even where a table of one's own says so
  generous.capacity.y.back() = 1.05;
  CHECK(double(parts::capacity_factor(generous, celsius(25.0))) == 1.0);
}

TEST_CASE("charging current by cell temperature") {
  // A telecom module manual: none below 0 °C, 0.1C to 10, 0.2C to 25, 0.5C to 50, none over 60 °C.
  auto b = bank();
  const auto at = [&b](double t) { return parts::charge_limit(cells(), b, celsius(t)) / ampere; };
  CHECK(at(-0.1) == 0.0);
  CHECK(at(7.0) == about(20.0));  // 0.1 · 200 Ah
  CHECK(at(20.0) == about(40.0));
  CHECK(at(25.0) == about(40.0));  // where two steps meet, the smaller
  CHECK(at(30.0) == about(100.0));
  CHECK(at(61.0) == 0.0);
  b.charge_limit = 40.0 * ampere;
  CHECK(at(30.0) == about(80.0));  // 2 · 40 A
  b.charge_cut_off_below = celsius(5.0);
  CHECK(at(4.0) == 0.0);
  b.charge_cut_off_above = celsius(45.0);
  CHECK(at(44.0) == about(80.0));
  CHECK(at(45.0) == about(80.0));  // cut off above it, not at it
  CHECK(at(46.0) == 0.0);
  Working working;
  (void)parts::charge_limit(cells(), b, celsius(30.0), &working);
  adds_up(working);
}

TEST_CASE("resistance is worst cold and empty, and never falls as it gets colder") {
  CHECK(double(parts::resistance_factor(celsius(10.0), 0.05)) == about(195.0 / 47.8));
  // The measured cell: 47.8 mΩ at 25 °C and 50 %; 69.4 at 10, 38.4 at 40 °C. At 0 °C, by its law,
  // exp(53 800 / 8.3144598 · (1 / 273.15 − 1 / 283.15)) = 2.309 times that at 10 °C:
  // 6470.7 · 0.000129296 = 0.83663.
  const auto half = [](double t) { return double(parts::resistance_factor(celsius(t), 0.5)); };
  CHECK(half(25.0) == about(1.0));
  CHECK(half(10.0) == about(69.4 / 47.8));
  CHECK(half(40.0) == about(38.4 / 47.8));
  CHECK(half(0.0) == doctest::Approx(69.4 / 47.8 * std::exp(0.83663)).epsilon(1e-4));
  for (double charge = 0.0; charge <= 1.0; charge += 0.05)
    for (double t = -30.0; t < 60.0; t += 1.0)
      CHECK(parts::resistance_factor(celsius(t), charge) >=
            parts::resistance_factor(celsius(t + 1.0), charge));
}

TEST_CASE("an inverter's input: no load, half load, and a flat efficiency") {
  design::resolved::Inverter i;
  i.rating = 2000.0 * watt;
  i.no_load = 18.0 * watt;
  i.k = 0.11;
  CHECK(parts::dc_power(i, 0.0 * watt) / watt == about(18.0));
  // 1000 + 18 + 0.11 · 1000² / 2000 = 1073 W
  CHECK(parts::dc_power(i, 1000.0 * watt) / watt == about(1073.0));
  i.k.reset();
  i.efficiency = 0.88;
  CHECK(parts::dc_power(i, 880.0 * watt) / watt == about(1000.0));
  CHECK(parts::dc_power(i, 0.0 * watt) / watt == about(18.0));
  i.efficiency.reset();  // nothing stated: what it gives, and never less than its own draw
  CHECK(parts::dc_power(i, 880.0 * watt) / watt == about(880.0));
  CHECK(parts::dc_power(i, 0.0 * watt) / watt == about(18.0));
}

TEST_CASE("ten years full at 25 °C with 100 cycles of 80 % a year leave three quarters") {
  // Standing, small cells: 365 days at 100 % lose 6.773 % (J. Energy Storage 17 (2018) 153,
  // computed), ten years √10 times that: 21.42 %. Cycling, 100 · 10 · 0.8 = 800 full cycles:
  // (0.0630 · 0.2 + 0.0971) · (4.0253 · 0.2³ + 1.0923) · √800 = 3.49 %. Together 24.91 %.
  Working working;
  const Ratio left = parts::age_factor(bank(), 10.0 * year, &working);
  CHECK(100.0 * (1.0 - double(left)) == doctest::Approx(24.91).epsilon(0.0004));
  adds_up(working);
  // Cooler and half full keeps better; older is never better.
  auto kind = bank();
  kind.storage_charge = 0.5;
  kind.storage_temperature = celsius(15.0);
  CHECK(parts::age_factor(kind, 10.0 * year) > left);
  CHECK(parts::age_factor(bank(), 12.0 * year) < left);
  CHECK(double(parts::age_factor(bank(), 0.0 * year)) == 1.0);
  CHECK(double(parts::age_factor(bank(), 500.0 * year)) == 0.0);
}

TEST_CASE("resistance rises with age") {
  // 365 days at 25 °C and 50 % add 1.683 %; ten years ten times that. 800 cycles of 80 % at 0.2C:
  // 0.8 times the 1.875 % of 1000: 1.50 %. 1 + 0.1683 + 0.0150
  auto b = bank();
  b.storage_charge = 0.5;
  CHECK(double(parts::resistance_age_factor(b, 10.0 * year)) ==
        doctest::Approx(1.1833).epsilon(0.0002));
}

TEST_CASE("a module on a roof in the sun, without a stated coefficient") {
  // 20 °C + 0.0563 · 800 = 65.04 °C; 200 W · 0.8 · (1 − 0.004 · 40.04) = 134.37 W; in that light it
  // keeps 1 + 0.025 · ln 0.8 = 0.994421
  design::Module m;
  m.power = 200.0 * watt;
  Working working;
  const Power p = parts::power_in_sun(m, design::Mount::roof_flat, 800.0 * watts,
                                      {celsius(20.0), {}}, &working);
  CHECK(p / watt == doctest::Approx(160.0 * (1.0 - 0.004 * 40.04) * 0.994421).epsilon(1e-6));
  adds_up(working);
}

TEST_CASE("a module in wind is as warm as the wind leaves it, whatever its mounting") {
  // 1000 W/m², 30 °C, 1 m/s: 30 + 1000 / (25 + 6.84) = 61.41 °C (published check of the formula);
  // 100 W · (1 − 0.003 · 36.41) = 89.08 W
  design::Module m;
  m.power = 100.0 * watt;
  m.power_coefficient = PerKelvin::from_value(-0.003);
  Working working;
  for (const auto mount : {design::Mount::roof_flat, design::Mount::ground}) {
    const Power p = parts::power_in_sun(m, mount, 1000.0 * watts,
                                        {celsius(30.0), 1.0 * metre / second}, &working);
    CHECK(p / watt == doctest::Approx(89.08).epsilon(1e-4));
  }
  adds_up(working);
}

TEST_CASE("little light: by hand, never less than 85 % nor more than all") {
  const auto kept = [](double g) { return double(parts::low_light(Irradiance::from_value(g))); };
  CHECK(kept(1000.0) == 1.0);
  CHECK(kept(1200.0) == 1.0);
  CHECK(kept(200.0) == doctest::Approx(1.0 - 0.025 * 1.609438).epsilon(1e-7));  // ln 5
  CHECK(kept(50.0) == doctest::Approx(1.0 - 0.025 * 2.995732).epsilon(1e-7));   // ln 20
  CHECK(kept(1.0) == 0.85);
  CHECK(kept(0.0) == 0.85);
}

TEST_CASE("modules lose a two-hundredth a year, and never more than all") {
  CHECK(double(parts::modules_left(0.0 * year)) == 1.0);
  CHECK(double(parts::modules_left(10.0 * year)) == about(0.95));
  CHECK(double(parts::modules_left(300.0 * year)) == 0.0);
}

TEST_CASE("a controller converts up to its current, a direct one passes the module's") {
  design::resolved::Controller c;
  c.efficiency = 0.95;
  c.max_charge_current = 20.0 * ampere;
  const std::vector<parts::ArrayOutput> arrays{{200.0 * watt, 10.0 * ampere, 500.0 * watts},
                                               {150.0 * watt, 8.0 * ampere, 400.0 * watts}};
  Working working;
  const auto out = parts::controller_output(c, arrays, 13.0 * volt, &working);
  CHECK(out.given / watt == about(260.0));  // 350 · 0.95 = 332.5 W, but 20 A · 13 V
  CHECK(out.clipped / watt == about(332.5 - 260.0));
  c.kind = design::ControllerKind::direct;
  // 10 A · 0.5 + 8 A · 0.4 = 8.2 A at 13 V
  CHECK(parts::controller_output(c, arrays, 13.0 * volt, &working).given / watt ==
        about(8.2 * 13.0));
  adds_up(working);
}

}  // namespace

}  // namespace parts_parts

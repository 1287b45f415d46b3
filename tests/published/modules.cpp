// SPDX-License-Identifier: Apache-2.0
// Solar modules against the check values of handbooks and public libraries: temperature by five
// models, power in heat, voltage in the cold.
#include <doctest/doctest.h>

#include "housepower/parts/module.hpp"
#include "shipped.hpp"

namespace housepower::test::published_modules {
namespace {

constexpr Irradiance watts = Irradiance::from_value(1.0);  // per m²

TEST_CASE("Häberlin, problem 1, on a public course page: NOCT 48 °C in air of 40 °C") {
  const auto cell = [](double sun) {
    return in_celsius(parts::noct_temperature(celsius(40), celsius(48), sun * watts));
  };
  CHECK(cell(1000) == to(75, 1));
  CHECK(cell(1000) == exactly(75));
  CHECK(cell(200) == exactly(47));
}

TEST_CASE("Faiman 2008 (IEC 61853-2): open rack, 25 and 6.84") {
  const auto still = HeatTransfer::from_value(25.0);
  const auto by_wind = parts::HeatTransferPerSpeed::from_value(6.84);
  const auto wind = parts::Speed::from_value(1.0);
  CHECK(in_celsius(parts::faiman_temperature(celsius(30), 1000.0 * watts, still, by_wind, wind)) ==
        to(61.41, 0.01));
  CHECK(in_celsius(parts::faiman_temperature(celsius(20), 800.0 * watts, still, by_wind, wind)) ==
        to(45.13, 0.01));
}

TEST_CASE("the Sandia array model and the U-value model, as transcribed in a public library") {
  // 1000 W/m², 1 m/s, 20 °C.
  struct Mounting {
    double a, b, over_back, printed;
  };
  for (const Mounting& m : {Mounting{-3.56, -0.0750, 3, 49.4}, Mounting{-2.98, -0.0471, 1, 69.5},
                            Mounting{-2.81, -0.0455, 0, 77.5}}) {
    CAPTURE(m.a);
    CHECK(in_celsius(parts::sandia_temperature(
              celsius(20), 1000.0 * watts, m.a, parts::PerSpeed::from_value(m.b),
              parts::Speed::from_value(1.0), m.over_back * kelvin)) == to(m.printed, 0.1));
  }
  // 1000 W/m², 10 °C, efficiency 10 %, U 29 W/(m²·K), no wind.
  CHECK(in_celsius(parts::u_value_temperature(celsius(10), 1000.0 * watts, 0.1,
                                              HeatTransfer::from_value(29.0),
                                              parts::HeatTransferPerSpeed::from_value(0.0),
                                              parts::Speed::from_value(0.0))) == to(37.931, 0.001));
}

TEST_CASE("Ross coefficients by mounting: Skoplaki & Palyvos 2009, Nordmann 2003") {
  // Non-ventilated 0.0563, sloped and poorly ventilated 0.0342, free-standing 0.0208 K·m²/W. A roof
  // of a van counts as not ventilated.
  CHECK(parts::ross_coefficient(design::Mount::roof_flat) / parts::ross_unit == exactly(0.0563));
  CHECK(parts::ross_coefficient(design::Mount::tilted) / parts::ross_unit == exactly(0.0342));
  CHECK(parts::ross_coefficient(design::Mount::ground) / parts::ross_unit == exactly(0.0208));
  CHECK(in_celsius(parts::ross_temperature(celsius(25), 0.0563 * parts::ross_unit,
                                           1000.0 * watts)) == exactly(25 + 56.3));
}

TEST_CASE("a roof costs 8 to 11 % against an open rack at −0.4 %/K") {
  // (69.5 − 49.4) · 0.4 % = 8 %; (77.5 − 49.4) · 0.4 % = 11 %.
  const auto power = [](double cell) {
    return parts::module_power(100.0 * watt, 1000.0 * watts, parts::usual_power_coefficient,
                               celsius(cell)) /
           watt;
  };
  CHECK(power(25) == exactly(100));
  CHECK(power(49.4) - power(69.5) == to(8, 1));
  CHECK(power(49.4) - power(77.5) == to(11, 1));
}

TEST_CASE("open-circuit voltage in the cold: the coefficient method") {
  struct Row {
    double rated, coefficient, celsius;
    int in_series;
    double volts;
  };
  for (const Row& row : {Row{22.6, -0.30, -10, 1, 24.97}, Row{22.6, -0.30, -25, 1, 25.99},
                         Row{22.6, -0.30, -10, 2, 49.95}, Row{49.5, -0.27, -10, 1, 54.18}}) {
    CAPTURE(row.celsius);
    CAPTURE(row.in_series);
    const Voltage one = parts::cold_voltage(
        row.rated * volt, PerKelvin::from_value(0.01 * row.coefficient), celsius(row.celsius));
    CHECK(parts::string_voltage(double(row.in_series), one) / volt == to(row.volts, 0.01));
  }
}

}  // namespace
}  // namespace housepower::test::published_modules

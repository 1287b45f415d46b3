// SPDX-License-Identifier: Apache-2.0
// Numbers as people read them, and that reading them again gives the same.
#include <doctest/doctest.h>

#include <algorithm>
#include <clocale>
#include <cmath>
#include <limits>
#include <string>

#include "housepower/units/unit.hpp"

namespace housepower::units_print {
namespace {

TEST_CASE("a quantity is printed in the trade's unit with three significant digits") {
  CHECK(print(0.95812 * volt) == "0.958 V");
  CHECK(print(12.8 * volt) == "12.8 V");
  CHECK(print(0.0453 * volt) == "45.3 mV");
  CHECK(print(2500.0 * volt) == "2.5 kV");
  CHECK(print(15.0 * ampere) == "15 A");
  CHECK(print(0.02 * ampere) == "20 mA");
  CHECK(print(6180.0 * ampere) == "6.18 kA");
  CHECK(print(2.0 * milliohm) == "2 mΩ");
  CHECK(print(1.5 * ohm) == "1.5 Ω");
  CHECK(print(0.005 * milliohm) == "5 µΩ");
  CHECK(print(4700.0 * ohm) == "4.7 kΩ");
  CHECK(print(7.98 * ohm_per_kilometre) == "7.98 mΩ/m");
  CHECK(print(35.0 * square_millimetre) == "35 mm²");
  CHECK(print(1.04 * square_metre) == "1.04 m²");
  CHECK(print(2.4 * metre) == "2.4 m");
  CHECK(print(6.0 * millimetre) == "6 mm");
  CHECK(print(100.0 * ampere_hour) == "100 Ah");
  CHECK(print(0.05 * ampere_hour) == "50 mAh");
  CHECK(print(812.4 * watt_hour) == "812 Wh");
  CHECK(print(1280.0 * watt_hour) == "1.28 kWh");
  CHECK(print(45.0 * watt) == "45 W");
  CHECK(print(2000.0 * watt) == "2 kW");
  CHECK(print(11.5 * kilogram) == "11.5 kg");
  CHECK(print(celsius(40.0)) == "40 °C");
  CHECK(print(celsius(-5.25)) == "-5.25 °C");
  CHECK(print(5.0 * kelvin) == "5 K");
  CHECK(print(35.0 * degree) == "35°");
  CHECK(print(Number(-0.0028, kind_of<PerKelvin>)) == "-0.28 %/K");
  CHECK(print(Number(13225e12, kind_of<AdiabaticConstant>)) == "13200 A²s/mm⁴");
  CHECK(print(Number(13225e12, kind_of<AdiabaticConstant>), 5) == "13225 A²s/mm⁴");
  CHECK(print(Number(3.6e6 * 4.2, kind_of<Irradiation>)) == "4.2 kWh/m²");
  CHECK(print(Number(0.017241e-6, kind_of<Resistivity>), 5) == "0.017241 Ω·mm²/m");
}

TEST_CASE("time is told in the unit that people use for that long") {
  CHECK(print(0.02 * second) == "0.02 s");
  CHECK(print(90.0 * second) == "90 s");
  CHECK(print(1800.0 * second) == "30 min");
  CHECK(print(1.5 * hour) == "1.5 h");
  CHECK(print(36.0 * hour) == "1.5 d");
  CHECK(print(24.0 * hour) == "1 d");
  CHECK(print(23.0 * hour) == "23 h");
  CHECK(print(3.2 * day) == "3.2 d");
  CHECK(print(10.0 * year) == "10 y");
}

TEST_CASE("a share is printed in per cent, a factor above one bare") {
  CHECK(print(Number(0.03, kind_of<Ratio>)) == "3 %");
  CHECK(print(Number(1.0, kind_of<Ratio>)) == "100 %");
  CHECK(print(Number(1.22, kind_of<Ratio>)) == "1.22");
  CHECK(print(Number(-0.2, kind_of<Ratio>)) == "-20 %");
}

TEST_CASE("nought has a unit and no sign") {
  CHECK(print(0.0 * volt) == "0 V");
  CHECK(print(-0.0 * volt) == "0 V");
  CHECK(print(0.0 * square_metre) == "0 mm²");
  CHECK(print(0.0 * second) == "0 s");
  CHECK(print(Number(0.0, kind_of<Ratio>)) == "0 %");
  CHECK(print(celsius(0.0)) == "0 °C");
  Temperature rising = celsius(-1.0);
  for (int i = 0; i < 10; ++i) rising += 0.1 * kelvin;  // ends some 1e-13 K beside nought
  CHECK(print(rising) == "0 °C");
  CHECK(print_plain(-0.0) == "0");
}

TEST_CASE("rounding picks the unit of what is printed") {
  CHECK(print(999.9 * watt) == "1 kW");
  CHECK(print(999.4 * watt) == "999 W");
  CHECK(print(0.09999 * volt) == "0.1 V");
  CHECK(print(Number(0.9999, kind_of<Ratio>)) == "100 %");
}

TEST_CASE("a plain number keeps its significant digits and needs no exponent in daily use") {
  struct Row {
    double value;
    int digits;
    std::string_view text;
  };
  const Row rows[] = {
      {1234.0, 3, "1230"},
      {1235.0, 4, "1235"},
      {0.00012345, 3, "0.000123"},
      {0.0001, 3, "0.0001"},
      {9999999.0, 7, "9999999"},
      {1234567.0, 3, "1230000"},
      {1e7, 3, "1e7"},
      {16200000.0, 3, "1.62e7"},
      {9.87e-5, 3, "9.87e-5"},
      {-2.5, 3, "-2.5"},
      {100.0, 1, "100"},
      {0.5, 1, "0.5"},
      {2.0 / 3.0, 5, "0.66667"},
      {1.0, 17, "1"},
      {0.1, 17, "0.10000000000000001"},
      {123.0, 0, "100"},
      {9.996, 3, "10"},
      {1e300, 3, "1e300"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.value);
    CHECK(print_plain(row.value, row.digits) == row.text);
  }
  CHECK(print_plain(std::numeric_limits<double>::infinity()) == "inf");
  CHECK(print_plain(std::numeric_limits<double>::quiet_NaN()) == "nan");
}

TEST_CASE("where US units are shown, lengths, masses and temperatures are in theirs") {
  const ShowUnits shows(UnitsShown::us);
  CHECK(print(4.0 * metre) == "13.1 ft");      // 4 / 0.3048 = 13.12
  CHECK(print(0.2 * metre) == "7.87 in");      // 0.2 / 0.0254 = 7.874
  CHECK(print(0.3048 * metre) == "1 ft");      // by definition
  CHECK(print(80000.0 * metre) == "49.7 mi");  // 80 / 1.609344 = 49.71
  CHECK(print(0.0 * metre) == "0 ft");
  CHECK(print(celsius(40.0)) == "104 °F");  // 40 · 9/5 + 32
  CHECK(print(celsius(0.0)) == "32 °F");
  CHECK(print(celsius(-40.0)) == "-40 °F");
  CHECK(print(10.0 * kilogram) == "22 lb");  // 10 / 0.45359237 = 22.05
  CHECK(print(1.0 * square_metre) == "10.8 ft²");
  CHECK(print(7.98 * ohm_per_kilometre) == "2.43 Ω/kft");  // 7.98 · 0.3048
  CHECK(print(12.0 * volt) == "12 V");
  CHECK(print(5.0 * kelvin) == "5 K");
  CHECK(print(Number(0.03, kind_of<Ratio>)) == "3 %");
  CHECK(print_both(4.0 * metre) == "4 m (13.1 ft)");
  CHECK(print_both(12.0 * volt) == "12 V");
  CHECK(written(4.0 * metre) == "4 m");  // what is read again stays
}

TEST_CASE("a conductor's area has its gauge beside it, and the two between which it lies") {
  // Areas of ASTM B258, tables/conductors/astm-b258.toml: 10 AWG 5.261, 6 AWG 13.30, 4 AWG 21.15,
  // 4/0 107.2 mm²; 250 kcmil are 126.7 mm².
  CHECK(gauge_of(5.261 * square_millimetre) == "10 AWG");
  CHECK(gauge_of(13.3 * square_millimetre) == "6 AWG");
  CHECK(gauge_of(107.2 * square_millimetre) == "4/0 AWG");
  CHECK(gauge_of(16.0 * square_millimetre) == "6–4 AWG");
  CHECK(gauge_of(95.0 * square_millimetre) == "3/0–4/0 AWG");
  CHECK(gauge_of(0.3 * square_millimetre) == "less than 20 AWG");
  CHECK(gauge_of(126.68 * square_millimetre) == "250 kcmil");
  CHECK(print(16.0 * square_millimetre) == "16 mm²");
  const ShowUnits shows(UnitsShown::us);
  CHECK(print(16.0 * square_millimetre) == "16 mm² (6–4 AWG)");
  CHECK(print(0.0 * square_millimetre) == "0 mm²");
}

TEST_CASE("units are shown as long as somebody wants them, and a column's follow") {
  const Unit metres = *unit_named("m"), degrees = *unit_named("°C"), volts = *unit_named("V");
  CHECK(shown_unit(metres).symbol == "m");
  {
    const ShowUnits us(UnitsShown::us);
    CHECK(shown_unit(metres).symbol == "ft");
    CHECK(shown_unit(*unit_named("mm")).symbol == "in");
    CHECK(shown_unit(*unit_named("kg")).symbol == "lb");
    CHECK(shown_unit(degrees).symbol == "°F");
    CHECK(shown_unit(volts).symbol == "V");
    CHECK(shown_unit(*unit_named("mm²")).symbol == "mm²");
    CHECK(shown_unit(Unit{}).symbol.empty());
    CHECK(print_in(celsius(40.0), shown_unit(degrees)) == "104 °F");
    {
      const ShowUnits metric(UnitsShown::metric);
      CHECK(print(4.0 * metre) == "4 m");
    }
    CHECK(print(4.0 * metre) == "13.1 ft");
  }
  CHECK(print(4.0 * metre) == "4 m");
}

TEST_CASE("a column of a table keeps its unit") {
  CHECK(print_in(2000.0 * watt, *unit_named("W")) == "2000 W");
  CHECK(print_in(0.05 * volt, *unit_named("V")) == "0.05 V");
  CHECK(print_in(0.05 * volt, *unit_named("mV"), 1) == "50 mV");
  CHECK(print_in(Number(0.5, kind_of<Ratio>), plain_unit(kind_of<Ratio>)) == "0.5");
  CHECK(print_in(celsius(40.0), *unit_named("°F")) == "104 °F");
}

TEST_CASE("the host's language does not change a number") {
  const std::string before = std::setlocale(LC_NUMERIC, nullptr);
  for (const auto name : {"de_DE.UTF-8", "de_AT.UTF-8", "fr_FR.UTF-8"})  // one with a decimal comma
    if (std::setlocale(LC_NUMERIC, name)) break;                         // where the host has one
  CHECK(print(1.5 * volt) == "1.5 V");
  CHECK(parse_double("1.5") == 1.5);
  CHECK(!parse_double("1,5").has_value());
  std::setlocale(LC_NUMERIC, before.c_str());
}

TEST_CASE("what is printed in any unit reads back as the same value within its digits") {
  for (const Unit& unit : units())
    for (int decade = -9; decade <= 12; ++decade)
      for (const double figure : {1.0, 1.5, 2.3456789, 9.9949, 9.996, -4.2})
        for (const int digits : {1, 3, 6, 15}) {
          const double written = figure * std::pow(10.0, decade);
          const Number number(written * unit.factor + unit.offset, unit.kind);
          if (unit.kind.point && number.si < 30) continue;  // may round below absolute zero
          const std::string in_it = print_in(number, unit, digits), best = print(number, digits);
          CAPTURE(in_it);
          CAPTURE(best);
          for (const std::string& text : {in_it, best}) {
            const auto back = parse_quantity(text, unit.kind);
            REQUIRE(std::holds_alternative<Number>(back));
            // Half a unit of the last digit, at most; of °C and °F the digits count from their
            // nought, which is 273 K and costs a few 1e-14 K.
            const double nought = unit.offset == 0 ? 0 : text == best ? 273.15 : unit.offset;
            const double size = std::abs(number.si - nought);
            const double half = 0.5 * std::pow(10.0, 1 - digits) * size;
            CHECK(std::abs(std::get<Number>(back).si - number.si) <=
                  half * (1 + 1e-9) + 1e-14 * size + (nought == 0 ? 0 : 1e-9));
          }
        }
}

TEST_CASE("printing what was read gives the same text again") {
  for (const auto& [text, kind] : {std::pair<std::string, Kind>{"0.958 V", kind_of<Voltage>},
                                   {"7.98 mΩ/m", kind_of<ResistancePerLength>},
                                   {"40 °C", kind_of<Temperature>},
                                   {"3.2 d", kind_of<Duration>},
                                   {"0.28 %/K", kind_of<PerKelvin>},
                                   {"35 mm²", kind_of<Area>},
                                   {"90 %", kind_of<Ratio>},
                                   {"1.22", kind_of<Ratio>}}) {
    const auto number = parse_quantity(text, kind);
    REQUIRE(std::holds_alternative<Number>(number));
    CHECK(print(std::get<Number>(number)) == text);
  }
}

}  // namespace
}  // namespace housepower::units_print

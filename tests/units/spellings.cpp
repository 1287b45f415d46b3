// SPDX-License-Identifier: Apache-2.0
// The table of units: sizes by definition, spellings that mean the same, names of kinds.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

#include "housepower/units/unit.hpp"

namespace housepower::units_spellings {
namespace {

double si_of(std::string_view symbol) {
  const auto unit = unit_named(symbol);
  REQUIRE_MESSAGE(unit.has_value(), symbol);
  return unit->factor;
}

TEST_CASE("each unit has its defined size") {
  struct Row {
    std::string_view symbol;
    double si;
    std::string_view source;
  };
  // "SI": a prefix or a product of the SI Brochure, 9th edition. "1959": international yard and
  // pound, exact, from memory. "NEC": circular mil, from memory: a circle of 0.001 in across.
  const Row rows[] = {
      {"mV", 0.001, "SI"},
      {"kV", 1000, "SI"},
      {"mA", 0.001, "SI"},
      {"kA", 1000, "SI"},
      {"mΩ", 0.001, "SI"},
      {"µΩ", 0.000001, "SI"},
      {"kΩ", 1000, "SI"},
      {"mΩ/m", 0.001, "SI"},
      {"Ω/km", 0.001, "SI: 1 Ω in 1000 m"},
      {"mΩ/km", 0.000001, "SI"},
      {"Ω/kft", 1.0 / 304.8, "1959: 1000 ft are 304.8 m"},
      {"Ω·mm²/m", 0.000001, "SI"},
      {"kW", 1000, "SI"},
      {"Wh", 3600, "SI: 1 W for 3600 s"},
      {"kWh", 3600000, "SI"},
      {"MJ", 1000000, "SI"},
      {"Ah", 3600, "SI: 1 A for 3600 s"},
      {"mAh", 3.6, "SI"},
      {"cm", 0.01, "SI"},
      {"mm", 0.001, "SI"},
      {"km", 1000, "SI"},
      {"ft", 0.3048, "1959"},
      {"in", 0.0254, "1959"},
      {"mm²", 0.000001, "SI"},
      {"cm²", 0.0001, "SI"},
      {"cmil", 5.067074790975e-10, "NEC: π/4 · (0.0254 mm)² = 5.067 074 790 975e-4 mm²"},
      {"g", 0.001, "SI"},
      {"lb", 0.45359237, "1959"},
      {"min", 60, "SI"},
      {"h", 3600, "SI"},
      {"d", 86400, "SI"},
      {"y", 31536000, "365 · 86400 s"},
      {"°", 0.017453292519943295, "SI: π/180 rad"},
      {"%", 0.01, "SI"},
      {"%/K", 0.01, "SI"},
      {"kWh/m²", 3600000, "SI"},
      {"Wh/m²", 3600, "SI"},
      {"MJ/m²", 1000000, "SI"},
      {"A²s/mm⁴", 1e12, "1 mm⁴ = 1e-12 m⁴"},
      {"g/cm³", 1000, "1 g/cm³ = 1e-3 kg / 1e-6 m³"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.symbol);
    CAPTURE(row.source);
    CHECK(si_of(row.symbol) == doctest::Approx(row.si).epsilon(1e-12));
  }
  for (const auto symbol :
       {"V", "A",   "Ω", "S",   "Ω/m",  "Ω·m",   "W",   "VA",     "J",   "m",   "m²",   "kg",
        "s", "rad", "K", "1/K", "W/m²", "W/m²K", "W/K", "K·m²/W", "A²s", "V/m", "kg/m³"})
    CHECK_MESSAGE(si_of(symbol) == 1.0, symbol);
}

TEST_CASE("temperatures have their fixed points") {
  // 0 °C = 32 °F = 273.15 K and 100 °C = 212 °F: by definition of the scales.
  const Unit fahrenheit = *unit_named("°F");
  CHECK(in_unit(celsius(0.0), fahrenheit) == doctest::Approx(32.0).epsilon(1e-12));
  CHECK(in_unit(celsius(100.0), fahrenheit) == doctest::Approx(212.0).epsilon(1e-12));
  CHECK(in_unit(celsius(-40.0), fahrenheit) == doctest::Approx(-40.0).epsilon(1e-12));
  CHECK(in_unit(celsius(25.0), *unit_named("°C")) == doctest::Approx(25.0).epsilon(1e-12));
}

TEST_CASE("spellings of one unit mean the same") {
  struct Pair {
    std::string_view one, other;
  };
  const Pair pairs[] = {
      {"Ω", "ohm"},           {"\u03A9", "\u2126"}, {"m\u03A9", "mohm"},
      {"m\u2126", "mohm"},    {"\u00B5Ω", "uohm"},  {"\u03BC\u2126", "uohm"},
      {"mΩ/m", "mohm/m"},     {"Ω/kft", "ohm/kft"}, {"mm²", "mm2"},
      {"°C", "degC"},         {"ºC", "degC"},       {"W/m²K", "W/m2K"},
      {"K·m²/W", "K m2/W"},   {"K·m2/W", "K m2/W"}, {"K\u22C5m²/W", "K m2/W"},
      {"A²s/mm⁴", "A2s/mm4"}, {"kg/m³", "kg/m3"},   {"%/K", "%/°C"},
      {"%/K", "%/degC"},      {"°", "deg"},
  };
  for (const Pair& pair : pairs) {
    CAPTURE(pair.one);
    CAPTURE(pair.other);
    const auto one = unit_named(pair.one), other = unit_named(pair.other);
    REQUIRE(one.has_value());
    REQUIRE(other.has_value());
    CHECK(one->kind == other->kind);
    CHECK(one->factor == other->factor);
    CHECK(one->offset == other->offset);
  }
}

TEST_CASE("no spelling stands for two units, and each is found by its own") {
  std::set<std::string> seen;
  for (const Unit& unit : units()) {
    CAPTURE(unit.symbol);
    CHECK(seen.insert(std::string(unit.symbol)).second);
    const auto found = unit_named(unit.symbol);
    REQUIRE(found.has_value());
    CHECK(found->kind == unit.kind);
    CHECK(found->factor == unit.factor);
    CHECK(found->offset == unit.offset);
  }
}

TEST_CASE("each unit can be typed on any keyboard") {
  const auto ascii = [](std::string_view text) {
    return std::all_of(text.begin(), text.end(), [](unsigned char c) { return c < 0x80; });
  };
  for (const Unit& unit : units()) {
    CAPTURE(unit.symbol);
    CHECK(std::any_of(units().begin(), units().end(), [&](const Unit& other) {
      return other.kind == unit.kind && other.factor == unit.factor && ascii(other.symbol);
    }));
  }
}

TEST_CASE("case and prefix matter") {
  for (const auto symbol :
       {"", "v", "a", "KW", "ma", "MA", "AH", "Mm", "mm3", "A ", "1", "ohms", "C"})
    CHECK_MESSAGE(!unit_named(symbol).has_value(), symbol);
}

TEST_CASE("each kind has a plain unit and a name") {
  struct Row {
    Kind kind;
    std::string_view plain, name;
  };
  const Row rows[] = {
      {kind_of<Voltage>, "V", "a voltage"},
      {kind_of<Current>, "A", "a current"},
      {kind_of<Resistance>, "Ω", "a resistance"},
      {kind_of<Conductance>, "S", "a conductance"},
      {kind_of<Length>, "m", "a length"},
      {kind_of<Area>, "mm²", "an area"},
      {kind_of<Mass>, "kg", "a mass"},
      {kind_of<Charge>, "Ah", "a charge"},
      {kind_of<Energy>, "Wh", "an energy"},
      {kind_of<Power>, "W", "a power"},
      {kind_of<Torque>, "N·m", "a torque"},
      {kind_of<Duration>, "s", "a duration"},
      {kind_of<Angle>, "°", "an angle"},
      {kind_of<Ratio>, "1", "a ratio"},
      {kind_of<Temperature>, "°C", "a temperature"},
      {kind_of<TemperatureDifference>, "K", "a temperature difference"},
      {kind_of<ResistancePerLength>, "mΩ/m", "a resistance per length"},
      {kind_of<Resistivity>, "Ω·mm²/m", "a resistivity"},
      {kind_of<LetThrough>, "A²s", "a let-through I²t"},
      {kind_of<AdiabaticConstant>, "A²s/mm⁴", "an adiabatic constant k²"},
      {kind_of<PerKelvin>, "%/K", "a change per kelvin"},
      {kind_of<Irradiance>, "W/m²", "an irradiance"},
      {kind_of<Irradiation>, "kWh/m²", "an irradiation"},
      {kind_of<HeatTransfer>, "W/m²K", "a heat transfer coefficient"},
      {kind_of<IrradianceHeating>, "K·m²/W", "a heating by irradiance"},
      {kind_of<Density>, "kg/m³", "a density"},
      {kind_of<Quotient<Voltage, Length>>, "V/m", "a voltage per length"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.plain);
    CHECK(plain_unit(row.kind).symbol == row.plain);
    CHECK(plain_unit(row.kind).kind == row.kind);
    CHECK(plain_symbol(row.kind) == row.plain);
    CHECK(name_of(row.kind) == row.name);
  }
  for (const Unit& unit : units())
    CHECK_MESSAGE(!plain_unit(unit.kind).symbol.empty(), unit.symbol);
}

TEST_CASE("a kind without a unit of its own is spelled out in SI base units") {
  const Number squared = 2.0 * ampere * (3.0 * ampere);
  CHECK(plain_unit(squared.kind).symbol.empty());
  CHECK(plain_unit(squared.kind).factor == 1.0);
  CHECK(plain_symbol(squared.kind) == "A²");
  CHECK(plain_symbol(kind_of<Quotient<Power, Length>>) == "kg·m·s⁻³");  // W/m
  CHECK(print(squared) == "6 A²");
  CHECK(name_of(squared.kind) == "a quantity of another kind");
}

}  // namespace
}  // namespace housepower::units_spellings

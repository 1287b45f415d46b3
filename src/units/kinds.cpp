// SPDX-License-Identifier: Apache-2.0
// One row for each kind of quantity: how it is named, asked for and printed.
#include "kinds.hpp"

namespace housepower {
namespace kinds {
namespace {

using namespace spellings;

constexpr Unit bare{"1", ratio};

// clang-format off
constexpr auto facts_of_kinds = std::to_array<Facts>({
    {voltage, "a voltage", R"("12.8 V" or "50 mV")", row("V"), "V",
     {{{row("kV"), 1}, {row("V"), 0.1}, {row("mV")}}}},
    {current, "a current", R"("15 A" or "20 mA")", row("A"), "A",
     {{{row("kA"), 1}, {row("A"), 0.1}, {row("mA")}}}},
    {resistance, "a resistance", R"("2 mΩ" or "2 mohm")", row("Ω"), "mohm",
     {{{row("kΩ"), 1}, {row("Ω"), 0.1}, {row("mΩ"), 0.01}, {row("µΩ")}}}},
    {conductance, "a conductance", R"("500 S")", row("S"), "S"},
    {per_length, "a resistance per length", R"("7.98 mΩ/m" or "7.98 ohm/km")", row("mΩ/m"), "mohm/m",
     {}, {{{row("Ω/kft")}}}},
    {resistivity, "a resistivity", R"("0.01724 ohm mm2/m")", row("Ω·mm²/m"), "ohm mm2/m"},
    {power, "a power", R"("45 W" or "2 kW")", row("W"), "W",
     {{{row("kW"), 1}, {row("W"), 0.1}, {row("mW")}}}},
    {energy, "an energy", R"("800 Wh" or "1.5 kWh")", row("Wh"), "Wh",
     {{{row("kWh"), 1}, {row("Wh")}}}},
    {torque, "a torque", R"("10 N m" or "7 lbf ft")", row("N·m"), "N m"},
    {charge, "a charge", R"("100 Ah" or "2500 mAh")", row("Ah"), "Ah",
     {{{row("Ah"), 0.1}, {row("mAh")}}}},
    {length, "a length", R"("3.5 m" or "12 ft")", row("m"), "m",
     {{{row("km"), 10}, {row("m"), 0.1}, {row("mm")}}},
     {{{row("mi"), 10}, {row("ft"), 1}, {row("in")}}}},
    {area, "an area", R"("2.5 mm2" or "1.04 m2")", row("mm²"), "mm2",
     {{{row("m²"), 0.01}, {row("mm²")}}},
     {{{row("ft²"), 0.1}, {row("mm²")}}}},
    {mass, "a mass", R"("11.5 kg" or "25 lb")", row("kg"), "kg", {{{row("kg"), 0.1}, {row("g")}}},
     {{{row("lb")}}}},
    {duration, "a duration", R"("2 h" or "3 d")", row("s"), "h",
     {{{row("y"), 2}, {row("d"), 1}, {row("h"), 1}, {row("min"), 2}, {row("s")}}}},
    {angle, "an angle", R"("15°" or "15 deg")", row("°"), "deg"},
    {ratio, "a ratio", R"("90 %" or 0.9)", bare, "", {{{bare, 1.001}, {row("%")}}}},
    {point, "a temperature", R"("40 °C" or "104 °F")", row("°C"), "°C",
     {}, {{{row("°F")}}}},
    {difference, "a temperature difference", R"("5 K")", row("K"), "K"},
    {per_kelvin, "a change per kelvin", R"("-0.28 %/K")", row("%/K"), "%/K"},
    {voltage_per_kelvin, "a voltage per kelvin", R"("-70 mV/K")", row("mV/K"), "mV/K"},
    {power_per_kelvin, "a power per kelvin", R"("2.5 W/K")", row("W/K"), "W/K"},
    {specific_heat, "a specific heat", R"("1000 J/kgK")", row("J/(kg·K)"), "J/(kg·K)"},
    {irradiance, "an irradiance", R"("1000 W/m2")", row("W/m²"), "W/m2"},
    {irradiation, "an irradiation", R"("4.2 kWh/m2" or "15 MJ/m2")", row("kWh/m²"), "kWh/m2"},
    {heat_transfer, "a heat transfer coefficient", R"("2.5 W/m2K")", row("W/m²K"), "W/m2K"},
    {heating, "a heating by irradiance", R"("0.03 K m2/W")", row("K·m²/W"), "K m2/W"},
    {let_through, "a let-through I²t", R"("12000 A2s")", row("A²s"), "A2s"},
    {adiabatic, "an adiabatic constant k²", R"("13225 A2s/mm4")", row("A²s/mm⁴"), "A2s/mm4"},
    {field_strength, "a voltage per length", R"("0.1 V/m")", row("V/m"), "V/m"},
    {density, "a density", R"("8960 kg/m3")", row("kg/m³"), "kg/m3"},
});
// clang-format on

}  // namespace

const Facts* facts_of(Kind kind) {
  for (const Facts& facts : facts_of_kinds)
    if (facts.kind == kind) return &facts;
  return nullptr;
}

}  // namespace kinds

std::string_view name_of(Kind kind) {
  const auto* facts = kinds::facts_of(kind);
  return facts ? facts->name : "a quantity of another kind";
}

Unit plain_unit(Kind kind) {
  const auto* facts = kinds::facts_of(kind);
  return facts ? facts->plain : Unit{"", kind};
}

std::string plain_symbol(Kind kind) {
  if (const auto* facts = kinds::facts_of(kind)) return std::string(facts->plain.symbol);
  constexpr std::string_view raised[] = {"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"};
  std::string text;
  const auto add = [&](std::string_view base, int exponent) {
    if (exponent == 0) return;
    text += (text.empty() ? "" : "·") + std::string(base) + (exponent < 0 ? "⁻" : "");
    if (exponent == 1) return;
    for (const char digit : std::to_string(exponent < 0 ? -exponent : exponent))
      text += raised[digit - '0'];
  };
  add("kg", kind.kilogram);
  add("m", kind.metre);
  add("s", kind.second);
  add("A", kind.ampere);
  add("K", kind.kelvin);
  add("rad", kind.radian);
  return text;
}

}  // namespace housepower

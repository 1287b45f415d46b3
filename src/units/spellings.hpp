// SPDX-License-Identifier: Apache-2.0
// The table of units, and how spellings compare. Inside the room only; units() is its public door.
//
// Units of one kind stand together: what we print first, then how else it may be typed. Every unit
// has a spelling in plain ASCII. Factors are exact by definition (SI Brochure, 9th edition;
// from memory: international foot, inch and pound, 1 cmil = π/4 · (0.001 in)²).
#pragma once

#include <array>
#include <cstdint>

#include "housepower/units/unit.hpp"

namespace housepower::spellings {

// clang-format off
inline constexpr Kind voltage = kind_of<Voltage>, current = kind_of<Current>,
    resistance = kind_of<Resistance>, conductance = kind_of<Conductance>, length = kind_of<Length>,
    area = kind_of<Area>, mass = kind_of<Mass>, charge = kind_of<Charge>, energy = kind_of<Energy>,
    power = kind_of<Power>, torque = kind_of<Torque>, duration = kind_of<Duration>, angle = kind_of<Angle>,
    ratio = kind_of<Ratio>, difference = kind_of<TemperatureDifference>,
    point = kind_of<Temperature>, per_length = kind_of<ResistancePerLength>,
    resistivity = kind_of<Resistivity>, let_through = kind_of<LetThrough>,
    adiabatic = kind_of<AdiabaticConstant>, per_kelvin = kind_of<PerKelvin>,
    irradiance = kind_of<Irradiance>, irradiation = kind_of<Irradiation>,
    heat_transfer = kind_of<HeatTransfer>, heating = kind_of<IrradianceHeating>,
    density = kind_of<Density>, field_strength = kind_of<Quotient<Voltage, Length>>,
    voltage_per_kelvin = kind_of<Quotient<Voltage, TemperatureDifference>>,
    power_per_kelvin = kind_of<Quotient<Power, TemperatureDifference>>,
    specific_heat = kind_of<Quotient<Quotient<Energy, Mass>, TemperatureDifference>>;

inline constexpr double circular_mil = 3.14159265358979323846 / 4.0 * 2.54e-5 * 2.54e-5;

// 0.45359237 kg · 9.80665 m/s² · 0.3048 m, each exact by definition (from memory).
inline constexpr double pound_force_foot = 0.45359237 * 9.80665 * 0.3048;

inline constexpr auto table = std::to_array<Unit>({
    {"V", voltage}, {"mV", voltage, 1e-3}, {"kV", voltage, 1e3},
    {"A", current}, {"mA", current, 1e-3}, {"kA", current, 1e3},
    {"Ω", resistance}, {"ohm", resistance}, {"kΩ", resistance, 1e3}, {"kohm", resistance, 1e3},
    {"mΩ", resistance, 1e-3}, {"mohm", resistance, 1e-3},
    {"µΩ", resistance, 1e-6}, {"uΩ", resistance, 1e-6}, {"uohm", resistance, 1e-6},
    {"S", conductance},
    {"Ω/m", per_length}, {"ohm/m", per_length},
    {"mΩ/m", per_length, 1e-3}, {"mohm/m", per_length, 1e-3},
    {"Ω/km", per_length, 1e-3}, {"ohm/km", per_length, 1e-3},
    {"mΩ/km", per_length, 1e-6}, {"mohm/km", per_length, 1e-6},
    {"Ω/kft", per_length, 1.0 / 304.8}, {"ohm/kft", per_length, 1.0 / 304.8},
    {"Ω·m", resistivity}, {"ohm m", resistivity},
    {"Ω·mm²/m", resistivity, 1e-6}, {"ohm mm2/m", resistivity, 1e-6},
    {"W", power}, {"mW", power, 1e-3}, {"kW", power, 1e3},
    {"VA", power}, {"kVA", power, 1e3},  // of an inverter's rating; the engine counts them as watts
    {"Wh", energy, 3600.0}, {"kWh", energy, 3.6e6},
    {"J", energy}, {"kJ", energy, 1e3}, {"MJ", energy, 1e6},
    {"Ah", charge, 3600.0}, {"mAh", charge, 3.6},
    {"m", length}, {"cm", length, 1e-2}, {"mm", length, 1e-3}, {"km", length, 1e3},
    {"ft", length, 0.3048}, {"in", length, 0.0254}, {"mi", length, 1609.344},
    {"mm²", area, 1e-6}, {"mm2", area, 1e-6}, {"cm²", area, 1e-4}, {"cm2", area, 1e-4},
    {"m²", area}, {"m2", area}, {"cmil", area, circular_mil}, {"kcmil", area, 1e3 * circular_mil},
    {"ft²", area, 0.3048 * 0.3048}, {"ft2", area, 0.3048 * 0.3048},
    {"N·m", torque}, {"N m", torque}, {"Nm", torque},
    {"lbf·ft", torque, pound_force_foot}, {"lbf ft", torque, pound_force_foot},
    {"lbf·in", torque, pound_force_foot / 12.0}, {"lbf in", torque, pound_force_foot / 12.0},
    {"kg", mass}, {"g", mass, 1e-3}, {"lb", mass, 0.45359237},
    {"s", duration}, {"ms", duration, 1e-3}, {"min", duration, 60.0}, {"h", duration, 3600.0},
    {"d", duration, 86400.0}, {"y", duration, 365.0 * 86400.0},
    {"°", angle, degree.value()}, {"deg", angle, degree.value()}, {"rad", angle},
    {"%", ratio, 1e-2},
    {"°C", point, 1.0, 273.15}, {"degC", point, 1.0, 273.15},
    {"°F", point, 5.0 / 9.0, 459.67 * 5.0 / 9.0}, {"degF", point, 5.0 / 9.0, 459.67 * 5.0 / 9.0},
    {"K", difference},
    {"%/K", per_kelvin, 1e-2}, {"%/°C", per_kelvin, 1e-2}, {"%/degC", per_kelvin, 1e-2},
    {"1/K", per_kelvin},
    {"mV/K", voltage_per_kelvin, 1e-3}, {"V/K", voltage_per_kelvin},
    {"W/m²", irradiance}, {"W/m2", irradiance},
    {"kW/m²", irradiance, 1e3}, {"kW/m2", irradiance, 1e3},
    {"kWh/m²", irradiation, 3.6e6}, {"kWh/m2", irradiation, 3.6e6},
    {"Wh/m²", irradiation, 3600.0}, {"Wh/m2", irradiation, 3600.0},
    {"MJ/m²", irradiation, 1e6}, {"MJ/m2", irradiation, 1e6},
    {"W/m²K", heat_transfer}, {"W/m2K", heat_transfer},
    {"W/(m²·K)", heat_transfer}, {"W/(m2 K)", heat_transfer},
    {"W/K", power_per_kelvin},
    {"J/(kg·K)", specific_heat}, {"J/(kg K)", specific_heat}, {"J/kgK", specific_heat},
    {"K·m²/W", heating}, {"K m2/W", heating},
    {"A²s", let_through}, {"A2s", let_through},
    {"A²s/mm⁴", adiabatic, 1e12}, {"A2s/mm4", adiabatic, 1e12},
    {"V/m", field_strength},
    {"kg/m³", density}, {"kg/m3", density}, {"g/cm³", density, 1e3}, {"g/cm3", density, 1e3},
});
// clang-format on

/// The row of that spelling, while compiling.
consteval Unit row(std::string_view symbol) {
  for (const Unit& unit : table)
    if (unit.symbol == symbol) return unit;
  throw "no such unit in the table";
}

/// Takes the next code point from `rest`. Spellings that look alike become one: the two signs for
/// ohm and for micro, a raised digit and a digit, a no-break space or a dot and a space.
char32_t take_folded(std::string_view& rest);

/// The text without spaces, plain or no-break, at its ends.
std::string_view trimmed(std::string_view text);

/// Code points, not bytes.
int length_of(std::string_view text);

}  // namespace housepower::spellings

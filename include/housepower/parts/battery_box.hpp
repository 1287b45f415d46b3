// SPDX-License-Identifier: Apache-2.0
// The box about the batteries as one heat balance: what passes its walls, what the sun adds, what
// cells and a heater give. One temperature for all cells; they are slow, hours to a day.
#pragma once

#include <cmath>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::parts {

using HeatConductance = Quotient<Power, TemperatureDifference>;
using SpecificHeat = Quotient<Quotient<Energy, Mass>, TemperatureDifference>;
using HeatCapacity = Quotient<Energy, TemperatureDifference>;
inline constexpr HeatTransfer heat_transfer_unit = HeatTransfer::from_value(1.0);  // W/(m²·K)
inline constexpr SpecificHeat specific_heat_unit = SpecificHeat::from_value(1.0);  // J/(kg·K)

inline constexpr Source heat_balance{SourceKind::common_practice, "heat balance of one body", ""};

inline constexpr Formula wall_area{
    "A",
    "outside of the box",
    "2 · (l · w + l · h + w · h)",
    {{"l", "length"}, {"w", "width"}, {"h", "height"}},
    Source{SourceKind::common_practice, "surface of a box", ""},
    [](Length l, Length w, Length h) -> Area { return 2.0 * (l * w + l * h + w * h); }};

inline constexpr Formula wall_conductance{
    "UA",         "heat through the walls for a kelvin",
    "U · A",      {{"U", "heat transfer of the walls"}, {"A", "their area"}},
    heat_balance, [](HeatTransfer u, Area a) -> HeatConductance { return u * a; }};

/// Of a wall: what it is made of and the air on both sides of it.
inline constexpr Formula wall_heat_transfer{
    "U",
    "heat transfer of a wall",
    "1 / (R + R_i + R_e)",
    {{"R", "resistance of its layers, m²·K/W"},
     {"R_i", "of the air inside, 0.13"},
     {"R_e", "of the air outside, 0.04"}},
    Source{SourceKind::from_memory, "ISO 6946", "surface resistances from memory"},
    [](Quotient<Ratio, HeatTransfer> layers, Quotient<Ratio, HeatTransfer> inside,
       Quotient<Ratio, HeatTransfer> outside) -> HeatTransfer {
      return 1.0 / (layers + inside + outside);
    }};

inline constexpr SpecificHeat cell_specific_heat = 1000.0 * specific_heat_unit;
inline constexpr Source cell_specific_heat_source{
    SourceKind::published, "an open LFP parameter example of a research institution",
    "999 to 1001 J/(kg·K), as a university's research code has it"};
inline constexpr Formula time_constant{
    "τ",
    "time constant of the box",
    "m · c / UA",
    {{"m", "mass of the batteries"},
     {"c", "specific heat of the cells"},
     {"UA", "heat through the walls for a kelvin"}},
    heat_balance,
    [](Mass m, SpecificHeat c, HeatConductance ua) -> Duration { return m * c / ua; }};

/// Rise of a steady heat, and the power that holds a temperature.
inline constexpr Formula steady_rise{
    "ΔT",         "rise of the cells over the air about the box",
    "P / UA",     {{"P", "heat in the box"}, {"UA", "heat through the walls for a kelvin"}},
    heat_balance, [](Power p, HeatConductance ua) -> TemperatureDifference { return p / ua; }};
inline constexpr Formula holding_power{"P_hold",
                                       "power that holds the cells at a temperature",
                                       "UA · (T - T_a)",
                                       {{"UA", "heat through the walls for a kelvin"},
                                        {"T", "of the cells, °C"},
                                        {"T_a", "of the air, °C"}},
                                       heat_balance,
                                       [](HeatConductance ua, Temperature cells,
                                          Temperature air) -> Power { return ua * (cells - air); }};

/// A wall in the sun stands in air that seems warmer.
inline constexpr Formula sun_on_wall{
    "ΔT_sun",
    "how much warmer the air seems to a wall in the sun",
    "α · G / h",
    {{"α", "share of the sunshine that the wall takes up"},
     {"G", "irradiance of the wall"},
     {"h", "heat transfer to the air, 17 W/(m²·K) from memory where nothing is stated"}},
    Source{SourceKind::published, "help page of a building-energy program",
           "eq. 28-30, sol-air temperature"},
    [](Ratio absorptance, Irradiance g, HeatTransfer h) -> TemperatureDifference {
      return double(absorptance) * (g / h);
    }};
inline constexpr HeatTransfer to_outside_air = 17.0 * heat_transfer_unit;
/// Under the floor only light from the ground arrives, and the air over ground in full sun is
/// warmer by this.
inline constexpr Ratio light_from_ground = 0.2;
inline constexpr TemperatureDifference warm_ground = TemperatureDifference::from_value(10.0);
inline constexpr Source underfloor_source{
    SourceKind::from_memory, "boxes under the floor",
    "light from the ground a fifth; on hot asphalt 5 to 15 K"};

/// Cells after a time in the box, from a steady state that they approach.
inline constexpr Formula cells_after{
    "T",
    "cells after a time",
    "T_e + (T_0 - T_e) · exp(-t / τ)",
    {{"T_e", "where they tend to, °C"},
     {"T_0", "at the start, °C"},
     {"t", "time"},
     {"τ", "time constant of the box"}},
    heat_balance,
    [](Temperature end, Temperature start, Duration t, Duration constant) -> Temperature {
      return end + (start - end) * std::exp(-double(t / constant));
    }};

/// Mass of one battery where it is not stated.
inline constexpr Formula mass_from_energy{
    "m",
    "mass of the batteries from their energy",
    "E / 3600 / 116",
    {{"E", "rated energy"}},
    Source{SourceKind::published, "a drop-in battery maker's help page",
           "100 Ah 11 kg, 300 Ah 33.1 kg: 116 Wh/kg"},
    [](Energy e) -> Mass { return e / watt_hour / 116.0 * kilogram; }};

/// What the heat balance needs of a design's box; nothing where there is no box with a size.
struct BatteryBox {
  HeatConductance walls{};
  Duration constant{};
  Ratio in_the_sun = 0.0;  // share of the walls that the sun shines on: the top and one long side
};
[[nodiscard]] std::optional<BatteryBox> battery_box(const design::resolved::Bank&,
                                                    Working* = nullptr);

/// Between which a heater keeps the cells: 2 and 5 °C where neither is stated, else 3 K apart.
struct HeaterBounds {
  Temperature on_below, off_above;
};
[[nodiscard]] HeaterBounds heater_bounds(const design::Heater&);

/// How much warmer than the air it is about the box, under that much sun on the level.
[[nodiscard]] TemperatureDifference warmer_about_box(const design::resolved::Bank&,
                                                     const BatteryBox&, Irradiance level);

}  // namespace housepower::parts

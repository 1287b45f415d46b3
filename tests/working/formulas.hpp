// SPDX-License-Identifier: Apache-2.0
// A few formulas to try the workings on. Their figures are stand-ins; the engine's own formulas
// live in the rooms that use them.
#pragma once

#include <algorithm>
#include <cmath>

#include "housepower/working/working.hpp"

namespace housepower::test {

inline constexpr Source handbook{SourceKind::common_practice, "two-wire circuit", "Ohm's law"};

inline constexpr Formula drop{
    "U_drop",
    "voltage lost out and back",
    "2 · L · I · r",
    {{"L", "one-way length"}, {"I", "current"}, {"r", "resistance per length"}},
    handbook,
    [](Length one_way, Current i, ResistancePerLength r) -> Voltage {
      return 2.0 * one_way * i * r;
    }};

inline constexpr Formula resistance_when_warm{
    "r",
    "resistance per length at the conductor's temperature",
    "r20 · (234.5 + T) / 254.5",
    {{"r20", "the same at 20 °C"}, {"T", "temperature"}},
    handbook,
    [](ResistancePerLength r20, Temperature t) -> ResistancePerLength {
      return r20 * (234.5 + in_celsius(t)) / 254.5;
    },
    "from -50 to 250 °C"};

inline constexpr Formula warmed{
    "T",
    "conductor temperature",
    "T_a + (T_max - T_a) · (I / I_z)²",
    {{"T_a", "ambient"}, {"T_max", "limit"}, {"I", "current"}, {"I_z", "ampacity"}},
    handbook,
    [](Temperature ambient, Temperature limit, Current i, Current ampacity) -> Temperature {
      const double load = i / ampacity;
      return ambient + (limit - ambient) * (load * load);
    }};

inline constexpr Formula ambient_factor{
    "k_a",
    "factor for the ambient",
    "min(1, √(max(0, (T_max - T_a) / (T_max - T_base))))",
    {{"T_max", "limit"}, {"T_a", "ambient"}, {"T_base", "base ambient"}},
    handbook,
    [](Temperature limit, Temperature ambient, Temperature base) -> Ratio {
      const double share = (limit - ambient) / (limit - base);
      return std::min(1.0, std::sqrt(std::max(0.0, share)));
    }};

inline constexpr Formula let_through{
    "I²t",    "energy let through",
    "I² · t", {{"I", "current"}, {"t", "time"}},
    handbook, [](Current i, Duration t) -> LetThrough { return i * i * t; }};

inline constexpr Formula withstand{
    "k²S²",    "energy withstood",
    "k² · S²", {{"k²", "adiabatic constant"}, {"S", "area"}},
    handbook,  [](AdiabaticConstant k2, Area s) -> LetThrough { return k2 * s * s; }};

inline constexpr Formula incidence{
    "θ",
    "angle between sun and plane",
    "acos(sin(α) · cos(β))",
    {{"α", "altitude"}, {"β", "tilt"}},
    handbook,
    [](Angle altitude, Angle tilt) -> Angle {
      return std::acos(std::sin(altitude.value()) * std::cos(tilt.value())) * si::radian;
    }};

inline constexpr Formula resistance_seen{
    "R",      "loop resistance",
    "U / I",  {{"U", "voltage"}, {"I", "current"}},
    handbook, [](Voltage u, Current i) -> Resistance { return u / i; }};

inline constexpr Formula reach{
    "L",
    "longest one-way length",
    "U / r / (2 · I)",
    {{"U", "voltage to lose"}, {"r", "resistance per length"}, {"I", "current"}},
    handbook,
    [](Voltage u, ResistancePerLength r, Current i) -> Length { return u / r / (2.0 * i); }};

}  // namespace housepower::test

// SPDX-License-Identifier: Apache-2.0
// The sun's time at a place from the time of its clock: what the stamps of a weather file are held
// against, and what the sun's position starts from.
#pragma once

#include <cmath>

#include "housepower/working/working.hpp"

namespace housepower::tables {

inline constexpr Source duffie_beckman{
    SourceKind::from_memory, "Duffie & Beckman, Solar Engineering of Thermal Processes, 5th ed.",
    "formula from memory, confirmed by its worked examples recomputed"};

/// Angle of the year, 0 on 1 January.
inline constexpr Formula day_angle{"Γ",
                                   "angle of the year",
                                   "360 · (n - 1) / 365",
                                   {{"n", "day of the year, with its fraction"}},
                                   duffie_beckman,
                                   [](Ratio day_number) -> Angle {
                                     return 360.0 * degree * ((double(day_number) - 1.0) / 365.0);
                                   }};

/// Solar time less mean time.
inline constexpr Formula equation_of_time{
    "E",
    "equation of time",
    "60 · 229.18 · (0.000075 + 0.001868 · cos(Γ) - 0.032077 · sin(Γ) - 0.014615 · cos(2 · Γ) - "
    "0.04089 · sin(2 · Γ))",
    {{"Γ", "angle of the year"}},
    Source{SourceKind::from_memory, "Spencer 1971", "series, confirmed by recomputed examples"},
    [](Angle year) -> Duration {
      const double g = year.value();
      return 60.0 * second * 229.18 *
             (0.000075 + 0.001868 * std::cos(g) - 0.032077 * std::sin(g) -
              0.014615 * std::cos(2.0 * g) - 0.04089 * std::sin(2.0 * g));
    }};

/// Solar time from clock time (standard time of the zone).
inline constexpr Formula solar_time{
    "t_s",
    "solar time",
    "t + E + 240 · λ - z",
    {{"t", "standard time"},
     {"E", "equation of time"},
     {"λ", "longitude in degrees, east positive"},
     {"z", "standard time less UTC"}},
    duffie_beckman,
    [](Duration clock, Duration equation, Angle longitude, Duration zone) -> Duration {
      return clock + equation + hour * double(longitude / (15.0 * degree)) - zone;
    }};

inline constexpr Formula hour_angle{
    "ω",
    "hour angle",
    "15 · (t_s / 3600 - 12)",
    {{"t_s", "solar time"}},
    duffie_beckman,
    [](Duration solar) -> Angle { return 15.0 * degree * (double(solar / hour) - 12.0); }};

}  // namespace housepower::tables

// SPDX-License-Identifier: Apache-2.0
// The mean day of a month at a place: its sun and its air by the hour of the clock (standard
// time). What arrays and controllers make of it is counted as what can be taken out of the bank
// again.
#pragma once

#include <array>
#include <optional>

#include "housepower/design/design.hpp"
#include "housepower/energy/irradiation.hpp"
#include "housepower/parts/module.hpp"

namespace housepower::energy {

using ByHour = std::array<Energy, 24>;

/// Light on the cells.
inline constexpr Formula light_left{
    "G",
    "irradiance on the cells",
    "G_T · (1 - s) · f_p · (1 - d)",
    {{"G_T", "light of the plane that enters the modules"},
     {"s", "shaded share in that hour"},
     {"f_p", "share left by the pitch (under trees, part shade: from memory)"},
     {"d", "share lost by dirt"}},
    Source{SourceKind::from_memory, "shares of light", "pitch: open 1, part shade 0.6, trees 0.2"},
    [](Irradiance plane, Ratio shade, Ratio pitch, Ratio soiling) -> Irradiance {
      return plane * ((1.0 - double(shade)) * double(pitch) * (1.0 - double(soiling)));
    }};

inline constexpr Formula array_power{
    "P_a",
    "power of the array at its controller",
    "n · P · f_a · f_y",
    {{"n", "modules"},
     {"P", "power of one"},
     {"f_a", "share left after losses in the array"},
     {"f_y", "share left at the modules' age"}},
    Source{SourceKind::published, "NREL/TP-6A20-62641",
           "default set of losses, as transcribed in a public library; multiplied"},
    [](Ratio modules, Power one, Ratio share, Ratio aged) -> Power {
      return double(modules) * one * double(share) * double(aged);
    }};

/// Whole days on which snow or leaves keep all light off: in the mean day their share is taken off.
inline constexpr Formula uncovered{
    "P_u",
    "mean power of the array over covered and clear days",
    "P_a · (1 - c)",
    {{"P_a", "power of the array"}, {"c", "share of the month's days on which it is covered"}},
    Source{SourceKind::common_practice, "mean over the days", ""},
    [](Power p, Ratio covered) -> Power { return p * (1.0 - double(covered)); }};

inline constexpr Formula stored_energy{
    "E_h",
    "energy of an hour that can be taken out again",
    "P · 3600 · η_s",
    {{"P", "power of the controller"}, {"η_s", "share of charged energy that comes out again"}},
    Source{SourceKind::published, "a battery maker's page",
           "energy efficiency 92-98 %, the middle"},
    [](Power power, Ratio efficiency) -> Energy { return power * hour * double(efficiency); }};

/// Share left between module and controller by what no key of a design states: mismatch 2 %, wiring
/// 2 %, connections 0.5 %, light-induced 1.5 %, nameplate 1 %.
inline constexpr Ratio array_losses = 0.98 * 0.98 * 0.995 * 0.985 * 0.99;
inline constexpr Source array_losses_source{
    SourceKind::published, "NREL/TP-6A20-62641",
    "default set of losses, as transcribed in a public library: mismatch 2, wiring 2, connections "
    "0.5, light-induced 1.5, nameplate 1 %"};
inline constexpr Ratio albedo = 0.2;  // of grass and gravel, from memory
/// Across its rays, from memory: a low sun is no brighter than this.
inline constexpr Irradiance brightest_beam = Irradiance::from_value(1000.0);

struct MeanDay {
  struct Hour {
    Temperature air{};
    Angle altitude{}, azimuth{};   // of the sun, middle of the hour
    Irradiance beam{}, diffuse{};  // on level ground, mean of the hour
    std::optional<parts::Speed> wind{};
  };
  int month = 0;
  Irradiation level{};    // the day's sum that is counted on
  bool measured = false;  // it is the measured one, smaller than that from sunshine or alone
  std::array<Hour, 24> hours{};
};

/// Air by the hour: a cosine between the mean minimum and maximum, warmest at 15 h (from memory).
[[nodiscard]] Temperature air_at(const tables::Town&, int month, int hour_of_day);

/// Factor on the irradiation from sunshine for a month (from memory, see `lowered`).
[[nodiscard]] Ratio sunshine_factor(Angle latitude, int month, Ratio sunshine_share);

[[nodiscard]] MeanDay mean_day(const tables::Town&, int month, Working* = nullptr);
/// At the design's place, with the wind of its weather file; a place must be there.
[[nodiscard]] MeanDay mean_day(const design::Design&, int month, Working* = nullptr);

/// Beam on an array's plane against level ground (R_b), for a sun that is up: bounded, since a low
/// sun is no brighter across its rays than a high one. 1 on level ground.
[[nodiscard]] Ratio beam_ratio_on(const design::resolved::Array&, Ratio incidence, Angle altitude,
                                  Irradiance beam);

/// Light on the cells of an array in an hour: behind the glass, after shade, pitch and soiling.
[[nodiscard]] Irradiance light_on_cells(const design::resolved::Array&, design::Pitch,
                                        const MeanDay::Hour&, int hour_of_day, Working* = nullptr);

struct SolarDay {
  ByHour by_hour{};
  Energy clipped{};  // what the controllers could not take
};
[[nodiscard]] SolarDay solar_day(const design::Design&, const MeanDay&, Working* = nullptr);

/// Share of charged energy that comes out again: published 92–98 %, the middle. It is also the
/// voltage at which the bank is counted (12.8 V) over that at which it charges (13.5 V).
inline constexpr Ratio storage_efficiency = 0.95;
/// Share of the open sky's light by pitch.
[[nodiscard]] Ratio pitch_factor(design::Pitch);

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// From sunshine to the irradiance on an array's plane: the day's sum, its diffuse share, its
// course over the hours, and the tilted plane.
#pragma once

#include <algorithm>

#include "housepower/energy/sun.hpp"

namespace housepower::energy {

/// Daily irradiation of level ground from the hours of bright sunshine.
inline constexpr Formula fao_solar{
    "R_s",
    "irradiation of level ground from sunshine",
    "(0.25 + 0.5 · min(1, n / N)) · R_a",
    {{"R_a", "extraterrestrial irradiation"}, {"n", "bright sunshine"}, {"N", "daylight"}},
    Source{SourceKind::from_memory, "FAO Irrigation and Drainage Paper 56 (1998)",
           "eq. 35 from memory, confirmed by ex. 10, p. 84"},
    [](Irradiation outside, Duration sunshine, Duration daylight) -> Irradiation {
      return (0.25 + 0.5 * std::min(1.0, double(sunshine / daylight))) * outside;
    }};

/// Daily irradiation of level ground from the day's swing of temperature (Hargreaves).
inline constexpr Formula hargreaves_solar{
    "R_s",
    "irradiation of level ground from temperatures",
    "k · √(max(0, T_max - T_min)) · R_a",
    {{"k", "0.16 inland, 0.19 by the sea, 1/√K"},
     {"T_max", "the day's highest"},
     {"T_min", "the day's lowest"},
     {"R_a", "extraterrestrial irradiation"}},
    Source{SourceKind::from_memory, "FAO Irrigation and Drainage Paper 56 (1998)",
           "formula from memory, confirmed by ex. 15, p. 98"},
    [](Ratio k, Temperature highest, Temperature lowest, Irradiation outside) -> Irradiation {
      return double(k) * std::sqrt(std::max(0.0, (highest - lowest).value())) * outside;
    }};

/// The safe side of it (defaults of the product, judged against typical-year files).
inline constexpr Formula lowered{
    "H",
    "irradiation counted on",
    "f · R_s",
    {{"f", "factor for months in which sunshine promises too much"}, {"R_s", "from sunshine"}},
    Source{SourceKind::from_memory, "judgement from a comparison with typical-year files",
           "54 towns, bias +3.6 %, winter poleward of 45° up to +32 %"},
    [](Ratio factor, Irradiation from_sunshine) -> Irradiation {
      return double(factor) * from_sunshine;
    }};

inline constexpr Formula clearness{
    "K",
    "clearness",
    "H / H_0",
    {{"H", "irradiation of level ground"}, {"H_0", "extraterrestrial"}},
    duffie_beckman,
    [](Irradiation level, Irradiation outside) -> Ratio { return level / outside; }};

/// Diffuse share of an hour, a day, a month's mean day, by clearness (Erbs).
[[nodiscard]] Ratio erbs_hourly(Ratio clearness);
[[nodiscard]] Ratio erbs_daily(Ratio clearness, Angle sunset);
inline constexpr Formula erbs_monthly_short_days{
    "D",
    "diffuse share of the month, sunset angle up to 81.4°",
    "min(1, 1.391 - 3.560 · min(K, 0.8) + 4.189 · min(K, 0.8)² - 2.137 · min(K, 0.8)³)",
    {{"K", "clearness of the month"}},
    Source{SourceKind::from_memory, "Erbs, Klein & Duffie 1982",
           "confirmed by recomputed examples"},
    [](Ratio clear) -> Ratio {
      const double k = std::min(double(clear), 0.8);
      return std::min(1.0, 1.391 - 3.560 * k + 4.189 * k * k - 2.137 * k * k * k);
    },
    "K 0.3 to 0.8; below it goes on, at most 1"};
inline constexpr Formula erbs_monthly_long_days{
    "D",
    "diffuse share of the month, sunset angle over 81.4°",
    "min(1, 1.311 - 3.022 · min(K, 0.8) + 3.427 · min(K, 0.8)² - 1.821 · min(K, 0.8)³)",
    {{"K", "clearness of the month"}},
    Source{SourceKind::from_memory, "Erbs, Klein & Duffie 1982",
           "confirmed by recomputed examples"},
    [](Ratio clear) -> Ratio {
      const double k = std::min(double(clear), 0.8);
      return std::min(1.0, 1.311 - 3.022 * k + 3.427 * k * k - 1.821 * k * k * k);
    },
    "K 0.3 to 0.8; below it goes on, at most 1"};
[[nodiscard]] Ratio erbs_monthly(Ratio clearness, Angle sunset, Working* = nullptr);

/// Share of a day's irradiation (r_t), and of its diffuse part (r_d), in the hour around an hour
/// angle. 0 where the sun is down.
[[nodiscard]] Ratio hourly_ratio(Angle hour_angle, Angle sunset);
[[nodiscard]] Ratio diffuse_ratio(Angle hour_angle, Angle sunset);

/// Beam on a tilted plane against level ground (R_b); bounded near sunrise, where the sun stands
/// lower than 1° and the ratio would run away.
inline constexpr Formula beam_ratio{
    "R_b",
    "beam on the plane against level ground",
    "max(0, c) / max(c_z, 0.01745)",
    {{"c", "cosine of the angle of incidence"}, {"c_z", "cosine of the zenith angle"}},
    duffie_beckman,
    [](Ratio incidence, Ratio zenith) -> Ratio {
      return std::max(0.0, double(incidence)) / std::max(double(zenith), 0.01745);
    }};

/// Irradiance of a tilted plane under an evenly bright sky (Liu and Jordan).
inline constexpr Formula isotropic_tilt{
    "G_T",
    "irradiance of the plane",
    "G_b · R_b + G_d · (1 + cos(β)) / 2 + ρ · (G_b + G_d) · (1 - cos(β)) / 2",
    {{"G_b", "beam on level ground"},
     {"G_d", "diffuse on level ground"},
     {"R_b", "beam ratio"},
     {"β", "tilt"},
     {"ρ", "albedo of the ground"}},
    duffie_beckman,
    [](Irradiance beam, Irradiance diffuse, Ratio ratio, Angle tilt, Ratio albedo) -> Irradiance {
      const double c = std::cos(tilt.value());
      return beam * double(ratio) + diffuse * ((1.0 + c) / 2.0) +
             double(albedo) * (beam + diffuse) * ((1.0 - c) / 2.0);
    }};

/// The same behind the glass of a module. What the ground throws back comes from all sides, too.
inline constexpr Formula light_behind_glass{
    "G_T",
    "light of the plane that enters the modules",
    "a · G_b · R_b + f_d · (G_d · (1 + cos(β)) / 2 + ρ · (G_b + G_d) · (1 - cos(β)) / 2)",
    {{"a", "share of the beam left by its angle"},
     {"G_b", "beam on level ground"},
     {"R_b", "beam ratio"},
     {"f_d", "share of diffuse light left"},
     {"G_d", "diffuse on level ground"},
     {"β", "tilt"},
     {"ρ", "albedo of the ground"}},
    duffie_beckman,
    [](Ratio left, Irradiance beam, Ratio ratio, Ratio diffuse_left, Irradiance diffuse, Angle tilt,
       Ratio albedo) -> Irradiance {
      const double c = std::cos(tilt.value());
      return beam * (double(left) * double(ratio)) +
             double(diffuse_left) * (diffuse * ((1.0 + c) / 2.0) +
                                     double(albedo) * (beam + diffuse) * ((1.0 - c) / 2.0));
    }};

/// The same as the first with part of the diffuse light coming from around the sun (Hay and Davies).
inline constexpr Formula hay_davies{"G_T",
                                    "irradiance of the plane",
                                    "(G_b + G_d · A) · R_b + G_d · (1 - A) · (1 + cos(β)) / 2 + "
                                    "ρ · (G_b + G_d) · (1 - cos(β)) / 2",
                                    {{"G_b", "beam on level ground"},
                                     {"G_d", "diffuse on level ground"},
                                     {"R_b", "beam ratio"},
                                     {"A", "beam against extraterrestrial beam"},
                                     {"β", "tilt"},
                                     {"ρ", "albedo of the ground"}},
                                    duffie_beckman,
                                    [](Irradiance beam, Irradiance diffuse, Ratio ratio,
                                       Ratio anisotropy, Angle tilt, Ratio albedo) -> Irradiance {
                                      const double c = std::cos(tilt.value()),
                                                   a = double(anisotropy);
                                      return (beam + diffuse * a) * double(ratio) +
                                             diffuse * ((1.0 - a) * (1.0 + c) / 2.0) +
                                             double(albedo) * (beam + diffuse) * ((1.0 - c) / 2.0);
                                    }};

/// Hay and Davies with the brighter horizon of a clear sky (Reindl).
inline constexpr Formula reindl{
    "G_T",
    "irradiance of the plane",
    "(G_b + G_d · A) · R_b + G_d · (1 - A) · (1 + cos(β)) / 2 · "
    "(1 + √(G_b / max(0.001, G_b + G_d)) · sin(β / 2)³) + ρ · (G_b + G_d) · (1 - cos(β)) / 2",
    {{"G_b", "beam on level ground"},
     {"G_d", "diffuse on level ground"},
     {"R_b", "beam ratio"},
     {"A", "beam against extraterrestrial beam"},
     {"β", "tilt"},
     {"ρ", "albedo of the ground"}},
    Source{SourceKind::from_memory, "Reindl, Beckman & Duffie 1990",
           "formula from memory, confirmed by a public library's test values"},
    [](Irradiance beam, Irradiance diffuse, Ratio ratio, Ratio anisotropy, Angle tilt,
       Ratio albedo) -> Irradiance {
      const double b = beam.value(), d = diffuse.value(), half = std::sin(0.5 * tilt.value());
      const double horizon = std::sqrt(b / std::max(0.001, b + d)) * half * half * half;
      return hay_davies(beam, diffuse, ratio, anisotropy, tilt, albedo) +
             diffuse * ((1.0 - double(anisotropy)) * (1.0 - half * half) * horizon);
    }};

/// An even sky, brighter around the sun and at the horizon the clearer it is (Klucher).
inline constexpr Formula klucher{
    "G_T",
    "irradiance of the plane",
    "G_b · R_b + G_d · (1 + cos(β)) / 2 · "
    "(1 + (1 - (G_d / max(0.001, G_b + G_d))²) · sin(β / 2)³) · "
    "(1 + (1 - (G_d / max(0.001, G_b + G_d))²) · max(0, c)² · max(0, 1 - c_z²)^1.5) + "
    "ρ · (G_b + G_d) · (1 - cos(β)) / 2",
    {{"G_b", "beam on level ground"},
     {"G_d", "diffuse on level ground"},
     {"R_b", "beam ratio"},
     {"c", "cosine of the angle of incidence"},
     {"c_z", "cosine of the zenith angle"},
     {"β", "tilt"},
     {"ρ", "albedo of the ground"}},
    Source{SourceKind::from_memory, "Klucher 1979",
           "formula from memory, confirmed by a public library's test values"},
    [](Irradiance beam, Irradiance diffuse, Ratio ratio, Ratio incidence, Ratio zenith, Angle tilt,
       Ratio albedo) -> Irradiance {
      const double share = diffuse.value() / std::max(0.001, (beam + diffuse).value());
      const double clear = 1.0 - share * share, half = std::sin(0.5 * tilt.value());
      const double facing = std::max(0.0, double(incidence)), c = double(zenith);
      const double brighter =
          (1.0 + clear * half * half * half) *
          (1.0 + clear * facing * facing * std::pow(std::max(0.0, 1.0 - c * c), 1.5));
      return isotropic_tilt(beam, diffuse * brighter, ratio, tilt, 0.0) +
             double(albedo) * (beam + diffuse) * (half * half);
    }};

/// Mean daily irradiation, over a month, of a plane tilted towards the equator (Liu-Jordan, Klein).
[[nodiscard]] Irradiation klein_monthly(Irradiation level, Ratio diffuse_share, Angle latitude,
                                        Angle declination, Angle tilt, Ratio albedo);

}  // namespace housepower::energy

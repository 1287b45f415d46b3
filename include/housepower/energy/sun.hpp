// SPDX-License-Identifier: Apache-2.0
// Where the sun stands, and how much of it would reach level ground without an atmosphere.
// Azimuth is 0° north, 90° east in both hemispheres; hour angle is negative before solar noon.
#pragma once

#include <cmath>

#include "housepower/tables/solar_time.hpp"

namespace housepower::energy {

inline constexpr Irradiance solar_constant = Irradiance::from_value(1367.0);
/// The clock's part of it: see there.
using tables::day_angle;
using tables::duffie_beckman;
using tables::equation_of_time;
using tables::hour_angle;
using tables::solar_time;

inline constexpr Formula cooper_declination{"δ",
                                            "declination of the sun (Cooper)",
                                            "23.45 · sin(360 · (284 + n) / 365)",
                                            {{"n", "day of the year"}},
                                            duffie_beckman,
                                            [](Ratio day_number) -> Angle {
                                              return 23.45 * degree *
                                                     std::sin(360.0 * degree.value() *
                                                              (284.0 + double(day_number)) / 365.0);
                                            },
                                            "daily sums; up to 1.6° off by the hour"};

inline constexpr Formula spencer_declination{
    "δ",
    "declination of the sun (Spencer)",
    "(0.006918 - 0.399912 · cos(Γ) + 0.070257 · sin(Γ) - 0.006758 · cos(2 · Γ) + "
    "0.000907 · sin(2 · Γ) - 0.002697 · cos(3 · Γ) + 0.00148 · sin(3 · Γ)) · 180 / π",
    {{"Γ", "angle of the year"}},
    Source{SourceKind::from_memory, "Spencer 1971", "series, confirmed by recomputed examples"},
    [](Angle year) -> Angle {
      const double g = year.value();
      return Angle::from_value(0.006918 - 0.399912 * std::cos(g) + 0.070257 * std::sin(g) -
                               0.006758 * std::cos(2.0 * g) + 0.000907 * std::sin(2.0 * g) -
                               0.002697 * std::cos(3.0 * g) + 0.00148 * std::sin(3.0 * g));
    }};

/// sin of the altitude, cos of the zenith angle.
inline constexpr Formula zenith_cosine{
    "cos θ_z",
    "cosine of the sun's zenith angle",
    "sin(φ) · sin(δ) + cos(φ) · cos(δ) · cos(ω)",
    {{"φ", "latitude"}, {"δ", "declination"}, {"ω", "hour angle"}},
    duffie_beckman,
    [](Angle phi, Angle delta, Angle omega) -> Ratio {
      return std::sin(phi.value()) * std::sin(delta.value()) +
             std::cos(phi.value()) * std::cos(delta.value()) * std::cos(omega.value());
    }};

[[nodiscard]] Angle sun_altitude(Angle latitude, Angle declination, Angle hour_angle);
[[nodiscard]] Angle sun_azimuth(Angle latitude, Angle declination, Angle hour_angle);

/// Cosine of the angle between the sun and the normal of a plane; negative behind it.
inline constexpr Formula incidence_cosine{
    "cos θ",
    "cosine of the angle of incidence",
    "sin(a) · cos(β) + cos(a) · sin(β) · cos(A - γ)",
    {{"a", "altitude of the sun"},
     {"A", "azimuth of the sun"},
     {"β", "tilt of the plane"},
     {"γ", "azimuth of the plane"}},
    duffie_beckman,
    [](Angle altitude, Angle azimuth, Angle tilt, Angle plane) -> Ratio {
      return std::sin(altitude.value()) * std::cos(tilt.value()) +
             std::cos(altitude.value()) * std::sin(tilt.value()) *
                 std::cos(azimuth.value() - plane.value());
    }};

/// Hour angle of sunset: 0 where the sun stays down, 180° where it stays up.
[[nodiscard]] Angle sunset_angle(Angle latitude, Angle declination);

/// Factor of the sun's distance on the day.
inline constexpr Formula distance_factor{
    "d_r",
    "factor of the sun's distance",
    "1 + 0.033 · cos(360 · n / 365)",
    {{"n", "day of the year"}},
    duffie_beckman,
    [](Ratio day_number) -> Ratio {
      return 1.0 + 0.033 * std::cos(360.0 * degree.value() * double(day_number) / 365.0);
    }};

/// Extraterrestrial irradiation of level ground in a day (H_0), and between two hour angles (I_0).
[[nodiscard]] Irradiation extraterrestrial_day(Angle latitude, Angle declination, Ratio day_number);
[[nodiscard]] Irradiation extraterrestrial_between(Angle latitude, Angle declination,
                                                   Ratio day_number, Angle from, Angle to);

inline constexpr Source fao_outside_source{
    SourceKind::from_memory, "FAO Irrigation and Drainage Paper 56 (1998)",
    "eq. 21 as transcribed in a public library's tests, eq. 23-25 from memory; confirmed by ex. 8, "
    "p. 80"};
inline constexpr Source fao_daylight_source{SourceKind::from_memory,
                                            "FAO Irrigation and Drainage Paper 56 (1998)",
                                            "eq. 34 from memory, confirmed by ex. 8, p. 80"};
/// FAO-56 eq. 21 with its own declination (24) and distance (23), and eq. 34, by day of the year.
[[nodiscard]] Irradiation fao_extraterrestrial(Angle latitude, Ratio day_number);
[[nodiscard]] Duration fao_daylight(Angle latitude, Ratio day_number);

/// Position of the sun good to 0.01° from 1950 to 2050, between 66° S and 66° N; no refraction, seen
/// from the ground. `since_2000` counts from noon UT on 1 January 2000.
struct SunPosition {
  Angle altitude{}, azimuth{}, declination{};
};
[[nodiscard]] SunPosition sun_position(Duration since_2000, Angle latitude, Angle longitude);
/// Time from noon UT on 1 January 2000 to a moment of the Gregorian calendar, 1901 to 2099.
[[nodiscard]] Duration since_2000(int year, int month, int day_of_month, Duration universal_time);

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// Sun and air of a month's mean day, from a town's sunshine, or its weather hour by hour, and
// temperatures.
#include "housepower/energy/mean_day.hpp"

#include <array>

#include "housepower/tables/weather_file.hpp"

namespace housepower::energy {
namespace {

constexpr std::array<int, 13> first_days{1,   32,  60,  91,  121, 152, 182,
                                         213, 244, 274, 305, 335, 366};
/// Days whose sun is the month's mean (Klein; as printed with Duffie & Beckman example 2.20.1).
constexpr std::array<double, 12> klein_day{17.0,  47.0,  75.0,  105.0, 135.0, 162.0,
                                           198.0, 228.0, 258.0, 288.0, 318.0, 344.0};

struct Outside {
  Irradiation irradiation{};
  Duration daylight{};
};
/// Mean over every day of the month: the middle of the month is up to 8 % off.
Outside outside_of(Angle latitude, std::size_t month) {
  Outside mean;
  const int first = first_days[month], end = first_days[month + 1];
  for (int n = first; n < end; ++n) {
    mean.irradiation += fao_extraterrestrial(latitude, double(n)) / double(end - first);
    mean.daylight += fao_daylight(latitude, double(n)) / double(end - first);
  }
  return mean;
}

Irradiation counted_on(const tables::Town& town, std::size_t month, const Outside& outside,
                       bool& is_measured, Working* working) {
  if (town.only_measured && town.measured) {
    is_measured = true;
    return given(working, "H", "irradiation counted on, as the weather file has it",
                 (*town.measured)[month], town.source);
  }
  const auto ra = given(working, "R_a", "extraterrestrial irradiation, mean of the month's days",
                        outside.irradiation, fao_outside_source);
  const auto hours = given(working, "N", "daylight, mean of the month's days", outside.daylight,
                           fao_daylight_source);
  const auto sunshine =
      given(working, "n", "bright sunshine a day", town.sunshine[month], town.source);
  const auto promised = step(working, fao_solar, ra, sunshine, hours);
  const auto factor =
      given(working, "f", "factor on the irradiation from sunshine",
            sunshine_factor(town.latitude, int(month), sunshine / hours), lowered.source);
  const auto safe = step(working, lowered, factor, promised);
  if (!town.measured) return safe;
  is_measured = (*town.measured)[month] < safe;
  return smallest<Irradiation>(
      working, "H", "irradiation counted on, the smaller",
      {{"from sunshine", safe}, {"typical year", (*town.measured)[month]}});
}

}  // namespace

Temperature air_at(const tables::Town& town, int month, int hour_of_day) {
  const Temperature low = town.lowest[std::size_t(month)];
  const TemperatureDifference swing = town.highest[std::size_t(month)] - low;
  const double phase = 15.0 * degree.value() * (hour_of_day + 0.5 - 15.0);
  return low + swing * (0.5 + 0.5 * std::cos(phase));
}

Ratio sunshine_factor(Angle latitude, int month, Ratio sunshine_share) {
  if (sunshine_share < 0.20) return 0.75;
  if (std::abs(latitude.value()) < 45.0 * degree.value()) return 0.90;
  const bool april_or_october = month == 3 || month == 9;
  if (april_or_october) return 0.87;
  const bool april_to_october = month > 3 && month < 9;
  const bool dark_half = latitude.value() > 0.0 ? !april_to_october : april_to_october;
  return dark_half ? 0.75 : 0.90;
}

MeanDay mean_day(const tables::Town& town, int month, Working* working) {
  MeanDay result;
  result.month = month;
  const auto m = std::size_t(month);
  for (int h = 0; h < 24; ++h) result.hours[std::size_t(h)].air = air_at(town, month, h);

  const Outside outside = outside_of(town.latitude, m);
  if (outside.irradiation.value() <= 0.0 || outside.daylight.value() <= 0.0) return result;
  result.level = counted_on(town, m, outside, result.measured, working);

  const Ratio n = klein_day[m];
  const Angle declination = cooper_declination(n);
  const Angle sunset = sunset_angle(town.latitude, declination);
  const Ratio clear = step(working, clearness, result.level, outside.irradiation);
  const Ratio diffuse_share = erbs_monthly(clear, sunset, working);

  std::array<Angle, 24> angle;
  double global_sum = 0.0, diffuse_sum = 0.0;  // so that the hours add up to the day
  for (std::size_t h = 0; h < 24; ++h) {
    const Duration clock = (double(h) + 0.5) * hour;
    const Angle omega =
        hour_angle(solar_time(clock, equation_of_time(day_angle(n)), town.longitude, town.zone));
    angle[h] = Angle::from_value(std::remainder(omega.value(), 360.0 * degree.value()));
    global_sum += double(hourly_ratio(angle[h], sunset));
    diffuse_sum += double(diffuse_ratio(angle[h], sunset));
  }
  if (global_sum <= 0.0 || diffuse_sum <= 0.0) return result;
  for (std::size_t h = 0; h < 24; ++h) {
    MeanDay::Hour& at = result.hours[h];
    at.altitude = sun_altitude(town.latitude, declination, angle[h]);
    at.azimuth = sun_azimuth(town.latitude, declination, angle[h]);
    const Irradiance global =
        result.level * (double(hourly_ratio(angle[h], sunset)) / global_sum) / hour;
    const Irradiance diffuse = result.level * double(diffuse_share) *
                               (double(diffuse_ratio(angle[h], sunset)) / diffuse_sum) / hour;
    at.diffuse = std::min(global, diffuse);
    at.beam = global - at.diffuse;
  }
  return result;
}

MeanDay mean_day(const design::Design& design, int month, Working* working) {
  MeanDay result = mean_day(*design->site.town, month, working);
  const auto* file = design->site.hourly;
  if (!file || file->wind.empty()) return result;
  const auto m = std::size_t(month);
  const int days = first_days[m + 1] - first_days[m];
  for (std::size_t h = 0; h < 24; ++h) {
    parts::Speed mean{};
    for (int y = 0; y < file->years; ++y)
      for (int d = first_days[m]; d < first_days[m + 1]; ++d)
        mean += file->wind[std::size_t((y * 365 + d - 1) * 24) + h] / double(days * file->years);
    result.hours[h].wind = mean;
  }
  return result;
}

Ratio pitch_factor(design::Pitch pitch) {
  switch (pitch) {
  case design::Pitch::open: return 1.0;
  case design::Pitch::part_shade: return 0.6;   // from memory
  case design::Pitch::under_trees: return 0.2;  // from memory
  }
  return 0.2;
}

Ratio beam_ratio_on(const design::resolved::Array& array, Ratio incidence, Angle altitude,
                    Irradiance beam) {
  if (!(array.tilt.value() > 0.0)) return 1.0;
  const Ratio ratio = beam_ratio(incidence, std::sin(altitude.value()));
  if (!(beam.value() > 0.0)) return ratio;
  return std::min(double(ratio), std::max(0.0, double(incidence)) * double(brightest_beam / beam));
}

Irradiance light_on_cells(const design::resolved::Array& array, design::Pitch pitch,
                          const MeanDay::Hour& at, int hour_of_day, Working* working) {
  // A sun that is down in the middle of its hour shines from nowhere that is known: no beam.
  const Ratio incidence = at.altitude.value() > 0.0
                              ? incidence_cosine(at.altitude, at.azimuth, array.tilt, array.azimuth)
                              : Ratio(0.0);
  given(working, "c", "cosine of the sun's angle to the plane, in its brightest hour", incidence,
        incidence_cosine.source);
  const Ratio left = step(working, parts::angle_left, incidence);
  const Ratio ratio =
      given(working, "R_b", "beam on the plane against level ground",
            beam_ratio_on(array, incidence, at.altitude, at.beam), beam_ratio.source);
  const Ratio diffuse_left = given(working, "f_d", "share of diffuse light left",
                                   parts::diffuse_left, parts::diffuse_left_source);
  const Irradiance plane = step(working, light_behind_glass, left, at.beam, ratio, diffuse_left,
                                at.diffuse, array.tilt, albedo);
  return step(working, light_left, plane, array.shade[std::size_t(hour_of_day)],
              pitch_factor(pitch), array.soiling);
}

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// What the stamps of a weather file mean for its radiation: no reading is taken on trust, each is
// held against the file's own sunshine, whose clear days centre on the sun's noon.
#include <algorithm>
#include <cmath>

#include "housepower/tables/solar_time.hpp"
#include "weather_file.hpp"

namespace housepower::tables::weather {
namespace {

constexpr std::size_t days_of_year = 365;
/// Clear: a day that has nine tenths of the sunniest within a fortnight (from memory).
constexpr double clear_share = 0.9;
constexpr std::size_t fortnight = 14;

double wrapped(double hours) { return std::remainder(hours, 24.0); }

std::vector<double> sums_of_days(const std::vector<double>& global) {
  std::vector<double> sums(global.size() / 24);
  for (std::size_t i = 0; i < sums.size() * 24; ++i) sums[i / 24] += global[i];
  return sums;
}

/// Hours by which the light of the clear days stands behind the sun's noon, if each row counts for
/// the middle of its hour and `zone` is that of its clock. Nothing where no day has light.
std::optional<double> behind_noon(const std::vector<double>& global, Angle longitude,
                                  Duration zone) {
  const auto sums = sums_of_days(global);
  double east = 0.0, south = 0.0;  // of the light, by its hour angle
  for (std::size_t d = 0; d < sums.size(); ++d) {
    const auto from = sums.begin() + std::ptrdiff_t(d < fortnight ? 0 : d - fortnight);
    const auto to = sums.begin() + std::ptrdiff_t(std::min(d + fortnight + 1, sums.size()));
    if (sums[d] <= 0.0 || sums[d] < clear_share * *std::max_element(from, to)) continue;
    const Duration equation = equation_of_time(day_angle(double(d % days_of_year) + 1.5));
    for (std::size_t h = 0; h < 24; ++h) {
      const double omega =
          hour_angle(solar_time((double(h) + 0.5) * hour, equation, longitude, zone)).value();
      east += global[d * 24 + h] / sums[d] * std::sin(omega);
      south += global[d * 24 + h] / sums[d] * std::cos(omega);
    }
  }
  if (east == 0.0 && south == 0.0) return std::nullopt;
  return std::atan2(east, south) / (15.0 * degree.value());
}

Clock clock(double shift, bool universal, std::string_view read_as) {
  return {shift * hour, universal, read_as, {}};
}

/// The format's own reading first. Hours of the shift: from the middle of the row's hour to the
/// moment, or the middle of the hour, that its radiation is of.
std::vector<Clock> readings(const Layout& layout, const WeatherFile& place) {
  std::vector<Clock> all{clock(0.0, false, "")};
  if (layout.time_offset) {
    const double o = *layout.time_offset;
    all = {clock(0.5 + o, false, "by the offset in its heading"),
           clock(0.5 - o, false, "by the offset in its heading, its sign turned"),
           clock(-0.5 + o, false, "by the offset in its heading, from the hour's beginning"),
           clock(-0.5 - o, false,
                 "by the offset in its heading, its sign turned, from the hour's beginning"),
           clock(0.0, false, "as the mean of the hour that ends at the stamp")};
  }
  all.push_back(clock(0.5, false, "as that of the moment of the stamp"));
  all.push_back(clock(-0.5, false, "as that of the moment an hour before the stamp"));
  all.push_back(clock(1.0, false, "as the mean of the hour that begins at the stamp"));
  if (std::abs(place.zone / hour) >= 1.0) {
    const std::size_t local = all.size();
    for (std::size_t i = 0; i < local; ++i)
      all.push_back(clock(all[i].shift / hour, true, all[i].read_as));
  }
  return all;
}

}  // namespace

Clock clock_of(const std::vector<double>& global, const Layout& layout, const WeatherFile& place) {
  const auto local = behind_noon(global, place.longitude, place.zone);
  const auto universal = behind_noon(global, place.longitude, 0.0 * hour);
  if (!local || !universal) return clock(0.0, layout.universal_time, "");
  if (layout.universal_time) {  // it tells no moment: any within the hour is one
    Clock c = clock(std::clamp(-*universal, -0.5, 0.5), true, "");
    c.left = wrapped(*universal + c.shift / hour) * hour;
    if (!c.centred()) c.shift = c.shift - c.left;
    return c;
  }
  auto all = readings(layout, place);
  for (Clock& c : all)
    c.left = wrapped((c.universal_time ? *universal : *local) + c.shift / hour) * hour;
  const auto off = [](const Clock& c) { return std::abs(c.left / hour); };
  const auto nearest =
      std::min_element(all.begin(), all.end(),
                       [&](const Clock& a, const Clock& b) { return off(a) < off(b) - 1e-9; });
  if (all.front().centred()) return all.front();
  if (nearest->centred()) return *nearest;
  Clock as_it_looks = all.front();  // `left` stays, to be told
  as_it_looks.shift = as_it_looks.shift - as_it_looks.left;
  return as_it_looks;
}

}  // namespace housepower::tables::weather

// SPDX-License-Identifier: Apache-2.0
// Hourly weather as a row of the climate table.
#include <algorithm>

#include "housepower/tables/weather_file.hpp"

namespace housepower::tables {
namespace {

constexpr std::array<std::size_t, 13> first_day{0,   31,  59,  90,  120, 151, 181,
                                                212, 243, 273, 304, 334, 365};

/// Sums over the days of a month, of all years.
struct Month {
  double highest = 0.0, lowest = 0.0, irradiation = 0.0, days = 0.0;  // °C and J/m²
};

Month month_of(const WeatherFile& file, std::size_t month) {
  Month sums;
  for (std::size_t i = 0; i < file.air.size() / 24; ++i) {
    const std::size_t of_year = i % 365;
    if (of_year < first_day[month] || of_year >= first_day[month + 1]) continue;
    const auto air = file.air.begin() + std::ptrdiff_t(24 * i);
    const auto [low, high] = std::minmax_element(air, air + 24);
    sums.lowest += in_celsius(*low);
    sums.highest += in_celsius(*high);
    for (std::size_t h = 0; h < 24; ++h)
      sums.irradiation += (file.global[24 * i + h] * hour).value();
    sums.days += 1.0;
  }
  return sums;
}

}  // namespace

Town town_of(const WeatherFile& file) {
  Town town{};
  town.name = file.file;
  town.title = file.title;
  town.latitude = file.latitude;
  town.longitude = file.longitude;
  town.elevation = file.elevation;
  town.zone = file.zone;
  town.measured.emplace();
  town.only_measured = true;
  for (std::size_t m = 0; m < 12; ++m) {
    const Month sums = month_of(file, m);
    town.highest[m] = celsius(sums.highest / sums.days);
    town.lowest[m] = celsius(sums.lowest / sums.days);
    (*town.measured)[m] = Irradiation::from_value(sums.irradiation / sums.days);
  }
  if (!file.air.empty()) town.record_low = *std::min_element(file.air.begin(), file.air.end());
  town.quality = file.kind == WeatherFile::Kind::measured ? "measured, hour by hour"
                                                          : "typical year, hour by hour";
  town.note = "record low: the lowest hour of the file, not of all time";
  town.source = file.source;
  return town;
}

}  // namespace housepower::tables

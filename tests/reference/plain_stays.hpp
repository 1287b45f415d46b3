// SPDX-License-Identifier: Apache-2.0
// How long a bank without losses lasts in the weather of a month, full on arrival: what the sun does
// to a stay, and nothing else. Energy counts in loads of a day.
#pragma once

#include <algorithm>
#include <vector>

#include "housepower/energy/kernel.hpp"
#include "housepower/energy/weather.hpp"

namespace housepower::energy::test {

/// Wh/m² of level ground in the mean day of a month of one year.
inline double mean_sun(const Weather& w, int year, int month) {
  const int first = month_begins[std::size_t(month)],
            days = month_begins[std::size_t(month) + 1] - first;
  Spell s;
  w.spell(year, first, days, s);
  double sun = 0.0;
  for (const Irradiance& g : s.level) sun += g.value() / days;
  return sun;
}

/// An array that gives `array` loads under `mean_sun` Wh/m², a store of so many loads.
struct PlainVan {
  double array = 1.0, mean_sun = 1.0, store = 1.0;
};

/// Days that it lasts from each day of a month on, by year; at most 30.
inline std::vector<std::vector<double>> lengths(const Weather& w, int month, const PlainVan& van) {
  constexpr int longest_days = 30;
  kernel::Plant plant;
  plant.capacity_Wh = van.store;
  plant.accepts_W.fill(1e30);
  const int first = month_begins[std::size_t(month)],
            starts = month_begins[std::size_t(month) + 1] - first;
  std::vector<std::vector<double>> all;
  Spell s;
  for (int y = 0; y < w.years(); ++y) {
    w.spell(y, first, starts - 1 + longest_days, s);
    const std::vector<double> load(s.level.size(), 1.0 / 24.0), air(load.size(), 20.0),
        others(load.size(), 0.0);
    std::vector<double> sun;
    for (const Irradiance& g : s.level) sun.push_back(van.array * g.value() / van.mean_sun);
    kernel::Hours hours{sun, air, {}, 1, others};
    hours.load_W[0] = load;
    auto& of_year = all.emplace_back();
    for (int start = 0; start < starts; ++start) {
      kernel::Outcome o;
      kernel::run(hours, start * 24, longest_days * 24, {&plant, 1}, {&o, 1}, true);
      of_year.push_back(o.lasted_h / 24.0);
    }
  }
  return all;
}

/// The length that a share of stays reaches.
inline double reached(std::vector<double> stays, double share) {
  std::sort(stays.begin(), stays.end());
  return stays[std::size_t((1.0 - share) * double(stays.size()) + 1e-9)];
}

}  // namespace housepower::energy::test

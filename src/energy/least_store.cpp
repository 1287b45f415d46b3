// SPDX-License-Identifier: Apache-2.0
// The pass over the hours, and the count of stays that a bank could last.
#include "housepower/energy/least_store.hpp"

#include <algorithm>

namespace housepower::energy {
namespace {

/// Wh of one stay: what the store lacks against its arrival, and against its highest charge.
struct Lacking {
  double below_arrival = 0.0, below_highest = 0.0;
};

Lacking lacking(const kernel::Hours& hours, int first, int days) {
  Lacking most;
  double now = 0.0, drawn = 0.0;  // against arrival; against the highest charge so far
  const double stored = double(storage_efficiency);
  int midnights = 0;
  for (int h = 0; h < days * 24; ++h) {
    if (h > 0 && (first + h) % 24 == 0) ++midnights;
    const auto pattern = hours.patterns == 1 ? 0 : (hours.phase + midnights) % hours.patterns;
    const auto at = std::size_t(first + h);
    const double net =
        hours.sun_W[at] + hours.others_W[std::size_t(h)] - hours.load_W[std::size_t(pattern)][at];
    const double change = net > 0.0 ? net * stored : net;
    now += change;
    drawn = std::max(0.0, drawn - change);
    most.below_arrival = std::max(most.below_arrival, -now);
    most.below_highest = std::max(most.below_highest, drawn);
  }
  return most;
}

}  // namespace

LeastStore least_store(const Surroundings& surroundings, const StayQuestion& q, const Each& each) {
  const auto m = std::size_t(q.month);
  const int starts = (month_begins[m + 1] - month_begins[m] + q.every - 1) / q.every;
  const int years = surroundings.weather().years();
  LeastStore store;
  store.below_arrival.resize(std::size_t(years * starts));
  store.below_highest.resize(std::size_t(years * starts));
  const int arrives = q.arrives.value_or(surroundings.arrives());
  const auto others =
      surroundings.others(q.charging.value_or(surroundings.charging()), q.longest_days, arrives);
  each(years, [&](int year) {
    Buffers buffers;
    surroundings.fill(year, month_begins[m], days_of_weather(q, starts, arrives), buffers);
    auto hours = buffers.hours(others, surroundings.patterns());
    for (int start = 0; start < starts; ++start) {
      const auto at = std::size_t(year * starts + start);
      hours.phase = int(at % 7);
      const auto one = lacking(hours, start * q.every * 24 + arrives, q.longest_days);
      store.below_arrival[at] = one.below_arrival * watt_hour;
      store.below_highest[at] = one.below_highest * watt_hour;
    }
  });
  return store;
}

Ratio lasting_at_best(const LeastStore& store, const kernel::Plant& plant) {
  const double empty = *std::min_element(plant.empty.begin(), plant.empty.end());
  const Energy a_little = 1e-6 * watt_hour;  // rounding of two ways to add the same hours
  const Energy arrival = plant.capacity_Wh * (plant.arrive - empty) * watt_hour + a_little;
  const Energy full = plant.capacity_Wh * (1.0 - empty) * watt_hour + a_little;
  std::size_t last = 0;
  for (std::size_t i = 0; i < store.below_arrival.size(); ++i)
    last += store.below_arrival[i] <= arrival && store.below_highest[i] <= full;
  return store.below_arrival.empty() ? Ratio(1.0)
                                     : Ratio(double(last) / double(store.below_arrival.size()));
}

}  // namespace housepower::energy

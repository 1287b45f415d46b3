// SPDX-License-Identifier: Apache-2.0
#include "housepower/energy/stays_seen.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace housepower::energy {
namespace {

/// Numbers of the stays, the shortest first; of equal ones that which came nearest to empty.
std::vector<int> from_the_worst(const Stays& s) {
  std::vector<int> order(std::size_t(s.years * s.starts));
  std::iota(order.begin(), order.end(), 0);
  const auto outcome = [&](int i) -> const kernel::Outcome& {
    return s.at(i / s.starts, i % s.starts, 0);
  };
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    const auto &x = outcome(a), &y = outcome(b);
    return x.lasted_h != y.lasted_h ? x.lasted_h < y.lasted_h : x.lowest < y.lowest;
  });
  return order;
}

StayTrace traced(const Surroundings& surroundings, const StayQuestion& q, const Stays& s,
                 const kernel::Plant& plant, int number, Duration at_least) {
  StayTrace t;
  t.year = number / s.starts;
  const int start = number % s.starts;
  t.arrives = 1 + start * q.every;
  const auto& outcome = s.at(t.year, start, 0);
  t.lasted = outcome.lasted_h * hour;
  t.ended = outcome.ended;
  const double shown = std::max(outcome.lasted_h / 24.0 + 1.0, double(at_least / day));
  const int days = std::min(q.longest_days, int(std::ceil(shown - 1e-9)));
  const int arrives = q.arrives.value_or(surroundings.arrives());
  const Charging charging = q.charging.value_or(surroundings.charging());
  const auto others = surroundings.others(charging, q.longest_days, arrives);
  Buffers buffers;
  // The weather of the whole month, as simulated: a spell that began later would be another one.
  const int before = start * q.every;
  surroundings.fill(t.year, month_begins[std::size_t(q.month)], before + days + 1, buffers);
  std::vector<double> shares(std::size_t(days) * 24);
  auto hours = buffers.hours(others, surroundings.patterns());
  hours.phase = number % 7;
  kernel::trace(hours, before * 24 + arrives, surroundings.charged_here(plant, charging), shares);
  t.charge.assign(shares.begin(), shares.end());
  return t;
}

std::vector<Duration> lengths_of(const Stays& s, int plant) {
  std::vector<Duration> lengths;
  for (int year = 0; year < s.years; ++year)
    for (int start = 0; start < s.starts; ++start)
      lengths.push_back(s.at(year, start, plant).lasted_h * hour);
  return lengths;
}

}  // namespace

std::optional<StaysSeen> stays_seen(const design::Design& design, const Surroundings& surroundings,
                                    const StayQuestion& q, const Each& each) {
  if (!design->bank) return std::nullopt;
  const std::array plants{*plant_of(design, design->promise.bank_age),
                          *plant_of(design, 0.0 * year)};
  const Stays s = simulate(surroundings, q, plants, each);
  StaysSeen seen;
  seen.month = q.month;
  seen.longest = double(q.longest_days) * day;
  seen.lengths = lengths_of(s, 0), seen.lengths_when_new = lengths_of(s, 1);
  const auto order = from_the_worst(s);
  const Duration promised = design->promise.stay.value_or(0.0 * day);
  const auto trace_of = [&](int number) {
    return traced(surroundings, q, s, plants[0], number, promised);
  };
  seen.worst = trace_of(order.front());
  seen.typical = trace_of(order[(order.size() - 1) / 2]);
  return seen;
}

}  // namespace housepower::energy

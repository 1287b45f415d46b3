// SPDX-License-Identifier: Apache-2.0
// Many stays, and what they say together.
#include "housepower/energy/stay.hpp"

#include <algorithm>
#include <cmath>

namespace housepower::energy {
namespace {

/// Starts and last days of a month's stays.
struct Dates {
  int first = 0, starts = 0;
};
Dates dates_of(const StayQuestion& q) {
  const auto m = std::size_t(q.month);
  const int days = month_begins[m + 1] - month_begins[m];
  return {month_begins[m], (days + q.every - 1) / q.every};
}

double z_95() { return 1.959963985; }

/// Wilson's interval for a share of n independent trials.
std::array<double, 2> wilson(double p, double n) {
  const double z = z_95(), w = z * z / n;
  const double middle = (p + w / 2.0) / (1.0 + w);
  const double half = z * std::sqrt(p * (1.0 - p) / n + w / (4.0 * n)) / (1.0 + w);
  return {std::max(0.0, middle - half), std::min(1.0, middle + half)};
}

/// How many independent stays the variance between years leaves; at least one a year.
double independent(const Stays& s, int plant, double hours) {
  double mean = 0.0, squares = 0.0;
  for (int y = 0; y < s.years; ++y) {
    double lasted = 0.0;
    for (int start = 0; start < s.starts; ++start)
      lasted += s.at(y, start, plant).lasted_h >= hours;
    lasted /= s.starts;
    mean += lasted / s.years;
    squares += lasted * lasted;
  }
  const double variance = std::max(0.0, squares / s.years - mean * mean) / std::max(1, s.years - 1);
  const double all = double(s.years) * s.starts;
  if (variance <= 0.0) return s.years;
  return std::clamp(mean * (1.0 - mean) / variance, double(s.years), all);
}

std::vector<double> sorted_lengths(const Stays& s, int plant) {
  std::vector<double> hours;
  for (int y = 0; y < s.years; ++y)
    for (int start = 0; start < s.starts; ++start) hours.push_back(s.at(y, start, plant).lasted_h);
  std::sort(hours.begin(), hours.end());
  return hours;
}

/// The largest length that at least this share reaches.
double order_statistic(const std::vector<double>& sorted, double share) {
  const double below = (1.0 - share) * double(sorted.size());
  const auto k =
      std::size_t(std::clamp(std::floor(below + 1e-9), 0.0, double(sorted.size()) - 1.0));
  return sorted[k];
}

}  // namespace

void one_after_another(int count, const std::function<void(int)>& f) {
  for (int i = 0; i < count; ++i) f(i);
}

Stays simulate(const Surroundings& surroundings, const StayQuestion& q,
               std::span<const kernel::Plant> plants, const Each& each) {
  const Dates dates = dates_of(q);
  Stays s{surroundings.weather().years(), dates.starts, int(plants.size()), q.longest_days, {}};
  s.all.resize(std::size_t(s.years) * std::size_t(s.starts) * plants.size());
  const Charging charging = q.charging.value_or(surroundings.charging());
  const auto others = surroundings.others(charging, q.longest_days);
  each(s.years, [&](int year) {
    Buffers buffers;
    const int last = (dates.starts - 1) * q.every + q.longest_days;
    surroundings.fill(year, dates.first, last, buffers, q.without_sun);
    const auto hours = buffers.hours(others, surroundings.patterns());
    for (int start = 0; start < s.starts; ++start)
      kernel::run(hours, start * q.every * 24, q.longest_days * 24, plants,
                  {&s.all[std::size_t((year * s.starts + start) * s.plants)], plants.size()},
                  q.until_empty);
  });
  return s;
}

Share lasting(const Stays& s, int plant, Duration at_least) {
  const double hours = at_least / hour - 1e-6;
  double all = 0.0;
  for (int y = 0; y < s.years; ++y)
    for (int start = 0; start < s.starts; ++start) all += s.at(y, start, plant).lasted_h >= hours;
  Share share{all / (double(s.years) * s.starts), {}};
  if (s.years < 10) return share;
  const auto bounds = wilson(double(share.value), independent(s, plant, hours));
  share.interval = {Ratio(bounds[0]), Ratio(bounds[1])};
  return share;
}

Duration reached(const Stays& s, int plant, Ratio chance) {
  return order_statistic(sorted_lengths(s, plant), double(chance)) * hour;
}

std::optional<std::array<Duration, 2>> reached_interval(const Stays& s, int plant, Ratio chance) {
  if (s.years < 10) return std::nullopt;
  const auto sorted = sorted_lengths(s, plant);
  const double length = order_statistic(sorted, double(chance));
  const auto shares = wilson(double(chance), independent(s, plant, length));
  return {{order_statistic(sorted, shares[1]) * hour, order_statistic(sorted, shares[0]) * hour}};
}

Ratio unserved_share(const Stays& s, int plant) {
  double asked = 0.0, unserved = 0.0;
  for (int y = 0; y < s.years; ++y)
    for (int start = 0; start < s.starts; ++start) {
      asked += s.at(y, start, plant).asked;
      unserved += s.at(y, start, plant).unserved;
    }
  return asked > 0.0 ? unserved / asked : 0.0;
}

Ratio largest_imbalance(const Stays& s) {
  double largest_ = 0.0;
  for (const auto& o : s.all)
    largest_ = std::max(largest_, std::abs(kernel::unbalanced_Wh(o)) /
                                      std::max(1.0, o.gathered + o.asked + o.at_start_Wh));
  return largest_;
}

std::optional<StayAnswer> stay(const design::Design& design, const Surroundings& surroundings,
                               const StayQuestion& q, const Each& each) {
  if (!design->bank) return std::nullopt;
  const auto& promise = design->promise;
  const double sun = double(input_doubt), load = double(load_doubt);
  const std::array plants{*plant_of(design, promise.bank_age), *plant_of(design, 0.0 * year),
                          *plant_of(design, promise.bank_age, {1.0 - sun, 1.0 + load}),
                          *plant_of(design, promise.bank_age, {1.0 + sun, 1.0 - load})};
  const Stays s = simulate(surroundings, q, plants, each);
  StayAnswer a;
  a.month = q.month;
  a.kind = surroundings.weather().kind();
  a.years = s.years, a.starts = s.years * s.starts;
  a.longest = double(q.longest_days) * day;
  a.chance = promise.chance;
  a.met = reached(s, 0, a.chance);
  a.met_when_new = reached(s, 1, a.chance);
  a.sampling = reached_interval(s, 0, a.chance);
  a.doubt = {reached(s, 2, a.chance), reached(s, 3, a.chance)};
  if (promise.stay && *promise.stay <= a.longest) a.promise = lasting(s, 0, *promise.stay);
  a.unlimited = a.met >= a.longest;
  a.unserved = unserved_share(s, 0);
  double coldest = 1e9, hottest = -1e9;
  const double days = double(a.starts) * q.longest_days;
  for (int i = 0; i < a.starts; ++i) {
    const auto& o = s.all[std::size_t(i * s.plants)];
    a.gathered += o.gathered / days * watt_hour;
    a.spilled += o.spilled / days * watt_hour;
    a.heated += o.heated / days * watt_hour;
    a.shut_out += o.days_shut_out / days;
    coldest = std::min(coldest, o.coldest_C);
    hottest = std::max(hottest, o.hottest_C);
  }
  a.coldest = celsius(coldest), a.hottest = celsius(hottest);
  return a;
}

int shortest_month(const design::Design& design, const Surroundings& surroundings, StayQuestion q,
                   const Each& each) {
  const std::array plants{*plant_of(design, design->promise.bank_age)};
  int worst = 0;
  double least = 1e18;
  for (q.month = 0; q.month < 12; ++q.month) {
    const Stays s = simulate(surroundings, q, plants, each);
    // Where all outlast the horizon, how empty the bank becomes tells months apart.
    double kept = reached(s, 0, design->promise.chance).value();
    for (const auto& o : s.all) kept += 1e-3 * o.lowest / double(s.all.size());
    if (kept < least) least = kept, worst = q.month;
  }
  return worst;
}

Duration half_days(Duration d) { return std::floor(double(d / day) * 2.0 + 1e-9) / 2.0 * day; }

}  // namespace housepower::energy

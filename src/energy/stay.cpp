// SPDX-License-Identifier: Apache-2.0
// Many stays, and what they say together.
#include "housepower/energy/stay.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "housepower/energy/kernel_lanes.hpp"

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

/// Share of the bank that is left for certain where nothing else is looked at.
constexpr double clear_of_empty = 0.02;

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

namespace {

using Outcomes = std::span<const kernel::Outcome>;

/// Plants that are run after others, the stays of each side by side.
struct Group {
  std::size_t end;     // behind the last of its plants; it begins where the one before ends
  bool whole = false;  // every hour, for its sums; otherwise a stay is left once it has ended
  /// By what came of the plants before: where they outlast everything this group does, too.
  std::function<bool(Outcomes)> outlasts{};
};

Stays simulate(const Surroundings& surroundings, const StayQuestion& q,
               std::span<const kernel::Plant> plants, std::span<const Group> groups,
               const Each& each) {
  const Dates dates = dates_of(q);
  Stays s{surroundings.weather().years(), dates.starts, int(plants.size()), q.longest_days, {}};
  s.all.resize(std::size_t(s.years) * std::size_t(s.starts) * plants.size());
  const int arrives = q.arrives.value_or(surroundings.arrives()), hours_ = q.longest_days * 24;
  const Charging charging = q.charging.value_or(surroundings.charging());
  const auto others = surroundings.others(charging, q.longest_days, arrives);
  each(s.years, [&](int year) {
    Buffers buffers;
    surroundings.fill(year, dates.first, days_of_weather(q, dates.starts, arrives), buffers,
                      q.without_sun);
    const auto hours = buffers.hours(others, surroundings.patterns());
    std::vector<kernel::Lane> lanes;
    std::size_t begin = 0;
    for (const Group& group : groups) {
      lanes.clear();
      for (std::size_t p = begin; p < group.end; ++p)
        for (int start = 0; start < s.starts; ++start) {
          const int number = year * s.starts + start;
          kernel::Outcome* of_start = &s.all[std::size_t(number) * plants.size()];
          if (group.outlasts && group.outlasts({of_start, begin})) of_start[p].lasted_h = hours_;
          else
            lanes.push_back({&plants[p], &of_start[p], start * q.every * 24 + arrives, number % 7});
        }
      kernel::run(hours, hours_, lanes, !group.whole);
      begin = group.end;
    }
  });
  return s;
}

}  // namespace

int days_of_weather(const StayQuestion& q, int starts, int arrives) {
  return (starts - 1) * q.every + q.longest_days + (arrives > 0);
}

Stays simulate(const Surroundings& surroundings, const StayQuestion& q,
               std::span<const kernel::Plant> plants, const Each& each) {
  const std::array all{Group{plants.size(), !q.until_empty}};
  return simulate(surroundings, q, plants, all, each);
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

namespace {

Lasting lasting_of(const Stays& s, int plant, int with_less, int with_more, Ratio chance) {
  Lasting l;
  l.met = reached(s, plant, chance);
  l.first_percentile = reached(s, plant, 1.0 - double(worst_share));
  l.sampling = reached_interval(s, plant, chance);
  l.doubt = {reached(s, with_less, chance), reached(s, with_more, chance)};
  l.all_outlast = true;
  for (int i = 0; i < s.years * s.starts; ++i)
    for (const int p : {plant, with_less})
      l.all_outlast = l.all_outlast && !s.all[std::size_t(i * s.plants + p)].ended;
  return l;
}

}  // namespace

bool brings_anything(const Surroundings& surroundings, const Charging& c) {
  const auto flows = [&](design::ChargerKind kind) {
    return surroundings.current_of(kind).value() > 0.0;
  };
  return (c.every.value() > 0.0 && c.driving.value() > 0.0 && flows(design::ChargerKind::dc_dc)) ||
         (c.mains_nights > 0 && c.mains.value() > 0.0 && flows(design::ChargerKind::mains)) ||
         (c.generator.value() > 0.0 && flows(design::ChargerKind::generator));
}

std::optional<Duration> first_charge(const Surroundings& surroundings, const Charging& charging,
                                     const StayQuestion& q) {
  const auto others =
      surroundings.others(charging, q.longest_days, q.arrives.value_or(surroundings.arrives()));
  const auto first = std::find_if(others.begin(), others.end(), [](double w) { return w > 0.0; });
  if (first == others.end()) return std::nullopt;
  return double(first - others.begin()) * hour;
}

std::optional<StayAnswer> stay(const design::Design& design, const Surroundings& surroundings,
                               const StayQuestion& q, const Each& each) {
  if (!design->bank) return std::nullopt;
  const auto& promise = design->promise;
  const double sun = double(input_doubt_of(design)), load = double(load_doubt);
  enum { aged, parked, parked_less, parked_more, fresh, less, more };
  const auto plant = *plant_of(design, promise.bank_age),
             with_less = *plant_of(design, promise.bank_age, {1.0 - sun, 1.0 + load}),
             with_more = *plant_of(design, promise.bank_age, {1.0 + sun, 1.0 - load});
  const auto stands = [](kernel::Plant p) {
    p.others_factor = 0.0;
    return p;
  };
  const std::array plants{
      plant,     stands(plant), stands(with_less), stands(with_more), *plant_of(design, 0.0 * year),
      with_less, with_more};
  StayAnswer a;
  const Charging charging = q.charging.value_or(surroundings.charging());
  a.travels = brings_anything(surroundings, charging);
  if (a.travels) a.first_charge = first_charge(surroundings, charging, q);
  // Where the van that stands does not come near to empty, not even with less sun and more use, it
  // does not with a newer bank and more charge either.
  const auto others_outlast = [&](Outcomes of_start) {
    const auto& o = of_start[parked_less];
    const double row = std::clamp(o.coldest_C - kernel::coldest_C, 0.0, kernel::temperatures - 1.0);
    return !o.ended && o.lowest > with_less.empty[std::size_t(row)] + clear_of_empty;
  };
  // Where nothing else charges, those that travel are those that stand.
  const std::span<const kernel::Plant> asked(plants.data(), a.travels ? 7 : 5);
  const std::array groups{Group{parked, !q.until_empty}, Group{fresh},
                          Group{asked.size(), false, others_outlast}};
  const Stays s = simulate(surroundings, q, asked, groups, each);
  a.month = q.month;
  a.kind = surroundings.weather().kind();
  a.years = s.years, a.starts = s.years * s.starts;
  a.arrives = q.arrives.value_or(surroundings.arrives());
  a.longest = double(q.longest_days) * day;
  a.chance = promise.chance;
  a.parked = lasting_of(s, parked, parked_less, parked_more, a.chance);
  const Lasting travelled = a.travels ? lasting_of(s, aged, less, more, a.chance) : a.parked;
  a.met = travelled.met, a.first_percentile = travelled.first_percentile;
  a.met_when_new = reached(s, fresh, a.chance);
  a.sampling = travelled.sampling, a.doubt = travelled.doubt;
  a.unlimited = travelled.all_outlast;
  if (promise.stay && *promise.stay <= a.longest) {
    a.promise = lasting(s, aged, *promise.stay);
    a.promise_parked = lasting(s, parked, *promise.stay).value;
  }
  a.unserved = unserved_share(s, aged);
  double coldest = 1e9, hottest = -1e9;
  const double days = double(a.starts) * q.longest_days;
  for (int i = 0; i < a.starts; ++i) {
    const auto& o = s.all[std::size_t(i * s.plants + aged)];
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

Months month_by_month(const design::Design& design, const Surroundings& surroundings,
                      StayQuestion q, const Each& each) {
  std::vector<kernel::Plant> plants{*plant_of(design, design->promise.bank_age)};
  const bool travels = brings_anything(surroundings, q.charging.value_or(surroundings.charging()));
  if (travels) {
    plants.push_back(plants.front());
    plants.back().others_factor = 0.0;
  }
  Months months;
  for (q.month = 0; q.month < 12; ++q.month) {
    const Stays s = simulate(surroundings, q, plants, each);
    MonthMet& m = months[std::size_t(q.month)];
    m.met = reached(s, 0, design->promise.chance);
    m.parked = travels ? reached(s, 1, design->promise.chance) : m.met;
    for (int i = 0; i < s.years * s.starts; ++i)
      m.lowest += s.all[std::size_t(i * s.plants)].lowest / (s.years * s.starts);
  }
  return months;
}

int shortest(const Months& months) {
  const auto kept = [](const MonthMet& m) { return std::tuple(m.met, m.parked, double(m.lowest)); };
  const auto least =
      std::min_element(months.begin(), months.end(),
                       [&](const auto& a, const auto& b) { return kept(a) < kept(b); });
  return int(least - months.begin());
}

int shortest_month(const design::Design& design, const Surroundings& surroundings, StayQuestion q,
                   const Each& each) {
  return shortest(month_by_month(design, surroundings, q, each));
}

Duration half_days(Duration d) { return std::floor(double(d / day) * 2.0 + 1e-9) / 2.0 * day; }
Duration half_days_up(Duration d) { return std::ceil(double(d / day) * 2.0 - 1e-9) / 2.0 * day; }

int nights(Duration lasted, int arrives) {
  return int(std::floor((double(lasted / hour) + arrives) / 24.0 + 1e-9));
}

Told told(const Lasting& l, Duration longest, int arrives) {
  Told t;
  t.point = l.met;
  const auto [low, high] = l.sampling.value_or(std::array{l.met, l.met});
  t.at_lower_end = (high - low) / day > 0.5 && low < l.met;
  t.length = half_days(t.at_lower_end ? low : l.met);
  t.or_more = t.length >= longest;
  t.nights = nights(t.length, arrives);
  t.could_be = {half_days(std::min({t.length, low, l.doubt[0]})),
                half_days_up(std::max({l.met, high, l.doubt[1]}))};
  t.first_percentile = half_days(l.first_percentile);
  return t;
}

ToldStay told(const StayAnswer& a) {
  const Lasting travelled{a.met, a.first_percentile, a.sampling, a.doubt, a.unlimited};
  ToldStay both{told(a.parked, a.longest, a.arrives), told(travelled, a.longest, a.arrives)};
  auto &parked = both.parked, &with = both.travelled;
  if (with.length < parked.length && parked.length <= a.met) {
    with.length = parked.length, with.nights = parked.nights, with.or_more = parked.or_more;
    with.at_lower_end = parked.at_lower_end;
  }
  return both;
}

}  // namespace housepower::energy

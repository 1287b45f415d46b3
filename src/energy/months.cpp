// SPDX-License-Identifier: Apache-2.0
// The hardest month.
#include "housepower/energy/months.hpp"

#include <algorithm>
#include <tuple>

#include "simulating.hpp"

namespace housepower::energy {

StayAnswer lengths(const design::Design& design, const Surroundings& surroundings,
                   const StayQuestion& question, const Each& each) {
  StayQuestion q = question;
  q.until_empty = true;
  const Charging charging = q.charging.value_or(surroundings.charging());
  StayAnswer a;
  a.travels = brings_anything(surroundings, charging);
  std::vector<kernel::Plant> plants{*plant_of(design, design->promise.bank_age)};
  plants.front().others_factor = 0.0;
  if (a.travels) plants.push_back(*plant_of(design, design->promise.bank_age));
  const auto& promised = design->promise.stay;
  const bool is_promised = promised && *promised <= double(q.longest_days) * day;
  const inside::Asked asked = [&](const Stays& s, int plant) {
    const Duration told = inside::longest_known(s, plant, design->promise.chance);
    return is_promised ? std::max(told, *promised) : told;
  };
  const std::array both{inside::Group{1, kernel::Until::lengths, {}, asked},
                        inside::Group{2, kernel::Until::lengths, {}, asked}};
  const Stays s = inside::simulate(surroundings, q, plants, {both.data(), plants.size()}, each);
  a.month = q.month;
  a.kind = surroundings.weather().kind();
  a.years = s.years, a.starts = s.years * s.starts;
  a.arrives = q.arrives.value_or(surroundings.arrives());
  a.longest = double(q.longest_days) * day;
  a.chance = design->promise.chance;
  const auto of = [&](int plant) {
    Lasting l;
    l.met = reached(s, plant, a.chance);
    l.first_percentile = reached(s, plant, 1.0 - double(worst_share));
    l.sampling = reached_interval(s, plant, a.chance);
    l.doubt = {l.met, l.met};
    return l;
  };
  a.parked = of(0);
  const Lasting travelled = a.travels ? of(1) : a.parked;
  a.met = travelled.met, a.first_percentile = travelled.first_percentile;
  a.sampling = travelled.sampling, a.doubt = travelled.doubt;
  if (is_promised) {
    a.promise = lasting(s, a.travels ? 1 : 0, *promised);
    a.promise_parked = lasting(s, 0, *promised).value;
  }
  return a;
}

bool harder(const StayAnswer& a, const StayAnswer& b) {
  const auto key = [](const StayAnswer& x) {
    const ToldStay both = told(x);
    return std::tuple(both.travelled.length, both.parked.length, x.met, x.parked.met);
  };
  return key(a) < key(b);
}

std::vector<int> near_shortest(const Months& months, Duration horizon) {
  const int least = shortest(months);
  const bool by_travel = months[std::size_t(least)].met < horizon;
  const auto length = [&](int m) {
    return by_travel ? months[std::size_t(m)].met : months[std::size_t(m)].parked;
  };
  std::vector<int> near{least};
  if (length(least) >= horizon) return near;
  const Duration reach = length(least) + std::max(0.3 * length(least), Duration(2.0 * day));
  for (int m = 0; m < 12; ++m)
    if (m != least && length(m) <= reach) near.push_back(m);
  return near;
}

StayAnswer hardest(const design::Design& design, const Months& coarse, const Surroundings& all,
                   StayQuestion q, const Each& each) {
  std::optional<StayAnswer> found;
  for (const int month : near_shortest(coarse, double(q.longest_days) * day)) {
    q.month = month;
    StayAnswer a = lengths(design, all, q, each);
    if (!found || harder(a, *found)) found = std::move(a);
  }
  return *found;
}

namespace {

/// Nothing is easier than what outlasts the horizon, as told too.
bool is_at_the_horizon(const StayAnswer& a) {
  const ToldStay both = told(a);
  const Duration most = half_days(a.longest);
  return a.met >= a.longest && a.parked.met >= a.longest && both.travelled.length >= most &&
         both.parked.length >= most;
}

}  // namespace

StayAnswer easiest(const design::Design& design, const Months& coarse, const Surroundings& all,
                   StayQuestion q, const Each& each) {
  const auto longest =
      std::max_element(coarse.begin(), coarse.end(), [](const MonthMet& a, const MonthMet& b) {
        return std::tuple(a.met, a.parked) < std::tuple(b.met, b.parked);
      });
  std::optional<StayAnswer> found;
  for (q.month = 0; q.month < 12; ++q.month) {
    if (coarse[std::size_t(q.month)].met < 0.85 * longest->met) continue;
    StayAnswer a = lengths(design, all, q, each);
    if (!found || harder(*found, a)) found = std::move(a);
    if (is_at_the_horizon(*found)) break;
  }
  return *found;
}

int hardest_month(const design::Design& design, const Surroundings& few,
                  const StayQuestion& few_question, const Surroundings& all, StayQuestion q,
                  const Each& each) {
  const Months coarse = month_by_month(design, few, few_question, each);
  const auto near = near_shortest(coarse, double(q.longest_days) * day);
  return near.size() == 1 ? near.front() : hardest(design, coarse, all, q, each).month;
}

}  // namespace housepower::energy

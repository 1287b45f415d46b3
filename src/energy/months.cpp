// SPDX-License-Identifier: Apache-2.0
// The hardest month.
#include "housepower/energy/months.hpp"

#include <algorithm>
#include <tuple>

#include "simulating.hpp"

namespace housepower::energy {

namespace {

/// Until a charger first gives anything, a stay with travel is the one that is parked.
inside::Group::Alike as_parked(const Surroundings& surroundings, const StayQuestion& q) {
  const Charging charging = q.charging.value_or(surroundings.charging());
  const auto first = first_charge(surroundings, charging, q);
  return {0, first.value_or(double(q.longest_days) * day) / hour};
}

}  // namespace

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
  const std::array both{
      inside::Group{1, kernel::Until::lengths, {}, {}, asked},
      inside::Group{2, kernel::Until::lengths, {}, as_parked(surroundings, q), asked}};
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
  a.outlast = lasting(s, a.travels ? 1 : 0, a.longest).value;
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
    return std::tuple(both.travelled.length, both.parked.length, x.met, x.parked.met,
                      double(x.outlast));
  };
  return key(a) < key(b);
}

namespace {

Ratio mean_lowest(const Stays& s) {
  Ratio mean = 0.0;
  for (int i = 0; i < s.years * s.starts; ++i)
    mean += s.all[std::size_t(i * s.plants)].lowest / (s.years * s.starts);
  return mean;
}

/// Which months are the shortest alike: the lowest charge tells them apart.
std::vector<int> shortest_alike(const Months& months) {
  const Duration least =
      std::min_element(months.begin(), months.end(), [](const auto& a, const auto& b) {
        return a.met < b.met;
      })->met;
  std::vector<int> alike;
  for (int m = 0; m < 12; ++m)
    if (months[std::size_t(m)].met == least) alike.push_back(m);
  return alike;
}

/// All but the lowest charges.
Months lengths_by_month(const design::Design& design, const Surroundings& surroundings,
                        StayQuestion q, const Each& each) {
  std::vector<kernel::Plant> plants{*plant_of(design, design->promise.bank_age)};
  const bool travels = brings_anything(surroundings, q.charging.value_or(surroundings.charging()));
  if (travels) plants.push_back(plants.front());
  plants.front().others_factor = 0.0;
  const inside::Asked met = [&](const Stays& s, int plant) {
    return reached(s, plant, design->promise.chance);
  };
  const std::array both{
      inside::Group{1, kernel::Until::lengths, {}, {}, met},
      inside::Group{2, kernel::Until::lengths, {}, as_parked(surroundings, q), met}};
  Months months;
  for (q.month = 0; q.month < 12; ++q.month) {
    const Stays s = inside::simulate(surroundings, q, plants, {both.data(), plants.size()}, each);
    MonthMet& m = months[std::size_t(q.month)];
    m.parked = met(s, 0);
    m.met = travels ? met(s, 1) : m.parked;
    m.outlast = lasting(s, travels ? 1 : 0, double(q.longest_days) * day).value;
  }
  return months;
}

}  // namespace

Months month_by_month(const design::Design& design, const Surroundings& surroundings,
                      StayQuestion q, const Each& each) {
  Months months = lengths_by_month(design, surroundings, q, each);
  const std::array plants{*plant_of(design, design->promise.bank_age)};
  if (const auto alike = shortest_alike(months); alike.size() > 1)
    for (const int month : alike) {
      q.month = month;
      months[std::size_t(month)].lowest = mean_lowest(simulate(surroundings, q, plants, each));
    }
  return months;
}

int shortest(const Months& months) {
  const auto kept = [](const MonthMet& m) {
    return std::tuple(m.met, m.parked, double(m.outlast), double(m.lowest));
  };
  const auto least =
      std::min_element(months.begin(), months.end(),
                       [&](const auto& a, const auto& b) { return kept(a) < kept(b); });
  return int(least - months.begin());
}

namespace {

/// Shares of a coarse look, and lowest charges, that may come out the other way round (judgement).
constexpr double not_told_apart = 0.10;

std::vector<int> near_emptiest(const Months& months) {
  const auto fewest = [](const auto& a, const auto& b) { return a.outlast < b.outlast; };
  const Ratio least = std::min_element(months.begin(), months.end(), fewest)->outlast;
  std::vector<int> near;
  for (int m = 0; m < 12; ++m)
    if (months[std::size_t(m)].outlast <= least + not_told_apart) near.push_back(m);
  // Of those in which all outlast it the ones where the bank gets emptiest.
  const auto all_do = [&](int m) { return months[std::size_t(m)].outlast >= Ratio(1.0); };
  Ratio emptiest = 1.0;
  for (const int m : near)
    if (all_do(m)) emptiest = std::min(emptiest, months[std::size_t(m)].lowest);
  std::erase_if(near, [&](int m) {
    return all_do(m) && months[std::size_t(m)].lowest > emptiest + not_told_apart;
  });
  return near;
}

Duration near_to(Duration shortest) {
  return shortest + std::max(0.3 * shortest, Duration(2.0 * day));
}

/// Days after which months whose stays are short are told from the others.
constexpr int followed_first = 7;

/// Whether stays followed no longer tell which months are near the shortest.
bool tell_the_shortest(const Months& months, Duration followed) {
  const auto alike = shortest_alike(months);
  return alike.size() == 1 && near_to(months[std::size_t(alike.front())].met) < followed;
}

}  // namespace

std::vector<int> near_shortest(const Months& months, Duration horizon) {
  const int least = shortest(months);
  const bool by_travel = months[std::size_t(least)].met < horizon;
  const auto length = [&](int m) {
    return by_travel ? months[std::size_t(m)].met : months[std::size_t(m)].parked;
  };
  if (length(least) >= horizon) return near_emptiest(months);
  std::vector<int> near{least};
  const Duration reach = near_to(length(least));
  for (int m = 0; m < 12; ++m)
    if (m != least && length(m) <= reach) near.push_back(m);
  return near;
}

std::optional<std::vector<int>> near_shortest_soon(const design::Design& design,
                                                   const Surroundings& few, StayQuestion q,
                                                   const Each& each) {
  if (q.longest_days <= followed_first) return std::nullopt;
  q.longest_days = followed_first;
  const Duration followed = double(followed_first) * day;
  const Months months = lengths_by_month(design, few, q, each);
  if (!tell_the_shortest(months, followed)) return std::nullopt;
  return near_shortest(months, followed);
}

std::vector<int> near_shortest(const design::Design& design, const Surroundings& few,
                               const StayQuestion& q, const Each& each) {
  if (const auto soon = near_shortest_soon(design, few, q, each)) return *soon;
  return near_shortest(month_by_month(design, few, q, each), double(q.longest_days) * day);
}

StayAnswer hardest(const design::Design& design, std::span<const int> months,
                   const Surroundings& all, StayQuestion q, const Each& each) {
  std::optional<StayAnswer> found;
  for (const int month : months) {
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

/// Whether a month is told shorter parked than so long, where more stays end than may.
bool is_parked_shorter(const design::Design& design, const Surroundings& all, StayQuestion q,
                       Duration told_length, const Each& each) {
  q.longest_days = int(told_length / day);
  if (q.longest_days < 1) return false;
  const int days = month_begins[std::size_t(q.month) + 1] - month_begins[std::size_t(q.month)];
  const int starts = (days + q.every - 1) / q.every * all.weather().years();
  const int may = inside::shorter_ones(std::size_t(starts), double(design->promise.chance));
  return inside::more_end_than(may, all, q, *plant_of(design, design->promise.bank_age), each);
}

/// Harder even if every stay that travels outlasted the horizon: seen from those that are parked.
bool is_harder_at_best(const design::Design& design, const Surroundings& all, StayQuestion q,
                       const StayAnswer& than, const Each& each) {
  if (!than.travels || than.met < than.longest) return false;  // nothing is known before it travels
  q.charging = Charging{};
  const ToldStay both = told(than);
  if (both.travelled.length >= half_days(than.longest) &&
      is_parked_shorter(design, all, q, both.parked.length, each))
    return true;
  StayAnswer at_best = lengths(design, all, q, each);
  at_best.met = at_best.longest, at_best.outlast = 1.0;
  at_best.sampling.reset();
  return harder(at_best, than);
}

}  // namespace

StayAnswer easiest(const design::Design& design, const Months& coarse, const Surroundings& all,
                   StayQuestion q, const Each& each) {
  const auto longest =
      std::max_element(coarse.begin(), coarse.end(), [](const MonthMet& a, const MonthMet& b) {
        return std::tuple(a.met, a.parked) < std::tuple(b.met, b.parked);
      });
  q.month = int(longest - coarse.begin());
  const StayAnswer likeliest = lengths(design, all, q, each);
  std::optional<StayAnswer> found;
  for (q.month = 0; q.month < 12; ++q.month) {
    const bool is_likeliest = q.month == likeliest.month;
    if (coarse[std::size_t(q.month)].met < 0.85 * longest->met) continue;
    if (!is_likeliest && is_harder_at_best(design, all, q, likeliest, each)) continue;
    StayAnswer a = is_likeliest ? likeliest : lengths(design, all, q, each);
    if (!found || harder(*found, a)) found = std::move(a);
    if (is_at_the_horizon(*found)) break;
  }
  return *found;
}

int hardest_month(const design::Design& design, const Surroundings& few,
                  const StayQuestion& few_question, const Surroundings& all, StayQuestion q,
                  const Each& each) {
  const auto near = near_shortest(design, few, few_question, each);
  return near.size() == 1 ? near.front() : hardest(design, near, all, q, each).month;
}

namespace {

/// The months in which the promise is kept least, as they travel, by a coarse look.
std::vector<int> near_least_kept(const design::Design& design, const Surroundings& few,
                                 const StayQuestion& q, const Each& each) {
  if (const auto soon = near_shortest_soon(design, few, q, each)) return *soon;
  const Months months = month_by_month(design, few, q, each);
  const Duration horizon = double(q.longest_days) * day;
  const bool all_reach = std::all_of(months.begin(), months.end(),
                                     [&](const MonthMet& m) { return m.met >= horizon; });
  if (!all_reach) return near_shortest(months, horizon);
  auto near = near_emptiest(months);
  // Where all are kept with travel, what is told beside that is the month hardest parked.
  const int least = shortest(months);
  if (std::find(near.begin(), near.end(), least) == near.end()) near.push_back(least);
  return near;
}

/// Shorter than is promised, by its lower end as it is told; else a smaller chance of that.
bool keeps_less(const StayAnswer& a, const StayAnswer& b) {
  const auto key = [](const StayAnswer& x) {
    const Duration low = x.sampling ? std::min((*x.sampling)[0], x.met) : x.met;
    const Share share = x.promise.value_or(Share{});
    return std::tuple(half_days(low), double(sure(share)), double(share.value),
                      double(x.promise_parked), x.parked.met);
  };
  return key(a) < key(b);
}

}  // namespace

int month_kept_least(const design::Design& design, const Surroundings& few,
                     const StayQuestion& few_question, const Surroundings& all, StayQuestion q,
                     const Each& each) {
  const auto near = near_least_kept(design, few, few_question, each);
  if (near.size() == 1) return near.front();
  std::optional<StayAnswer> found;
  for (const int month : near) {
    q.month = month;
    StayAnswer a = lengths(design, all, q, each);
    if (!found || keeps_less(a, *found)) found = std::move(a);
  }
  return found->month;
}

int month_outlast_least(const design::Design& design, const Surroundings& all, StayQuestion q,
                        const Each& each) {
  const std::array plants{*plant_of(design, design->promise.bank_age, at_the_lower_end(design)),
                          *plant_of(design, design->promise.bank_age)};
  const std::array both{inside::Group{2, kernel::Until::lengths}};
  const auto key = [&](const Stays& s) {
    double lowest = 1.0;
    for (const auto& o : s.all) lowest = std::min(lowest, o.lowest);
    const Duration longest = double(s.days) * day;
    return std::tuple(double(lasting(s, 0, longest).value), double(lasting(s, 1, longest).value),
                      reached(s, 1, design->promise.chance), lowest);
  };
  int least = 0;
  std::optional<decltype(key(Stays{}))> of_least;
  for (q.month = 0; q.month < 12; ++q.month) {
    const auto of_this = key(inside::simulate(all, q, plants, both, each));
    if (!of_least || of_this < *of_least) of_least = of_this, least = q.month;
  }
  return least;
}

bool outlast_in_every_month(const Surroundings& all, StayQuestion q, const kernel::Plant& plant,
                            const Each& each) {
  for (q.month = 0; q.month < 12; ++q.month)
    if (!inside::all_outlast(all, q, plant, each)) return false;
  return true;
}

}  // namespace housepower::energy

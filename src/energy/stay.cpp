// SPDX-License-Identifier: Apache-2.0
// Many stays, and what they say together.
#include "housepower/energy/stay.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <memory>
#include <mutex>
#include <tuple>

#include "housepower/energy/kernel_lanes.hpp"
#include "simulating.hpp"

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

std::vector<double> hours_lasted(const Stays& s, int plant) {
  std::vector<double> hours(std::size_t(s.years) * std::size_t(s.starts));
  for (std::size_t i = 0; i < hours.size(); ++i)
    hours[i] = s.all[i * std::size_t(s.plants) + std::size_t(plant)].lasted_h;
  return hours;
}

}  // namespace

int inside::shorter_ones(std::size_t stays, double share) {
  const double below = (1.0 - share) * double(stays);
  return int(std::clamp(std::floor(below + 1e-9), 0.0, double(stays) - 1.0));
}

namespace {

/// The largest length that at least this share reaches; the lengths are put into another order.
double order_statistic(std::vector<double>& hours, double share) {
  const auto at = hours.begin() + inside::shorter_ones(hours.size(), share);
  std::nth_element(hours.begin(), at, hours.end());
  return *at;
}

}  // namespace

void one_after_another(int count, const std::function<void(int)>& f) {
  for (int i = 0; i < count; ++i) f(i);
}

namespace {

using inside::Group;
using inside::Outcomes;
using kernel::Until;

/// Buffers that threads take and bring back: a fresh one of a year is a megabyte of zeros to write.
class Shelf {
public:
  std::unique_ptr<Buffers> take() {
    const std::lock_guard hold(mutex_);
    if (free_.empty()) return std::make_unique<Buffers>();
    auto one = std::move(free_.back());
    free_.pop_back();
    return one;
  }
  void bring(std::unique_ptr<Buffers> one) {
    const std::lock_guard hold(mutex_);
    free_.push_back(std::move(one));
  }

private:
  std::mutex mutex_{};
  std::vector<std::unique_ptr<Buffers>> free_{};
};

/// The stays of some years, each group of plants for days of its own.
class Simulation {
public:
  Simulation(const Surroundings& surroundings, const StayQuestion& q,
             std::span<const kernel::Plant> plants, std::span<const Group> groups)
      : surroundings_(surroundings), q_(q), groups_(groups), dates_(dates_of(q)),
        arrives_(q.arrives.value_or(surroundings.arrives())),
        others_(surroundings.others(q.charging.value_or(surroundings.charging()), q.longest_days,
                                    arrives_)) {
    plants_.reserve(plants.size());
    const Charging charging = q.charging.value_or(surroundings.charging());
    for (const auto& plant : plants) plants_.push_back(surroundings.charged_here(plant, charging));
  }

  [[nodiscard]] Stays none(std::size_t years) const {
    Stays s{int(years), dates_.starts, int(plants_.size()), q_.longest_days, {}};
    s.all.resize(years * std::size_t(s.starts) * plants_.size());
    return s;
  }

  /// Into the i-th year of the stays what comes of a year of the weather. Groups of no days are left
  /// as they are.
  void run(int year, std::size_t i, std::span<const int> days, Stays& s) {
    auto buffers = shelf_.take();
    const int most = *std::max_element(days.begin(), days.end());
    StayQuestion q = q_;
    q.longest_days = most;
    surroundings_.fill(year, dates_.first, days_of_weather(q, dates_.starts, arrives_), *buffers,
                       q_.without_sun, first_pattern(year));
    const auto hours = buffers->hours(others_, surroundings_.patterns());
    std::vector<kernel::Lane> lanes;
    std::size_t begin = 0;
    for (std::size_t g = 0; g < groups_.size(); begin = groups_[g++].end) {
      const auto& outlasts = groups_[g].outlasts;
      const bool may_outlast = outlasts && days[outlasts->by] == q_.longest_days;
      if (days[g] > 0) run(groups_[g], begin, days[g], may_outlast, hours, year, i, lanes, s);
    }
    shelf_.bring(std::move(buffers));
  }

private:
  [[nodiscard]] static bool ended_alike(const Group& group, const kernel::Outcome* of_start) {
    if (!group.alike) return false;
    const auto& other = of_start[group.alike->plant];
    return other.ended && other.lasted_h < group.alike->hours;
  }
  /// The pattern of a week's loads on the day of arrival.
  [[nodiscard]] int pattern_of(int year, int start) const {
    return (year * dates_.starts + start) % 7;
  }
  /// That of the first day, where all stays that pass through a day do so with the same one.
  [[nodiscard]] std::optional<int> first_pattern(int year) const {
    if (q_.every % 7 == 1 || dates_.starts == 1) return pattern_of(year, 0);
    return std::nullopt;
  }
  void run(const Group& group, std::size_t begin, int days, bool may_outlast,
           const kernel::Hours& hours, int year, std::size_t i, std::vector<kernel::Lane>& lanes,
           Stays& s) const {
    for (std::size_t p = begin; p < group.end; ++p) {
      lanes.clear();
      for (int start = 0; start < s.starts; ++start) {
        kernel::Outcome* of_start =
            &s.all[(i * std::size_t(s.starts) + std::size_t(start)) * plants_.size()];
        if (may_outlast && group.outlasts->so({of_start, begin})) of_start[p].lasted_h = days * 24;
        else if (ended_alike(group, of_start)) of_start[p] = of_start[group.alike->plant];
        else
          lanes.push_back({&plants_[p], &of_start[p], start * q_.every * 24 + arrives_,
                           pattern_of(year, start)});
      }
      kernel::run(hours, days * 24, lanes, group.until);
    }
  }

  const Surroundings& surroundings_;
  const StayQuestion& q_;
  std::vector<kernel::Plant> plants_{};
  std::span<const Group> groups_;
  Dates dates_;
  int arrives_;
  std::vector<double> others_;
  Shelf shelf_{};
};

/// A few years, spread over all: what they say of the rest decides nothing but how much is done.
constexpr int fewest_first = 5, of_ten = 10;
int years_first(int years) { return std::max(fewest_first, years / of_ten); }

double longest_asked(const Group& group, std::size_t begin, const Stays& s) {
  Duration longest{};
  for (std::size_t p = begin; p < group.end; ++p)
    longest = std::max(longest, group.asked(s, int(p)));
  return longest / day;
}

/// By what a few years ask, with a margin, where they were simulated for so many days; all where that
/// saves little. Nothing where it may be more than these.
std::optional<int> days_for(const Group& group, std::size_t begin, const Stays& few, int simulated,
                            int most) {
  if (!group.asked) return most;
  const double needed = 1.15 * longest_asked(group, begin, few) + 1.0;
  if (simulated < most)
    return needed <= simulated ? std::optional(int(std::ceil(needed))) : std::nullopt;
  return needed < 0.9 * most ? int(std::ceil(needed)) : most;
}

/// Every so many years one, and for how many days what it tells was simulated.
struct Few {
  int step = 1;
  Stays stays;
  std::vector<int> days;  // that each group is asked for
};

/// Days that are tried first: where stays are short, none is simulated over a month.
constexpr std::array tried_first{5, 12};

/// Into the days of the groups that are not known yet what the few years tell, followed for so many.
void try_days(Simulation& simulation, std::span<const Group> groups, int tried, int most, Few& few,
              const Each& each) {
  std::vector<int> days;
  for (std::size_t g = 0; g < groups.size(); ++g)
    days.push_back(few.days[g] > 0 ? 0 : groups[g].asked ? tried : most);
  each(few.stays.years,
       [&](int i) { simulation.run(i * few.step, std::size_t(i), days, few.stays); });
  std::size_t begin = 0;
  for (std::size_t g = 0; g < groups.size(); begin = groups[g++].end)
    if (days[g] > 0) few.days[g] = days_for(groups[g], begin, few.stays, tried, most).value_or(0);
}

Few look_at_few(Simulation& simulation, std::span<const Group> groups, int years, int most,
                const Each& each) {
  const int first = years_first(years);
  Few few{years / first, simulation.none(std::size_t(first)), std::vector<int>(groups.size(), 0)};
  const auto all_known = [&] {
    return std::find(few.days.begin(), few.days.end(), 0) == few.days.end();
  };
  for (const int tried : tried_first)
    if (2 * tried < most && !all_known()) try_days(simulation, groups, tried, most, few, each);
  if (!all_known()) try_days(simulation, groups, most, most, few, each);
  return few;
}

}  // namespace

namespace inside {

Stays simulate(const Surroundings& surroundings, const StayQuestion& q,
               std::span<const kernel::Plant> plants, std::span<const Group> groups,
               const Each& each) {
  Simulation simulation(surroundings, q, plants, groups);
  const int years = surroundings.weather().years();
  Stays s = simulation.none(std::size_t(years));
  const bool all_whole =
      std::none_of(groups.begin(), groups.end(), [](const Group& g) { return bool(g.asked); });
  if (all_whole || years_first(years) >= years) {
    const std::vector<int> whole(groups.size(), q.longest_days);
    each(years, [&](int year) { simulation.run(year, std::size_t(year), whole, s); });
    return s;
  }
  Few few = look_at_few(simulation, groups, years, q.longest_days, each);
  const auto is_first = [&](int year) {
    return year % few.step == 0 && year / few.step < few.stays.years;
  };
  const std::size_t of_year = few.stays.all.size() / std::size_t(few.stays.years);
  for (int i = 0; i < few.stays.years; ++i)
    std::copy_n(few.stays.all.begin() + std::ptrdiff_t(std::size_t(i) * of_year), of_year,
                s.all.begin() + std::ptrdiff_t(std::size_t(i * few.step) * of_year));
  auto& days = few.days;
  each(years, [&](int year) {
    if (!is_first(year)) simulation.run(year, std::size_t(year), days, s);
  });
  // Where something asked is as long as was simulated it may be longer.
  bool again = false;
  std::size_t begin = 0;
  for (std::size_t g = 0; g < groups.size(); begin = groups[g++].end) {
    const bool short_of = days[g] < q.longest_days && longest_asked(groups[g], begin, s) >= days[g];
    days[g] = short_of ? q.longest_days : 0;
    again = again || short_of;
  }
  if (again) each(years, [&](int year) { simulation.run(year, std::size_t(year), days, s); });
  return s;
}

Duration longest_known(const Stays& s, int plant, Ratio chance) {
  const auto interval = reached_interval(s, plant, chance);
  return std::max(reached(s, plant, chance), interval ? (*interval)[1] : Duration{});
}

bool more_end_than(int so_many, const Surroundings& surroundings, const StayQuestion& q,
                   const kernel::Plant& plant, const Each& each) {
  const std::array groups{Group{1, Until::lengths}};
  Simulation simulation(surroundings, q, {&plant, 1}, groups);
  std::atomic<int> ended{0};
  each(surroundings.weather().years(), [&](int year) {
    if (ended > so_many) return;
    Stays s = simulation.none(1);
    simulation.run(year, 0, std::array{q.longest_days}, s);
    ended += int(std::count_if(s.all.begin(), s.all.end(), [](const auto& o) { return o.ended; }));
  });
  return ended > so_many;
}

bool all_outlast(const Surroundings& surroundings, const StayQuestion& q,
                 const kernel::Plant& plant, const Each& each) {
  return !more_end_than(0, surroundings, q, plant, each);
}

}  // namespace inside

int days_of_weather(const StayQuestion& q, int starts, int arrives) {
  return (starts - 1) * q.every + q.longest_days + (arrives > 0);
}

Stays simulate(const Surroundings& surroundings, const StayQuestion& q,
               std::span<const kernel::Plant> plants, const Each& each) {
  const std::array all{Group{plants.size(), q.until_empty ? Until::empty : Until::end}};
  return inside::simulate(surroundings, q, plants, all, each);
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

Ratio sure(const Share& share) {
  if (!share.interval || share.value >= Ratio(1.0)) return share.value;
  return (*share.interval)[0];
}

Duration reached(const Stays& s, int plant, Ratio chance) {
  auto hours = hours_lasted(s, plant);
  return order_statistic(hours, double(chance)) * hour;
}

std::optional<std::array<Duration, 2>> reached_interval(const Stays& s, int plant, Ratio chance) {
  if (s.years < 10) return std::nullopt;
  auto hours = hours_lasted(s, plant);
  const double length = order_statistic(hours, double(chance));
  const auto shares = wilson(double(chance), independent(s, plant, length));
  return {{order_statistic(hours, shares[1]) * hour, order_statistic(hours, shares[0]) * hour}};
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
  enum { aged, parked_less, parked, parked_more, fresh, less, more };
  const auto plant = *plant_of(design, promise.bank_age),
             with_less = *plant_of(design, promise.bank_age, {1.0 - sun, 1.0 + load}),
             with_more = *plant_of(design, promise.bank_age, {1.0 + sun, 1.0 - load});
  const auto stands = [](kernel::Plant p) {
    p.others_factor = 0.0;
    return p;
  };
  const std::array plants{
      plant,     stands(with_less), stands(plant), stands(with_more), *plant_of(design, 0.0 * year),
      with_less, with_more};
  StayAnswer a;
  const Charging charging = q.charging.value_or(surroundings.charging());
  a.travels = brings_anything(surroundings, charging);
  if (a.travels) a.first_charge = first_charge(surroundings, charging, q);
  // Where the van that stands does not come near to empty, not even with less sun and more use, it
  // does not with more sun, a newer bank and more charge either.
  const auto others_outlast = [&](Outcomes of_start) {
    const auto& o = of_start[parked_less];
    const double row = std::clamp(o.coldest_C - kernel::coldest_C, 0.0, kernel::temperatures - 1.0);
    return !o.ended && o.lowest > with_less.empty[std::size_t(row)] + clear_of_empty;
  };
  // Where nothing else charges, those that travel are those that stand.
  const std::span<const kernel::Plant> asked(plants.data(), a.travels ? 7 : 5);
  const bool is_promised = promise.stay && *promise.stay <= double(q.longest_days) * day;
  const inside::Asked of_length = [&](const Stays& so_far, int number) {
    const Duration told = inside::longest_known(so_far, number, promise.chance);
    return is_promised && number == parked ? std::max(told, *promise.stay) : told;
  };
  constexpr std::size_t with_doubt = 1;
  const Group::Outlasts outlasts{with_doubt, others_outlast};
  const std::array groups{Group{parked_less, q.until_empty ? Until::empty : Until::end},
                          Group{parked, Until::lengths, {}, {}, of_length},
                          Group{fresh, Until::lengths, outlasts, {}, of_length},
                          Group{asked.size(), Until::lengths, outlasts, {}, of_length}};
  const Stays s = inside::simulate(surroundings, q, asked, groups, each);
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
  a.outlast = lasting(s, a.travels ? int(aged) : int(parked), a.longest).value;
  if (promise.stay && *promise.stay <= a.longest) {
    a.promise = lasting(s, aged, *promise.stay);
    a.promise_parked = lasting(s, parked, *promise.stay).value;
  }
  a.unserved = unserved_share(s, aged);
  double coldest = 1e9, hottest = -1e9;
  const double days = double(a.starts) * q.longest_days;
  double days_heated = 0.0;
  for (int i = 0; i < a.starts; ++i) {
    const auto& o = s.all[std::size_t(i * s.plants + aged)];
    a.gathered += o.gathered / days * watt_hour;
    a.spilled += o.spilled / days * watt_hour;
    a.heated += o.heated_until_ended * watt_hour;
    days_heated += o.lasted_h / 24.0;
    a.shut_out += o.days_shut_out / days;
    coldest = std::min(coldest, o.coldest_C);
    hottest = std::max(hottest, o.hottest_C);
  }
  if (days_heated > 0.0) a.heated = a.heated / days_heated;
  a.coldest = celsius(coldest), a.hottest = celsius(hottest);
  return a;
}

}  // namespace housepower::energy

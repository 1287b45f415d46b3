// SPDX-License-Identifier: Apache-2.0
// Demand by consumer and by the hour.
#include "housepower/energy/demand.hpp"

#include <numeric>

namespace housepower::energy {
namespace {

using namespace design::resolved;
using Air = std::array<Temperature, 24>;
using HoursOn = std::array<Duration, 24>;

constexpr Source as_the_design_says{SourceKind::supplier, "the design", ""};

template <class Q> Q total(const std::array<Q, 24>& hours) {
  return std::accumulate(hours.begin(), hours.end(), Q{});
}
ByHour spread(Energy energy, const HoursOn& hours) {
  ByHour result{};
  const Duration all = total(hours);
  for (std::size_t h = 0; h < 24; ++h)
    if (all.value() > 0.0) result[h] = energy * double(hours[h] / all);
  return result;
}

/// What can be chosen from: the length of an appliance's windows in each hour.
HoursOn windows_of(const Appliance& appliance) {
  HoursOn hours{};
  for (std::size_t h = 0; h < 24; ++h) {
    const Duration begins = double(h) * hour, ends = begins + 1.0 * hour;
    if (appliance.windows.empty()) hours[h] = 1.0 * hour;
    for (const auto& window : appliance.windows)
      hours[h] +=
          std::max(Duration{}, Duration(std::min(ends, window.to) - std::max(begins, window.from)));
  }
  return hours;
}

/// What people would use beyond the windows: they cannot, but frugal use is of that.
Ratio wished(const Appliance& a) { return std::max(1.0, double(a.duty)); }

bool warms(const Appliance& a) { return a.duty_per_kelvin.value() != 0.0; }
bool heats(const Appliance& a) {
  return a.duty_in_cold && a.duty_in_cold->per_kelvin != Ratio(0.0);
}

/// Duty by the air; the working shows the hottest and the coldest hour.
Ratio duty_at(const Appliance& a, Temperature air, Working* hottest, Working* coldest) {
  const Ratio warm = step(warms(a) ? hottest : nullptr, duty_in_heat,
                          Ratio(std::min(1.0, double(a.duty))), a.duty_per_kelvin, air, a.duty_at);
  if (!heats(a)) return warm;
  return step(coldest, duty_in_cold, warm,
              PerKelvin::from_value(double(a.duty_in_cold->per_kelvin)), air, a.duty_in_cold->at);
}

/// How long an appliance draws in each hour of those that it is switched on.
HoursOn running(const Appliance& appliance, HoursOn hours, const Air& air, Ratio factor,
                Working* working) {
  const auto extremes = std::minmax_element(air.begin(), air.end());
  const auto coldest = std::size_t(extremes.first - air.begin());
  const auto hottest = std::size_t(extremes.second - air.begin());
  const HoursOn windows = windows_of(appliance);
  for (std::size_t h = 0; h < 24; ++h) {
    hours[h] = running_time(hours[h], duty_at(appliance, air[h], h == hottest ? working : nullptr,
                                              h == coldest ? working : nullptr));
    if (factor != Ratio(1.0)) hours[h] = habitual_time(windows[h], factor, hours[h]);
  }
  return hours;
}

Duration running_in_a_day(const Appliance& appliance, const HoursOn& on, const HoursOn& hours,
                          Ratio factor, Working* working) {
  if (!follows_air(appliance)) {
    const Duration stated_ =
        step(working, running_time, total(on), Ratio(std::min(1.0, double(appliance.duty))));
    if (factor == Ratio(1.0)) return stated_;
    return step(working, habitual_time, total(windows_of(appliance)), factor, stated_);
  }
  if (!working) return total(hours);
  std::vector<Term<Duration>> terms;
  for (std::size_t h = 0; h < 24; ++h)
    if (hours[h].value() > 0.0) terms.push_back({"hour " + std::to_string(h), hours[h]});
  return sum(working, "t_run", "time that it draws, by the air of each hour", terms);
}

Power power_of_one(const Appliance& appliance, Voltage bank, Working* working) {
  const Power rated = given(working, "P", "power of one", appliance.power, as_the_design_says);
  if (appliance.inverter || appliance.behaves == design::Behaviour::constant_power) return rated;
  return appliance.behaves == design::Behaviour::resistive
             ? step(working, resistive_power, rated, bank, appliance.rated_at)
             : step(working, constant_current_power, rated, bank, appliance.rated_at);
}

Ratio days_used(const design::Design& design, const Appliance& appliance, const Habit& habit) {
  for (const int i : habit.left_off)
    if (&design->appliances[std::size_t(i)] == &appliance) return 0.0;
  if (!habit.day_of_seven) return double(appliance.days_of_seven);
  return used_on(appliance, *habit.day_of_seven) ? 7.0 : 0.0;
}

Power power_of_start(const design::Design& design, const Appliance& appliance, Working* working) {
  constexpr Voltage mains = Voltage::from_value(230.0), normal = Voltage::from_value(12.5);
  const Voltage own = !appliance.inverter ? design->nominal * (normal / (12.0 * volt))
                      : appliance.rated_at > 60.0 * volt ? appliance.rated_at
                                                         : mains;
  return step(working, starting_power, own, appliance.starting->current);
}

/// At the appliance's own terminals: d.c., or a.c. behind an inverter.
Consumption own_energy(const design::Design& design, const Appliance& appliance, const Air& air,
                       Working* working, const Habit& habit) {
  const Voltage bank = counting_voltage(design);
  const Ratio factor = hours_factor(design, appliance, habit);
  const HoursOn on = switched_on(appliance);
  const HoursOn hours = running(appliance, on, air, factor, working);
  const Ratio quantity = double(appliance.quantity), days = days_used(design, appliance, habit);
  const Power power = power_of_one(appliance, bank, working);
  const Duration run = running_in_a_day(appliance, on, hours, factor, working);
  const Energy energy = step(working, appliance_energy, quantity, power, run, days);
  Consumption c{appliance.name, "appliance/" + appliance.name, energy, spread(energy, hours)};
  if (!appliance.starting || appliance.starts == 0 || !(total(on).value() > 0.0)) return c;
  const Energy starts =
      step(working, starting_energy, quantity, Ratio(double(factor) * appliance.starts),
           power_of_start(design, appliance, working), appliance.starting->time, power, run, days);
  const ByHour of_starts = spread(starts, on);
  for (std::size_t h = 0; h < 24; ++h) c.by_hour[h] += of_starts[h];
  c.energy += starts;
  return c;
}

/// Adds an inverter's loss to one of its appliances. `together` is the apparent energy of all of
/// its appliances by the hour.
void through_inverter(Consumption& consumer, const Appliance& appliance, const Inverter& inverter,
                      const ByHour& together, Working* working) {
  const Energy before = consumer.energy;
  if (!(before.value() > 0.0)) return;
  if (inverter.k) {
    const double factor = double(appliance.power_factor);
    const Power own = double(appliance.quantity) * appliance.power / factor;
    Power others{};
    for (std::size_t h = 0; h < 24; ++h)
      others += double(consumer.by_hour[h] / before) *
                ((together[h] - consumer.by_hour[h] / factor) / hour);
    consumer.energy = step(working, inverter_share, before, *inverter.k, own, others,
                           inverter.rating, appliance.power_factor);
  } else if (inverter.efficiency) {
    consumer.energy = step(working, inverter_flat, before, *inverter.efficiency);
  }
  for (Energy& e : consumer.by_hour) e *= double(consumer.energy / before);
}

/// The no-load draw of an inverter by its way of running.
Consumption no_load(const design::Design& design, const Inverter& inverter, int index,
                    Working* working, const Habit& habit) {
  HoursOn used{};
  for (const Appliance& appliance : design->appliances)
    if (appliance.inverter && appliance.inverter->index == index) {
      const HoursOn on = switched_on(design, appliance, habit);
      for (std::size_t h = 0; h < 24; ++h)
        used[h] = std::min(Duration(1.0 * hour),
                           used[h] + on[h] * (double(days_used(design, appliance, habit)) / 7.0));
    }
  const Ratio otherwise = idle_share(inverter.runs);
  const Energy energy = step(working, no_load_energy, inverter.no_load, total(used), otherwise);
  HoursOn weight{};
  for (std::size_t h = 0; h < 24; ++h)
    weight[h] = used[h] + (1.0 * hour - used[h]) * double(otherwise);
  return {inverter.name + ", no load", "inverter/" + inverter.name + "/no_load", energy,
          spread(energy, weight)};
}

Consumption standing(std::string name, std::string path, Power power, Working* working) {
  const Energy energy = step(working, standing_energy, power);
  HoursOn all_day;
  all_day.fill(1.0 * hour);
  return {std::move(name), std::move(path), energy, spread(energy, all_day)};
}

}  // namespace

Voltage counting_voltage(const design::Design& design) {
  return design->bank ? design->bank->voltage() : design->nominal * (12.8 / 12.0);
}

std::array<Temperature, 24> air_of_day(const design::Design& design, std::optional<int> month) {
  Air air;
  air.fill(without_a_place);
  if (design->site.town && month)
    for (int h = 0; h < 24; ++h) air[std::size_t(h)] = air_at(*design->site.town, *month, h);
  return air;
}

bool follows_air(const Appliance& appliance) { return warms(appliance) || heats(appliance); }

std::array<Duration, 24> switched_on(const Appliance& appliance) {
  HoursOn hours = windows_of(appliance);
  const Duration all = total(hours);
  if (appliance.per_day && all.value() > 0.0)
    for (Duration& on : hours) on *= double(*appliance.per_day / all);
  return hours;
}

std::array<Duration, 24> switched_on(const design::Design& design, const Appliance& appliance,
                                     const Habit& habit) {
  HoursOn hours = switched_on(appliance);
  const Ratio factor = hours_factor(design, appliance, habit);
  if (factor == Ratio(1.0)) return hours;
  const HoursOn windows = windows_of(appliance);
  for (std::size_t h = 0; h < 24; ++h) hours[h] = habitual_time(windows[h], factor, hours[h]);
  return hours;
}

Ratio idle_share(design::InverterRuns runs) {
  switch (runs) {
  case design::InverterRuns::always: return 1.0;
  case design::InverterRuns::search: return searching_share;
  case design::InverterRuns::while_used: return 0.0;
  }
  return 1.0;
}

std::string_view word_of(Use use) {
  constexpr std::string_view words_[] = {"frugal", "typical", "heavy"};
  return words_[std::size_t(use)];
}

Ratio use_factor(Use use) {
  switch (use) {
  case Use::frugal: return 0.75;
  case Use::typical: return 1.0;
  case Use::heavy: return 1.4;
  }
  return 1.4;
}

Ratio hours_factor(const design::Design& design, const Appliance& appliance, const Habit& habit) {
  const double use = double(use_factor(habit.use));
  const int written_for = design->promise.people;
  const double people = habit.people ? double(*habit.people) / written_for : 1.0;
  const double more = double(wished(appliance));
  if (use == 1.0 && people == 1.0) return more;
  if (design->assumed.count("appliance/" + appliance.name + "/used_by") > 0)
    return more * std::max(1.0, use) * std::max(1.0, people);
  return more * (appliance.used_by == design::UsedBy::people ? use * people : 1.0);
}

bool used_on(const Appliance& appliance, int day_of_seven) {
  const int w = appliance.days_of_seven;
  return (day_of_seven + 1) * w / 7 > day_of_seven * w / 7;
}

ByHour own_demand(const design::Design& design, const Appliance& appliance, const Air& air,
                  const Habit& habit) {
  return own_energy(design, appliance, air, nullptr, habit).by_hour;
}

std::vector<Consumption> consumption(const design::Design& design, const Air& air, Working* working,
                                     const Habit& habit) {
  std::vector<Consumption> result;
  result.reserve(design->appliances.size() + design->inverters.size() + design->controllers.size() +
                 1);
  std::vector<Working> workings(design->appliances.size());
  design::List<ByHour, Inverter> together(design->inverters.size(), ByHour{});
  for (std::size_t i = 0; i < design->appliances.size(); ++i) {
    const Appliance& appliance = design->appliances[i];
    result.push_back(own_energy(design, appliance, air, working ? &workings[i] : nullptr, habit));
    if (appliance.inverter)
      for (std::size_t h = 0; h < 24; ++h)
        together[*appliance.inverter][h] += result[i].by_hour[h] / double(appliance.power_factor);
  }
  for (std::size_t i = 0; i < design->appliances.size(); ++i) {
    const Appliance& appliance = design->appliances[i];
    if (appliance.inverter)
      through_inverter(result[i], appliance, design[*appliance.inverter],
                       together[*appliance.inverter], working ? &workings[i] : nullptr);
    if (working) working->insert(working->end(), workings[i].begin(), workings[i].end());
  }

  for (std::size_t i = 0; i < design->inverters.size(); ++i)
    result.push_back(no_load(design, design->inverters[i], int(i), working, habit));
  if (design->bank) {
    const auto& bank = *design->bank;
    const Power draw =
        step(working, current_power, Ratio(double(bank.parallel)), bank.voltage(), bank.own_draw);
    result.push_back(standing("bank, own draw", "bank/own_draw", draw, working));
  }
  for (const auto& controller : design->controllers)
    result.push_back(standing(controller.name + ", own draw",
                              "controller/" + controller.name + "/own_draw", controller.own_draw,
                              working));
  return result;
}

}  // namespace housepower::energy

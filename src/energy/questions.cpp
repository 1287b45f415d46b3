// SPDX-License-Identifier: Apache-2.0
// Runtimes, nights and refills from the mean day of the judged month.
#include "housepower/energy/questions.hpp"

#include <algorithm>

#include "housepower/units/unit.hpp"
#include "simulating.hpp"

namespace housepower::energy {
namespace {

using design::resolved::Appliance;

/// Time in which an appliance is switched on in the mean day.
Duration on_in_a_day(const design::Design& design, const Appliance& appliance, const Habit& habit) {
  Duration all{};
  for (const Duration& on : switched_on(design, appliance, habit)) all += on;
  return all * (appliance.days_of_seven / 7.0);
}

constexpr int refill_days = 60;

/// A day that repeats itself, with a plant that starts at the reserve.
Refill refill(const design::Design& design, const Temperature& cells, std::string by,
              const std::array<double, 24>& sun, const std::array<double, 24>& load,
              double others = 0.0, const design::resolved::Charger* charger = nullptr) {
  kernel::Plant plant = *plant_of(design, design->promise.bank_age);
  if (charger) {
    const kernel::Plant any;
    plant.full_by_others = any.full_by_others, plant.rests_by_others = any.rests_by_others;
    limit_by(design, *charger, plant);
  }
  plant.arrive = double(design->promise.reserve);
  plant.decay = 0.0, plant.rise_K_W = 0.0, plant.heater_W = 0.0;  // cells as warm as is said
  std::vector<double> sun_W, load_W;
  for (int d = 0; d < refill_days; ++d) {
    sun_W.insert(sun_W.end(), sun.begin(), sun.end());
    load_W.insert(load_W.end(), load.begin(), load.end());
  }
  const std::vector<double> air(sun_W.size(), in_celsius(cells)), other(sun_W.size(), others);
  kernel::Hours hours{sun_W, air, {}, 1, other};
  hours.load_W[0] = load_W;
  kernel::Outcome out;
  kernel::run(hours, 0, int(sun_W.size()), {&plant, 1}, {&out, 1});
  Refill r{std::move(by), {}, out.highest};
  if (out.full_h >= 0.0) r.takes = out.full_h * hour;
  return r;
}

}  // namespace

std::string with_its_power(const Appliance& appliance) {
  if (appliance.quantity <= 1) return appliance.name + " of " + print(Number(appliance.power));
  return std::to_string(appliance.quantity) + " × " + appliance.name + ", " +
         print(Number(appliance.power * double(appliance.quantity))) + " together";
}

std::optional<Power> too_much_for_the_batteries(const design::Design& design,
                                                const Appliance& appliance) {
  if (!design->bank || !design->bank->discharge_limit) return std::nullopt;
  const auto& bank = *design->bank;
  const Power most = *bank.discharge_limit * double(bank.parallel) * bank.voltage();
  return appliance.power * double(appliance.quantity) > most ? std::optional(most) : std::nullopt;
}

std::vector<Runtime> runtimes(const design::Design& design, const Assessment& a) {
  std::vector<Runtime> list;
  if (!a.usable || a.months.empty()) return list;
  const MonthDay& day_ = a.months[a.judged];
  const double from_full = (1.0 - double(design->promise.reserve)) /
                           double(design->promise.arrive_at - design->promise.reserve);
  const Energy usable = a.usable->energy * from_full;
  Power standing{};
  for (const auto& c : day_.consumers)
    if (c.path == "bank/own_draw") standing = c.energy / day;
  for (const Appliance& appliance : design->appliances) {
    const auto own = std::find_if(day_.consumers.begin(), day_.consumers.end(), [&](const auto& c) {
      return c.path == "appliance/" + appliance.name;
    });
    const Duration on = on_in_a_day(design, appliance, a.habit);
    if (own == day_.consumers.end() || !(on.value() > 0.0) || !(own->energy.value() > 0.0))
      continue;
    Runtime r{appliance.name, own->energy / on, {}, {}};
    const Power idle = appliance.inverter ? design[*appliance.inverter].no_load : 0.0 * watt;
    r.alone = running_out(usable, Power(r.power + idle + standing));
    const Power rest = (day_.load - own->energy) / day;
    r.with_the_rest =
        running_out(usable, std::max(Power(r.power + rest), Power(r.power + idle + standing)));
    list.push_back(std::move(r));
  }
  return list;
}

Night night_of(const design::Design& design, const Assessment& a) {
  Night night;
  if (a.months.empty()) return night;
  const auto month = design->site.town ? std::optional(a.months[a.judged].month) : std::nullopt;
  for (const Consumption& c : consumption(design, air_of_day(design, month), nullptr, a.habit)) {
    Energy taken{};
    for (std::size_t h = 0; h < 24; ++h)
      if (h >= 18 || h < 8) taken += c.by_hour[h];
    if (!(taken.value() > 0.0)) continue;
    night.energy += taken;
    night.consumers.push_back({c.name, c.path, taken, taken / counting_voltage(design)});
  }
  std::stable_sort(night.consumers.begin(), night.consumers.end(),
                   [](const auto& x, const auto& y) { return x.energy > y.energy; });
  return night;
}

std::vector<Refill> refills(const design::Design& design, const Assessment& a,
                            const DeliveredList& delivered) {
  std::vector<Refill> list;
  if (!a.usable || a.months.empty()) return list;
  const MonthDay& day_ = a.months[a.judged];
  std::array<double, 24> sun{}, load{}, standing{}, none{};
  double own = 0.0;
  for (const auto& c : day_.consumers)
    if (c.path == "bank/own_draw") own = c.energy / (24.0 * hour) / watt;
  for (std::size_t h = 0; h < 24; ++h) {
    sun[h] = day_.solar_by_hour[h] / watt_hour / double(storage_efficiency);
    load[h] = day_.load_by_hour[h] / watt_hour;
    standing[h] = own;
  }
  const Temperature cells = a.usable->temperature;
  if (a.has_array && a.has_place) {
    list.push_back(refill(design, cells, "sun", sun, load));
    list.push_back(refill(design, cells, "sun, all else off", sun, standing));
  }
  const double volts = (counting_voltage(design) / double(storage_efficiency)).value();
  for (std::size_t i = 0; i < design->chargers.size(); ++i) {
    const auto& charger = design->chargers[i];
    const double others = current_from(design, i, delivered).value() * volts;
    list.push_back(refill(design, cells, charger.name, none, load, others, &charger));
  }
  return list;
}

Energy charged_by_travel(const design::Design& design, const DeliveredList& delivered) {
  using design::ChargerKind;
  const auto watts = [&](ChargerKind kind) {
    return (charging_current(design, kind, delivered) * counting_voltage(design)).value();
  };
  constexpr int some_days = 840;  // whole weeks, and whole rounds of most driving
  const auto hours = others_in(
      charging_of(design->travel),
      {watts(ChargerKind::dc_dc), watts(ChargerKind::mains), watts(ChargerKind::generator)},
      some_days + 1, 0);
  double all = 0.0;  // Wh; the day of arrival has no drive
  for (std::size_t h = 24; h < hours.size(); ++h) all += hours[h];
  return all / some_days * watt_hour;
}

bool keeps_up(const design::Design& design, const Assessment& a, const DeliveredList& delivered) {
  return !a.months.empty() &&
         a.months[a.judged].balance + charged_by_travel(design, delivered) >= Energy{};
}

std::vector<ToStayOn> to_stay_on(const design::Design& design, const Surroundings& few,
                                 const StayQuestion& few_question, const Surroundings& surroundings,
                                 const StayQuestion& question, const Each& each) {
  using design::ChargerKind;
  const kernel::Plant plant = *plant_of(design, design->promise.bank_age, at_the_lower_end(design));
  struct Means {
    const char* name;
    ChargerKind kind;
    Charging (*for_hours)(Duration);
  };
  constexpr Means all[] = {{"driving", ChargerKind::dc_dc,
                            [](Duration h) {
                              return Charging{h, 1.0 * day, {}, {}, 0};
                            }},
                           {"mains", ChargerKind::mains,
                            [](Duration h) {
                              return Charging{{}, {}, {}, h, 7};
                            }},
                           {"generator", ChargerKind::generator, [](Duration h) {
                              return Charging{{}, {}, h, {}, 0};
                            }}};
  std::vector<ToStayOn> list;
  for (const Means& means : all) {
    if (!(surroundings.current_of(means.kind).value() > 0.0)) continue;
    const auto suffices = [&](const Surroundings& around, StayQuestion with, int half_hours) {
      with.until_empty = true;
      with.charging = means.for_hours(0.5 * half_hours * hour);
      return inside::all_outlast(around, with, plant, each);
    };
    int enough = 25, too_few = -1;  // in half hours
    while (enough - too_few > 1) {
      const int middle = (enough + too_few) / 2;
      (suffices(few, few_question, middle) ? enough : too_few) = middle;
    }
    while (enough <= 24 && !suffices(surroundings, question, enough)) ++enough;
    ToStayOn one{means.name, {}};
    if (enough <= 24) one.a_day = 0.5 * enough * hour;
    list.push_back(std::move(one));
  }
  return list;
}

std::vector<ToStayOn> to_stay_on(const design::Design& design, const Surroundings& surroundings,
                                 const StayQuestion& q, const Each& each) {
  return to_stay_on(design, surroundings, q, surroundings, q, each);
}

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// The months of a design, what its bank gives, and the month on which its promise rests.
#include "housepower/energy/assessment.hpp"

#include <algorithm>
#include <numeric>

#include "housepower/energy/autonomy.hpp"
#include "housepower/energy/demand.hpp"
#include "housepower/energy/outlook.hpp"
#include "housepower/energy/plant.hpp"
#include "housepower/energy/without_charging.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/parts/cell.hpp"
#include "notes.hpp"

namespace housepower::energy {

Assessment::Assessment() = default;
Assessment::Assessment(const Assessment&) = default;
Assessment::Assessment(Assessment&&) noexcept = default;
Assessment& Assessment::operator=(const Assessment&) = default;
Assessment& Assessment::operator=(Assessment&&) noexcept = default;
Assessment::~Assessment() = default;
namespace {

const tables::Town* town_of(const design::Design& design, std::optional<int> month) {
  return month ? design->site.town : nullptr;
}

}  // namespace

std::string_view month_name(int month) {
  constexpr std::string_view names[] = {"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};
  return names[static_cast<std::size_t>(month)];
}

MonthDay month_day(const design::Design& design, std::optional<int> month, Working* load,
                   Working* solar, const Habit& habit) {
  MonthDay result;
  result.month = month.value_or(0);
  const auto air = air_of_day(design, month);
  result.ambient = without_a_place;
  if (const auto* town = town_of(design, month)) {
    const MeanDay sun = mean_day(design, *month, solar);
    const auto m = std::size_t(*month);
    result.ambient = town->lowest[m] + (town->highest[m] - town->lowest[m]) * 0.5;
    const SolarDay gathered = solar_day(design, sun, solar);
    result.solar_by_hour = gathered.by_hour;
    result.clipped = gathered.clipped;
  }

  const Voltage counted_at = counting_voltage(design);
  std::vector<Term<Energy>> terms;
  const auto all = consumption(design, air, load, habit);
  terms.reserve(all.size());
  result.consumers.reserve(all.size());
  for (const Consumption& c : all) {
    result.consumers.push_back({c.name, c.path, c.energy, c.energy / counted_at});
    for (std::size_t h = 0; h < 24; ++h) result.load_by_hour[h] += c.by_hour[h];
    terms.push_back({c.name, c.energy});
  }
  result.load = sum(load, "E_load", "energy used in the mean day", terms);
  result.load_charge = result.load / counted_at;

  std::vector<Term<Energy>> hours;
  for (std::size_t h = 0; h < 24; ++h)
    if (result.solar_by_hour[h].value() > 0.0)
      hours.push_back({"hour " + std::to_string(h), result.solar_by_hour[h]});
  result.solar = sum(solar, "E_sun", "from the sun in the mean day", hours);
  result.balance = step(solar, daily_balance, result.solar, result.load);
  return result;
}

GivenInCold given_in_cold(const design::Design& design, std::optional<int> month,
                          Working* working) {
  const auto* town = town_of(design, month);
  const Source of_air =
      town ? town->source : Source{SourceKind::from_memory, "no place given", "25 °C assumed"};
  const auto& cells = design->tables->cells;
  GivenInCold cold;
  cold.temperature = given(working, "T", "cells: the month's mean minimum",
                           town ? town->lowest[std::size_t(*month)] : without_a_place, of_air);
  cold.share = given(working, "f_T", "share given at that temperature, straight between rows",
                     parts::capacity_factor(cells, cold.temperature), cells.capacity.source);
  return cold;
}

Usable usable_capacity(const design::Design& design, std::optional<int> month, Working* working) {
  Usable result;
  if (!design->bank) return result;
  const auto& bank = *design->bank;
  const auto& promise = design->promise;
  const GivenInCold cold = given_in_cold(design, month, working);
  result.temperature = cold.temperature;
  result.temperature_factor = cold.share;
  result.age_factor = parts::age_factor(bank, promise.bank_age, working);
  result.charge = step(working, parts::usable_charge, bank.rated(), result.age_factor,
                       result.temperature_factor, promise.arrive_at, promise.reserve);
  result.energy = step(working, usable_energy, result.charge, bank.voltage());
  return result;
}

Duration autonomy_of(const Usable& usable, const MonthDay& month, Working* working) {
  return step(working, days_of_autonomy, usable.energy, month.load);
}

namespace {

bool by_balance(const design::Design& design, const Assessment& a) {
  const auto& promise = design->promise;
  return (!promise.autonomy && (promise.unlimited || promise.stay)) || !a.has_bank || !a.has_place;
}

bool heats_from_bank(const design::Design& design) {
  const auto& box = design->bank->box;
  return box && box->heater && box->heater->supplied_by == design::HeaterSupply::bank;
}

/// What the bank gives by itself in its months: by the mean day and, where weather is known, hour by
/// hour.
class ByItself {
public:
  ByItself(const design::Design& design, const Habit& habit, const Weather* weather)
      : design_(design) {
    if (weather) surroundings_.emplace(design, *weather, habit);
  }
  [[nodiscard]] std::optional<Duration> mean_day(const MonthDay& month) const {
    if (!(month.load.value() > 0.0)) return std::nullopt;
    const auto of_month = design_->site.town ? std::optional(month.month) : std::nullopt;
    return autonomy_of(usable_capacity(design_, of_month), month);
  }
  [[nodiscard]] std::optional<WithoutCharging> hours(const MonthDay& month) const {
    const bool uses_nothing = !(month.load.value() > 0.0) && !heats_from_bank(design_);
    if (!surroundings_ || uses_nothing) return std::nullopt;
    const Duration guess = mean_day(month).value_or(8.0 * day);
    return without_charging(design_, *surroundings_, month.month, guess);
  }
  /// How well a month keeps the promise: the lowest is the one on which it rests.
  [[nodiscard]] double kept_in(const MonthDay& month) const {
    const double of_mean_day = mean_day(month).value_or(1e4 * day) / day;
    const auto simulated = hours(month);
    // Where all outlast the horizon, the mean day tells months apart.
    return simulated ? double(simulated->lasts / day) + 1e-6 * of_mean_day : of_mean_day;
  }

private:
  const design::Design& design_;
  std::optional<Surroundings> surroundings_;
};

std::size_t judged_of(const design::Design& design, const Assessment& a, const ByItself* bank) {
  if (a.months.size() == 1) return 0;
  std::size_t worst = 0;
  if (!bank || by_balance(design, a)) {
    for (std::size_t m = 1; m < a.months.size(); ++m)
      if (a.months[m].balance < a.months[worst].balance) worst = m;
    return worst;
  }
  double least = 1e18;
  for (std::size_t m = 0; m < a.months.size(); ++m) {
    const double kept = bank->kept_in(a.months[m]);
    if (kept < least) least = kept, worst = m;
  }
  return worst;
}

Assessment assess_months(const design::Design& design, int first, int last, const Habit& habit,
                         bool hour_by_hour = true, Skies* skies = nullptr) {
  Assessment a;
  a.habit = habit;
  a.has_bank = design->bank.has_value();
  a.has_place = design->site.town != nullptr;
  a.has_array = !design->arrays.empty();
  a.months.reserve(12);
  if (!a.has_place) a.months.push_back(month_day(design, std::nullopt, nullptr, nullptr, habit));
  else
    for (int m = first; m <= last; ++m)
      a.months.push_back(month_day(design, m, nullptr, nullptr, habit));

  std::optional<ByItself> bank;
  if (a.has_bank) {
    std::optional<Weather> weather;
    if (hour_by_hour) weather = weather_of(design, years_for_autonomy, usual_seed, skies);
    bank.emplace(design, habit, weather ? &*weather : nullptr);
  }
  a.judged = judged_of(design, a, bank ? &*bank : nullptr);
  if (bank) {
    const MonthDay& judged = a.months[a.judged];
    a.usable = usable_capacity(design, a.has_place ? std::optional(judged.month) : std::nullopt);
    a.autonomy_mean_day = bank->mean_day(judged);
    a.without_charging = bank->hours(judged);
    a.autonomy =
        a.without_charging ? std::optional(a.without_charging->lasts) : a.autonomy_mean_day;
  }
  a.input_doubt = input_doubt_of(design);
  a.notes = notes_of(design, a);
  return a;
}

}  // namespace

Assessment assess(const design::Design& design, const Habit& habit, Skies* skies) {
  const auto month = design->site.month;
  return assess_months(design, month.value_or(0), month.value_or(11), habit, true, skies);
}
Assessment assess(const design::Design& design, int month, const Habit& habit) {
  return assess_months(design, month, month, habit);
}
std::optional<WithoutCharging> without_charging(const design::Design& design,
                                                const Weather& weather, int month) {
  if (!design->bank) return std::nullopt;
  return ByItself(design, {}, &weather).hours(month_day(design, month));
}
Assessment assess_mean_days(const design::Design& design, const Habit& habit) {
  const auto month = design->site.month;
  return assess_months(design, month.value_or(0), month.value_or(11), habit, false);
}

}  // namespace housepower::energy

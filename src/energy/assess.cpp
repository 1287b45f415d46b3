// SPDX-License-Identifier: Apache-2.0
// The months of a design, what its bank gives, and the month on which its promise rests.
#include "housepower/energy/assessment.hpp"

#include <algorithm>

#include "housepower/energy/autonomy.hpp"
#include "housepower/energy/demand.hpp"
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

constexpr Temperature without_a_place = celsius(25.0);

const tables::Town* town_of(const design::Design& design, std::optional<int> month) {
  return month ? design->site.town : nullptr;
}

/// How well a month keeps the promise: the lowest is the one on which it rests.
Number kept_in(const design::Design& design, const Assessment& a, const MonthDay& month) {
  const auto& promise = design->promise;
  const bool by_balance = !promise.autonomy && (promise.unlimited || promise.stay);
  if (by_balance || !a.has_bank || !a.has_place) return month.balance;
  return Number(Ratio(usable_capacity(design, month.month).energy / month.load));
}

}  // namespace

std::string_view month_name(int month) {
  constexpr std::string_view names[] = {"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};
  return names[static_cast<std::size_t>(month)];
}

MonthDay month_day(const design::Design& design, std::optional<int> month, Working* load,
                   Working* solar) {
  MonthDay result;
  result.month = month.value_or(0);
  std::array<Temperature, 24> air;
  air.fill(without_a_place);
  result.ambient = without_a_place;
  if (const auto* town = town_of(design, month)) {
    const MeanDay sun = mean_day(*town, *month, solar);
    for (std::size_t h = 0; h < 24; ++h) air[h] = sun.hours[h].air;
    const auto m = std::size_t(*month);
    result.ambient = town->lowest[m] + (town->highest[m] - town->lowest[m]) * 0.5;
    const SolarDay gathered = solar_day(design, sun, solar);
    result.solar_by_hour = gathered.by_hour;
    result.clipped = gathered.clipped;
  }

  const Voltage counted_at = counting_voltage(design);
  std::vector<Term<Energy>> terms;
  const auto all = consumption(design, air, load);
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
  result.solar = sum(solar, "E_sun", "gathered in the mean day", hours);
  result.balance = step(solar, daily_balance, result.solar, result.load);
  return result;
}

Usable usable_capacity(const design::Design& design, std::optional<int> month, Working* working) {
  Usable result;
  if (!design->bank) return result;
  const auto& bank = *design->bank;
  const auto& promise = design->promise;
  const auto* town = town_of(design, month);
  const Source of_air =
      town ? town->source : Source{SourceKind::from_memory, "no place given", "25 °C assumed"};
  result.temperature = given(working, "T", "cells: the month's mean minimum",
                             town ? town->lowest[std::size_t(*month)] : without_a_place, of_air);
  const auto& cells = design->tables->cells;
  result.age_factor = parts::age_factor(bank, promise.bank_age, working);
  result.temperature_factor =
      given(working, "f_T", "share given at that temperature, next colder row",
            parts::capacity_factor(cells, result.temperature), cells.capacity.source);
  result.charge = step(working, parts::usable_charge, bank.rated(), result.age_factor,
                       result.temperature_factor, promise.arrive_at, promise.reserve);
  result.energy = step(working, usable_energy, result.charge, bank.voltage());
  return result;
}

Duration autonomy_of(const Usable& usable, const MonthDay& month, Working* working) {
  return step(working, days_of_autonomy, usable.energy, month.load);
}

namespace {

Assessment assess_months(const design::Design& design, int first, int last) {
  Assessment a;
  a.has_bank = design->bank.has_value();
  a.has_place = design->site.town != nullptr;
  a.has_array = !design->arrays.empty();
  a.months.reserve(12);
  if (!a.has_place) a.months.push_back(month_day(design, std::nullopt));
  else
    for (int m = first; m <= last; ++m) a.months.push_back(month_day(design, m));

  std::vector<double> kept;
  for (const MonthDay& month : a.months) kept.push_back(kept_in(design, a, month).si);
  a.judged = std::size_t(std::min_element(kept.begin(), kept.end()) - kept.begin());
  const MonthDay& judged = a.months[a.judged];
  if (a.has_bank) {
    a.usable = usable_capacity(design, a.has_place ? std::optional(judged.month) : std::nullopt);
    if (judged.load.value() > 0.0) a.autonomy = autonomy_of(*a.usable, judged);
  }
  a.notes = notes_of(design, a);
  return a;
}

}  // namespace

Assessment assess(const design::Design& design) {
  const auto month = design->site.month;
  return assess_months(design, month.value_or(0), month.value_or(11));
}
Assessment assess(const design::Design& design, int month) {
  return assess_months(design, month, month);
}

}  // namespace housepower::energy

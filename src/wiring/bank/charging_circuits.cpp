// SPDX-License-Identifier: Apache-2.0
// Arrays against their controllers, and sums of what charges at once.
#include "housepower/wiring/charging_circuits.hpp"

#include "../inside.hpp"
#include "housepower/parts/module.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr Irradiance full_sun = 1000.0 * parts::watt_per_square_metre;

/// Strings of all arrays on a controller, with the largest current of one.
struct Strings {
  double count = 0;
  std::optional<Current> largest{};
  bool known = true;
};
Strings strings_of_controller(const design::Design& d, ControllerId id) {
  Strings all;
  for (const Array& a : d->arrays) {
    if (a.controller.index != id.index) continue;
    all.count += double(strings_of(a));
    if (!a.module.isc) all.known = false;
    else all.largest = std::max(all.largest.value_or(*a.module.isc), *a.module.isc);
  }
  return all;
}

}  // namespace

std::optional<Voltage> cold_string_voltage(const design::Design& d, const Array& array,
                                           Working* working) {
  const auto& m = array.module;
  if (!m.voc || !m.voc_coefficient || !d->site.record_low) return std::nullopt;
  const Voltage one =
      step(working, parts::cold_voltage, *m.voc, *m.voc_coefficient, *d->site.record_low);
  return step(working, parts::string_voltage, Ratio(array.in_series), one);
}

std::optional<Voltage> hot_string_voltage(const design::Design& d, const Array& array,
                                          Working* working) {
  const auto& m = array.module;
  if (!m.vmp || !d->site.town) return std::nullopt;
  const auto& highest = d->site.town->highest;
  const Temperature air =
      given(working, "T_a", "air: the hottest month's mean maximum",
            *std::max_element(highest.begin(), highest.end()), d->site.town->source);
  const auto k = given(working, "k", "Ross coefficient of the mounting",
                       parts::ross_coefficient(array.mount), parts::ross_temperature.source);
  const Temperature cell = step(working, parts::ross_temperature, air, k, full_sun);
  const PerKelvin power =
      given(working, "γ", "power coefficient",
            m.power_coefficient.value_or(parts::usual_power_coefficient),
            m.power_coefficient ? as_stated : parts::usual_power_coefficient_source);
  const Voltage one =
      step(working, parts::hot_voltage, *m.vmp, power, parts::usual_current_coefficient, cell);
  return step(working, parts::string_voltage, Ratio(array.in_series), one);
}

Voltage charging_voltage_needed(const design::Design& d, const Assessment& a, const Array& array,
                                Working* working) {
  const Voltage charge = d[array.controller].charge_voltage;
  std::vector<Term<Voltage>> terms{{"charge voltage", charge}};
  const Way& way = a.ways[array.post];
  const Current i = strings_of(array) * array.module.imp.value_or(Current{});
  if (!way.outgoing.empty())
    given(working, "I", "current of its strings at best power", i, as_stated);
  const auto add = [&](const std::vector<Way::Part>& parts, design::Pole pole, const char* what) {
    for (const auto& part : parts) {
      const Run& run = d[part.run];
      const RunFacts& facts = a.runs[part.run];
      const bool outgoing = pole == design::Pole::outgoing;
      const auto* c = conductor_of(facts, pole);
      const Temperature t =
          c ? temperature_of(run, outgoing ? facts.heating : facts.heating_back, i, working)
            : celsius(20.0);
      const Resistance in_line = in_line_of(run, pole, c, working);
      const Resistance r = resistance_of(d, run, pole, c, t, in_line, working);
      terms.push_back({run.name + what, step(working, pole_drop, i, r)});
    }
  };
  add(way.outgoing, design::Pole::outgoing, ", outgoing");
  add(way.back, design::Pole::return_, ", return");
  return sum(working, "U_need", "what the array must reach", terms);
}

std::optional<Current> array_short_circuit(const design::Design& d, ControllerId id,
                                           Working* working) {
  if (!strings_of_controller(d, id).known) return std::nullopt;
  std::vector<Term<Current>> terms;
  for (const Array& a : d->arrays)
    if (a.controller.index == id.index)
      terms.push_back({a.name, step(working, array_current, strings_of(a), *a.module.isc)});
  return sum(working, "I_sc", "all arrays of the controller, short-circuited in strong sun", terms);
}

std::optional<Current> reverse_current_of(const design::Design& d, const Array& array,
                                          Working* working) {
  const Strings all = strings_of_controller(d, array.controller);
  if (!all.known || !all.largest) return std::nullopt;
  return step(working, reverse_current, Ratio(all.count), *all.largest);
}

int strings_on(const design::Design& d, ControllerId id) {
  return int(strings_of_controller(d, id).count);
}

std::vector<ChargingSum> charging_sums(const design::Design& d, const Assessment& a) {
  std::vector<ChargingSum> all;
  const auto sets = charging_sets(d);
  for (std::size_t i = 0; i < sets.size(); ++i) {
    const ChargingSet& set = sets[i];
    ChargingSum sum_{set.name, set.in_case(), {}, {}, {}, {}};
    for (const Consumer& c : set.members) {
      if (c.kind != Consumer::Kind::charger_out && c.kind != Consumer::Kind::controller_out)
        continue;
      sum_.parts.push_back({name_of(d, c), -full_current(d, c)});
      sum_.total += sum_.parts.back().value;
      const std::string unknown = unknown_of(d, a.ways[post_of(d, c)]);
      if (!unknown.empty()) sum_.why_unknown = unknown;
    }
    for (const CaseResult& in : a.cases)
      if (in.load_case.charging_set == i)
        for (const BatteryInCase& b : in.batteries)
          sum_.busiest = std::max(sum_.busiest.value_or(Current{}), Current(-b.current));
    if (!sum_.busiest && sum_.why_unknown.empty()) sum_.why_unknown = "the network has no solution";
    if (!sum_.why_unknown.empty()) sum_.busiest.reset();
    all.push_back(std::move(sum_));
  }
  return all;
}

}  // namespace housepower::wiring

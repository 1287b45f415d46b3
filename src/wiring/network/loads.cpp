// SPDX-License-Identifier: Apache-2.0
// Everything that draws from the network or charges into it, and the currents it counts with.
#include <numeric>

#include "../inside.hpp"
#include "housepower/parts/inverter.hpp"

namespace housepower::wiring::inside {
namespace {

using design::Behaviour;
using ConsumerKind = Consumer::Kind;

constexpr Voltage highest_charging = Voltage::from_value(14.6);  // of a 12 V system
constexpr Voltage normal_voltage = Voltage::from_value(12.5);
constexpr Voltage mains = Voltage::from_value(230.0);
constexpr Duration long_enough = Duration::from_value(1800.0);

Voltage scaled(const design::Design& d, Voltage of_twelve) {
  return of_twelve * (d->nominal.value() / 12.0);
}

/// The longest that a load is on without a break, as far as it is known.
Duration lasts(const Appliance& a) {
  Duration longest{};
  for (const Window& w : a.windows) longest = std::max(longest, Duration(w.to - w.from));
  if (a.windows.size() > 1 && a.windows.front().from.value() == 0.0 && a.windows.back().to >= day) {
    const Window &night = a.windows.back(), &morning = a.windows.front();
    longest = std::max(longest, Duration(night.to - night.from + morning.to));
  }
  return std::min(longest, a.per_day.value_or(longest));
}

Current appliance_current(const Appliance& a, Voltage low, Voltage high, Working* working) {
  const Ratio many = double(a.quantity);
  switch (a.behaves) {
  case Behaviour::constant_power: return step(working, current_of_power, many, a.power, low);
  case Behaviour::constant_current:
    return step(working, current_of_power, many, a.power, a.rated_at);
  case Behaviour::resistive: break;
  }
  return step(working, current_of_resistance, many, a.power, high, a.rated_at);
}

/// What is asked of an inverter, no more than it gives.
template <class Counts>
Power asked_of(const design::Design& d, int inverter, Power most, Counts counts) {
  Power asked{};
  for (std::size_t i = 0; i < d->appliances.size(); ++i) {
    const Appliance& a = d->appliances[i];
    if (a.inverter && a.inverter->index == inverter) asked += counts(ApplianceId{int(i)}, a);
  }
  return std::min(asked, most);
}
Power apparent(const Appliance& a, double many) { return many * a.power / double(a.power_factor); }

bool holds(const std::vector<ApplianceId>& list, ApplianceId id) {
  return std::find(list.begin(), list.end(), id) != list.end();
}

/// Real power asked of an inverter in a case; a start is bounded by its surge rating.
Power in_case(const design::Design& d, const LoadCase& c, int inverter) {
  const Inverter& i = d->inverters[inverter];
  const bool starts = c.starting && d->appliances[*c.starting].starting;
  const Power unbounded = Power::from_value(1e9);  // a surge rating that is not stated
  const Power most = !starts ? i.rating : i.surge ? std::max(i.rating, i.surge->power) : unbounded;
  return asked_in_case(d, c, inverter, most);
}

bool charges(const LoadCase& c, const std::string& name) {
  return std::find(c.charging.begin(), c.charging.end(), name) != c.charging.end();
}

}  // namespace

Power start_power(const Appliance& a) {
  return (a.rated_at > 60.0 * volt ? a.rated_at : mains) * a.starting->current;
}

Power asked_in_case(const design::Design& d, const LoadCase& c, int inverter, Power most) {
  return asked_of(d, inverter, most, [&](ApplianceId id, const Appliance& a) {
    if (c.starting != id || !a.starting)
      return holds(c.running, id) || c.starting == id ? double(a.quantity) * a.power : Power{};
    return double(a.quantity - 1) * a.power + start_power(a);
  });
}

std::vector<Consumer> drawing(const design::Design& d) {
  std::vector<Consumer> all;
  for (std::size_t i = 0; i < d->appliances.size(); ++i)
    if (!d->appliances[i].inverter) all.push_back({ConsumerKind::appliance, int(i)});
  for (std::size_t i = 0; i < d->inverters.size(); ++i)
    all.push_back({ConsumerKind::inverter, int(i)});
  return all;
}

std::vector<Consumer> charging(const design::Design& d) {
  std::vector<Consumer> all;
  for (std::size_t i = 0; i < d->chargers.size(); ++i) {
    all.push_back({ConsumerKind::charger_out, int(i)});
    if (d->chargers[i].in) all.push_back({ConsumerKind::charger_in, int(i)});
  }
  for (std::size_t i = 0; i < d->controllers.size(); ++i)
    all.push_back({ConsumerKind::controller_out, int(i)});
  for (std::size_t i = 0; i < d->arrays.size(); ++i) all.push_back({ConsumerKind::array, int(i)});
  return all;
}

std::vector<ChargingSet> charging_sets(const design::Design& d) {
  using From = std::optional<design::ChargerKind>;  // nothing: the sun
  const auto from = [&](const Consumer& c) {
    const bool charger = c.kind == ConsumerKind::charger_in || c.kind == ConsumerKind::charger_out;
    return charger ? From(d->chargers[{c.index}].kind) : From{};
  };
  constexpr std::pair<design::ChargerKind, const char*> kinds[] = {
      {design::ChargerKind::dc_dc, "drive"},
      {design::ChargerKind::mains, "mains"},
      {design::ChargerKind::generator, "generator"}};
  std::vector<ChargingSet> sets;
  ChargingSet sun{"sun", {}};
  for (const Consumer& c : charging(d))
    if (!from(c)) sun.members.push_back(c);
  for (const auto& kind : kinds) {
    ChargingSet set{kind.second, {}};
    for (const Consumer& c : charging(d))
      if (from(c) == kind.first) set.members.push_back(c);
    if (set.members.empty()) continue;
    if (!sun.members.empty()) set.name += ", sun";
    set.members.insert(set.members.end(), sun.members.begin(), sun.members.end());
    sets.push_back(std::move(set));
  }
  if (sets.empty() && !sun.members.empty()) sets.push_back(sun);
  return sets;
}

const std::string& name_of(const design::Design& d, const Consumer& c) {
  switch (c.kind) {
  case ConsumerKind::appliance: return d->appliances[{c.index}].name;
  case ConsumerKind::inverter: return d->inverters[{c.index}].name;
  case ConsumerKind::controller_out: return d->controllers[{c.index}].name;
  case ConsumerKind::array: return d->arrays[{c.index}].name;
  case ConsumerKind::charger_in:
  case ConsumerKind::charger_out: break;
  }
  return d->chargers[{c.index}].name;
}

design::Subject subject_of(const design::Design& d, const Consumer& c) {
  switch (c.kind) {
  case ConsumerKind::appliance: return subject_of(d, d->appliances[{c.index}]);
  case ConsumerKind::inverter: return subject_of(d, d->inverters[{c.index}]);
  case ConsumerKind::controller_out: return subject_of(d, d->controllers[{c.index}]);
  case ConsumerKind::array: return subject_of(d, d->arrays[{c.index}]);
  case ConsumerKind::charger_in:
  case ConsumerKind::charger_out: break;
  }
  return subject_of(d, d->chargers[{c.index}]);
}

PostId post_of(const design::Design& d, const Consumer& c) {
  switch (c.kind) {
  case ConsumerKind::appliance: return d->appliances[{c.index}].post;
  case ConsumerKind::inverter: return d->inverters[{c.index}].post;
  case ConsumerKind::charger_in: return *d->chargers[{c.index}].in;
  case ConsumerKind::charger_out: return d->chargers[{c.index}].out;
  case ConsumerKind::controller_out: return d->controllers[{c.index}].out;
  case ConsumerKind::array: break;
  }
  return d->arrays[{c.index}].post;
}

int load_of(const Wired& wired, const Consumer& c) {
  switch (c.kind) {
  case ConsumerKind::appliance: return wired.appliances[{c.index}].steady;
  case ConsumerKind::inverter: return wired.inverters[{c.index}];
  case ConsumerKind::charger_in: return wired.charger_in[{c.index}];
  case ConsumerKind::charger_out: return wired.charger_out[{c.index}];
  case ConsumerKind::controller_out: return wired.controller_out[{c.index}];
  case ConsumerKind::array: break;
  }
  return wired.arrays[{c.index}];
}

Voltage lowest_voltage(const design::Design& d, const Consumer& c) {
  return c.kind == ConsumerKind::inverter ? d->inverters[{c.index}].cut_out
                                          : d->appliances[{c.index}].lowest;
}

std::size_t drop_class_of(const design::Design& d, const Consumer& c) {
  const auto& classes = d->profile->drop_classes;
  const auto named = [&](std::string_view name) {
    return std::find_if(classes.begin(), classes.end(),
                        [&](const tables::DropClass& k) { return k.name == name; });
  };
  if (c.kind == ConsumerKind::appliance) return d->appliances[{c.index}].drop_class;
  auto found = named("other");
  if (c.kind == ConsumerKind::charger_in && named("charging line") != classes.end())
    found = named("charging line");
  auto index = std::size_t(found - classes.begin());
  if (c.kind == ConsumerKind::inverter)  // the strictest of what it supplies
    for (const Appliance& a : d->appliances)
      if (a.inverter && a.inverter->index == c.index) index = std::min(index, a.drop_class);
  return index;
}

Ratio strings_of(const Array& a) { return double(a.modules) / double(std::max(1, a.in_series)); }

Power listed_on(const design::Design& d, int inverter) {
  const Power rating = d->inverters[inverter].rating;
  const Power asked = asked_of(
      d, inverter, rating, [](ApplianceId, const Appliance& a) { return apparent(a, a.quantity); });
  return asked.value() > 0.0 ? asked : rating;  // its sockets are open
}

Current rated_current(const design::Design& d, int inverter, Working* working) {
  const Inverter& i = d->inverters[inverter];
  return step(working, inverter_current, i.ripple, parts::dc_power(i, i.rating, working),
              i.cut_out);
}
Current rated_lasting_current(const design::Design& d, int inverter) {
  const Inverter& i = d->inverters[inverter];
  return inverter_current(i.ripple, parts::dc_power(i, i.rating), scaled(d, normal_voltage));
}

Current full_current(const design::Design& d, const Consumer& c, Working* working) {
  switch (c.kind) {
  case ConsumerKind::appliance: {
    const Appliance& a = d->appliances[{c.index}];
    return appliance_current(a, a.lowest, scaled(d, highest_charging), working);
  }
  case ConsumerKind::inverter: {
    const Inverter& i = d->inverters[{c.index}];
    const Power dc = parts::dc_power(i, listed_on(d, c.index), working);
    return step(working, inverter_current, i.ripple, dc, i.cut_out);
  }
  case ConsumerKind::charger_in: {
    const Charger& k = d->chargers[{c.index}];
    return step(working, charger_input, k.charge_voltage, k.current, k.efficiency, k.input_cut_out);
  }
  case ConsumerKind::charger_out:
    return -given(working, "I", "output of the charger", d->chargers[{c.index}].current, as_stated);
  case ConsumerKind::controller_out:
    return -given(working, "I", "output of the controller",
                  d->controllers[{c.index}].max_charge_current, as_stated);
  case ConsumerKind::array: break;
  }
  const Array& a = d->arrays[{c.index}];
  return -step(working, array_current, strings_of(a), a.module.isc.value_or(Current{}));
}

Current lasting_current(const design::Design& d, const Consumer& c) {
  const Voltage u = scaled(d, normal_voltage);
  switch (c.kind) {
  case ConsumerKind::appliance: {
    const Appliance& a = d->appliances[{c.index}];
    return lasts(a) > long_enough ? appliance_current(a, u, u, nullptr) : Current{};
  }
  case ConsumerKind::inverter: {
    const Inverter& i = d->inverters[{c.index}];
    const Power ac = asked_of(d, c.index, i.rating, [](ApplianceId, const Appliance& a) {
      return lasts(a) > long_enough ? apparent(a, a.quantity) : Power{};
    });
    const bool idle = ac.value() == 0.0 && i.runs != design::InverterRuns::always;
    return idle ? Current{} : inverter_current(i.ripple, parts::dc_power(i, ac), u);
  }
  case ConsumerKind::charger_in: {
    const Charger& k = d->chargers[{c.index}];
    return charger_input(k.charge_voltage, k.current, k.efficiency, k.input_normal.value_or(u));
  }
  case ConsumerKind::array: return full_current(d, c) / 1.25;
  case ConsumerKind::charger_out:
  case ConsumerKind::controller_out: break;
  }
  return full_current(d, c);
}

bool runs_in(const design::Design& d, const LoadCase& c, const Consumer& k) {
  switch (k.kind) {
  case ConsumerKind::appliance:
    return holds(c.running, {k.index}) || c.starting == ApplianceId{k.index};
  case ConsumerKind::inverter:
    return d->inverters[{k.index}].runs == design::InverterRuns::always ||
           in_case(d, c, k.index).value() > 0.0;
  case ConsumerKind::charger_in:
  case ConsumerKind::charger_out:
  case ConsumerKind::controller_out:
  case ConsumerKind::array: break;
  }
  return charges(c, name_of(d, k));
}

void clear_loads(Wired& wired) {
  for (Load& load : wired.network.loads) load.power = Power{};
}

void set_current(Wired& wired, int load, Current i) {
  Load& l = at(wired.network.loads, load);
  l.power = i * l.nominal;
}

void set_loads(Wired& wired, const Solver& solver, const design::Design& d, const LoadCase& c) {
  clear_loads(wired);
  const auto set = [&](int load, Power power, Voltage nominal) {
    Load& l = at(wired.network.loads, load);
    if (!solver.fed(l.plus, l.minus)) return;
    l.power = power;
    l.nominal = nominal;
  };
  for (const Consumer& k : drawing(d)) {
    if (!runs_in(d, c, k)) continue;
    if (k.kind == ConsumerKind::inverter) {
      const Power ac = in_case(d, c, k.index);
      set(load_of(wired, k), parts::dc_power(d->inverters[{k.index}], ac), d->nominal);
      continue;
    }
    const Appliance& a = d->appliances[{k.index}];
    const bool starts = c.starting == ApplianceId{k.index} && a.starting;
    const Voltage nominal = a.behaves == Behaviour::constant_power ? d->nominal : a.rated_at;
    set(load_of(wired, k), double(a.quantity - (starts ? 1 : 0)) * a.power, nominal);
    if (starts)
      set(wired.appliances[{k.index}].starting, a.starting->current * d->nominal, d->nominal);
  }
  for (std::size_t i = 0; i < d->chargers.size(); ++i) {
    const Charger& k = d->chargers[i];
    if (!charges(c, k.name)) continue;
    set(wired.charger_out[i], -k.current * d->nominal, d->nominal);
    if (k.in)
      set(wired.charger_in[i], k.charge_voltage * k.current / double(k.efficiency), d->nominal);
  }
  for (std::size_t i = 0; i < d->controllers.size(); ++i)
    if (charges(c, d->controllers[i].name))
      set(wired.controller_out[i], -d->controllers[i].max_charge_current * d->nominal, d->nominal);
}

}  // namespace housepower::wiring::inside

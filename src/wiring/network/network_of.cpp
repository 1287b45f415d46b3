// SPDX-License-Identifier: Apache-2.0
// A design's posts, runs, batteries and consumers become nodes, branches, feeds and loads.
#include "housepower/wiring/network_of.hpp"

#include "../inside.hpp"
#include "housepower/design/battery_resistance.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/parts/cell.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr Temperature link_temperature = celsius(60.0);  // limit of an insulation nobody stated
constexpr Voltage jump_voltage = Voltage::from_value(13.0);
constexpr Resistance jump_resistance = Resistance::from_value(5e-3);
// A lead battery that is low, behind a thin pair of jump leads (from judgement).
constexpr Voltage jump_voltage_low = Voltage::from_value(12.0);
constexpr Resistance jump_resistance_high = Resistance::from_value(30e-3);
// Of links and leads, whose insulation nobody states: hotter than most may get (from judgement).
constexpr Temperature hottest_link = celsius(105.0);
constexpr Resistance absorber = Resistance::from_value(1e3);

/// A network under construction.
struct Draft {
  const design::Design& d;
  Condition condition;
  const BankState& state;
  Wired out{};

  NodeId node() { return {out.network.nodes++}; }
  [[nodiscard]] bool fault() const { return condition == Condition::largest_fault; }
  [[nodiscard]] bool smallest() const { return condition == Condition::smallest_fault; }
  const Wired::Pole& post(PostId id) { return out.posts[id]; }
  int branch(NodeId from, NodeId to, Resistance r, SourceKind kind) {
    out.network.branches.push_back({from, to, r, kind});
    return int(out.network.branches.size()) - 1;
  }
  int feed(const Wired::Pole& p, Voltage u, Resistance r, SourceKind kind) {
    out.network.feeds.push_back({p.minus, p.plus, u, r, kind});
    return int(out.network.feeds.size()) - 1;
  }
  int load(PostId id, design::Behaviour behaves) {
    out.network.loads.push_back({post(id).plus, post(id).minus, behaves, Power{}, d->nominal});
    return int(out.network.loads.size()) - 1;
  }
};

double times_twelve(const design::Design& d) { return d->nominal.value() / 12.0; }

/// Pure copper of a fault; the larger of nominal and true area is the safe one here.
Resistance cold_copper(const design::Design& d, const tables::Conductor& c, Length length) {
  const auto r20 = copper_resistance(copper_resistivity, std::max(c.nominal, c.copper));
  return resistance_at_temperature(r20, coldest(d)) * length;
}

void add_bank(Draft& draft) {
  if (!draft.d->bank) return;
  const Bank& bank = *draft.d->bank;
  draft.out.batteries =
      add_batteries(draft.out.network, draft.d, bank, draft.post(bank.post), draft.condition);
}

void add_run(Draft& draft, const Run& run, const RunConductors& used) {
  const auto pole = [&](design::Pole which, const tables::Conductor* c, Length length) {
    if (draft.fault())
      return c ? cold_copper(draft.d, *c, length) / double(run.parallel) : least_resistance;
    return resistance_of(draft.d, run, which, c, draft.smallest() ? run.insulation : celsius(20.0),
                         in_line_of(run, which, c));
  };
  const auto kind = [&](design::Pole which, const tables::Conductor* c) {
    const SourceKind extras = draft.fault() ? SourceKind::published : extras_of(run, which, c).kind;
    return std::max(c ? c->source.kind : SourceKind::supplier, extras);
  };
  const auto* out = used.outgoing ? &*used.outgoing : nullptr;
  const auto* back = used.back ? &*used.back : nullptr;
  const auto go = design::Pole::outgoing, ret = design::Pole::return_;
  draft.out.runs.push_back({draft.branch(draft.post(run.from).plus, draft.post(run.to).plus,
                                         pole(go, out, run.length), kind(go, out)),
                            draft.branch(draft.post(run.to).minus, draft.post(run.back.to).minus,
                                         pole(ret, back, run.back.length), kind(ret, back))});
}

void add_sources(Draft& draft) {
  for (const design::resolved::Feed& f : draft.d->feeds) {
    const bool low =
        draft.condition == Condition::largest_fault || draft.condition == Condition::design_current;
    const auto& first = low ? f.resistance_low : f.resistance_high;
    const auto& second = low ? f.resistance_high : f.resistance_low;
    auto stated = first ? first : second;
    if (draft.smallest() && second) stated = std::max(*stated, *second);
    draft.out.feeds.push_back(draft.feed(draft.post(f.post), draft.fault() ? f.high : f.low,
                                         stated.value_or(least_resistance),
                                         stated ? SourceKind::supplier : SourceKind::from_memory));
  }
  if (draft.condition == Condition::design_current)  // where an array's current goes
    for (const Controller& c : draft.d->controllers)
      draft.feed(draft.post(c.in), Voltage{}, absorber, SourceKind::published);
  if (!draft.fault() && !draft.smallest()) return;
  const double scale = times_twelve(draft.d);
  for (std::size_t i = 0; i < draft.d->posts.size(); ++i) {
    const Post& p = draft.d->posts[i];
    const bool jump = p.node == design::NodeKind::jump_post && p.purpose != design::Purpose::wake;
    draft.out.jump_posts.push_back(
        !jump ? -1
              : draft.feed(draft.out.posts[i],
                           scale * (draft.fault() ? jump_voltage : jump_voltage_low),
                           draft.fault() ? jump_resistance : jump_resistance_high,
                           SourceKind::from_memory));
  }
}

void add_loads(Draft& draft) {
  using design::Behaviour;
  for (const Appliance& a : draft.d->appliances) {
    Wired::ApplianceLoads loads;
    if (!a.inverter) {
      loads.steady = draft.load(a.post, a.behaves);
      if (a.starting) loads.starting = draft.load(a.post, Behaviour::constant_current);
    }
    draft.out.appliances.push_back(loads);
  }
  for (const Inverter& i : draft.d->inverters)
    draft.out.inverters.push_back(draft.load(i.post, Behaviour::constant_power));
  for (const Charger& c : draft.d->chargers) {
    draft.out.charger_in.push_back(c.in ? draft.load(*c.in, Behaviour::constant_power) : -1);
    draft.out.charger_out.push_back(draft.load(c.out, Behaviour::constant_current));
  }
  for (const Controller& c : draft.d->controllers)
    draft.out.controller_out.push_back(draft.load(c.out, Behaviour::constant_current));
  for (const Array& a : draft.d->arrays)
    draft.out.arrays.push_back(draft.load(a.post, Behaviour::constant_current));
}

}  // namespace

Temperature coldest(const design::Design& d) {
  return std::min(celsius(20.0), d->site.record_low.value_or(celsius(20.0)));
}

Resistance inside::lead_resistance(const design::Design& d, const Lead& lead, Condition condition) {
  if (condition == Condition::largest_fault) return cold_copper(d, lead.conductor, lead.length);
  if (lead.resistance) return *lead.resistance;
  const auto r = resistance_at_temperature(
      lead.conductor.resistance_at_20,
      condition == Condition::smallest_fault ? hottest_link : link_temperature);
  return r * lead.length + (lead.joints ? 2.0 : 0.0) * default_joint(lead.conductor);
}

std::vector<int> inside::add_batteries(Network& n, const design::Design& d, const Bank& bank,
                                       const Wired::Pole& bar, Condition condition) {
  std::vector<int> batteries;
  const bool fault = condition == Condition::largest_fault;
  const bool linked = bank.link_positive || bank.link_negative;
  const auto node = [&] { return NodeId{n.nodes++}; };
  const auto branch = [&](NodeId from, NodeId to, const Lead& lead, bool counts = true) {
    const auto kind = lead.resistance ? SourceKind::supplier : SourceKind::from_memory;
    n.branches.push_back(
        {from, to, counts ? lead_resistance(d, lead, condition) : least_resistance, kind});
  };
  Wired::Pole before{};
  for (int i = 1; i <= bank.parallel; ++i) {
    Wired::Pole own = bar;
    if (linked) {
      if (i != bank.takeoff[0]) own.plus = node();
      if (i != bank.takeoff[1]) own.minus = node();
      if (i > 1) {
        branch(before.plus, own.plus,
               bank.link_positive ? *bank.link_positive : *bank.link_negative);
        branch(before.minus, own.minus,
               bank.link_negative ? *bank.link_negative : *bank.link_positive);
      }
    } else if (bank.lead) {
      own = {node(), node()};
      branch(own.plus, bar.plus, *bank.lead);
      // the one lead that is sure to be there limits a fault; for drop both poles have one
      branch(own.minus, bar.minus, *bank.lead, !fault);
    }
    before = own;
    n.feeds.push_back({own.minus, own.plus, Voltage{}, Resistance{}, SourceKind::published});
    batteries.push_back(int(n.feeds.size()) - 1);
  }
  return batteries;
}

Wired network_of(const design::Design& d, std::span<const RunConductors> conductors,
                 Condition condition, const BankState& state) {
  Draft draft{d, condition, state};
  for (std::size_t i = 0; i < d->posts.size(); ++i)
    draft.out.posts.push_back({draft.node(), draft.node()});
  add_bank(draft);
  set_bank(draft.out, d, condition, state);
  for (std::size_t i = 0; i < d->runs.size(); ++i) add_run(draft, d->runs[i], conductors[i]);
  add_sources(draft);
  if (!draft.fault() && !draft.smallest()) add_loads(draft);
  return std::move(draft.out);
}

std::vector<RunConductors> stated_conductors(const design::Design& d) {
  std::vector<RunConductors> all;
  for (const Run& run : d->runs)
    all.push_back({run.conductor, run.back.chassis ? std::nullopt : run.back.conductor});
  return all;
}

Resistance default_joint(const tables::Conductor& c) {
  const Resistance tenth = c.resistance_at_20 * (0.1 * metre);
  return std::clamp(tenth, 0.05 * milliohm, 0.5 * milliohm);
}

PoleExtras extras_of(const Run& run, design::Pole pole, const tables::Conductor* c) {
  PoleExtras extras;
  const bool outgoing = pole == design::Pole::outgoing;
  const int things = run.things(), here = run.things_in(pole);
  for (const auto& item : run.inline_items) extras.items += item.in(pole);
  // two joints at each thing on its own pole; the lugs alike on both
  const double count =
      run.joints >= 2 * things ? 0.5 * (run.joints - 2 * things) + 2.0 * here : 0.5 * run.joints;
  const Resistance each = run.joint_resistance ? *run.joint_resistance
                          : c                  ? default_joint(*c)
                                               : 0.5 * milliohm;
  extras.joints = count * each;
  if (extras.joints.value() > 0.0)
    extras.kind = run.joint_resistance ? SourceKind::supplier : SourceKind::from_memory;
  if (!outgoing) return extras;
  for (const auto& device : run.protection) {
    if (!device.fuse) continue;
    for (const auto& cold : device.fuse->cold)
      if (cold.rating == device.rating) {
        extras.items += cold.resistance;
        extras.kind = std::max(extras.kind, cold.source.kind);
      }
  }
  return extras;
}

Voltage full_rested(const design::Design& d) {
  const Bank& bank = *d->bank;
  return bank.open_circuit_full ? *bank.open_circuit_full
                                : parts::bank_open_circuit(d->tables->cells, bank, 1.0);
}

BatteryResistance low_resistance_of(const Bank& bank) {
  if (bank.low) return {*bank.low, SourceKind::supplier};
  const Resistance low = design::low_by_capacity(bank.capacity, bank.nominal_voltage);
  return {bank.high ? std::min(low, *bank.high) : low, SourceKind::from_memory};
}

BatteryResistance resistance_in_use(const design::Design& d, const BankState& state) {
  const Bank& bank = *d->bank;
  const Resistance stated =
      bank.high ? *bank.high
                : (bank.low ? 2.5 * *bank.low
                            : design::high_by_capacity(bank.capacity, bank.nominal_voltage));
  const Ratio now = parts::resistance_factor(state.temperature, state.charge);
  const Ratio old = parts::resistance_age_factor(bank, d->promise.bank_age);
  return {parts::resistance_now(stated, now, old), parts::resistance_factor_source.kind};
}

void inside::set_bank(Wired& wired, const design::Design& d, Condition condition,
                      const BankState& state) {
  if (!d->bank) return;
  const Bank& bank = *d->bank;
  const bool in_use = condition == Condition::drop || condition == Condition::smallest_fault;
  const auto r = in_use ? resistance_in_use(d, state) : low_resistance_of(bank);
  const Voltage u = condition == Condition::largest_fault
                        ? full_rested(d)
                        : parts::bank_open_circuit(d->tables->cells, bank, state.charge);
  for (const int battery : wired.batteries) {
    auto& feed = at(wired.network.feeds, battery);
    feed.open_circuit = u;
    feed.internal = r.value * double(bank.in_series);
    feed.kind = r.kind;
  }
  if (state.battery_open > 0)
    at(wired.network.feeds, at(wired.batteries, state.battery_open - 1)).internal = opened;
}

BankState weakest_state(const design::Design& d) {
  Temperature cold = coldest(d);
  if (d->site.town)
    cold = *std::min_element(d->site.town->lowest.begin(), d->site.town->lowest.end());
  return {std::min(Ratio(0.1), d->promise.reserve), cold};
}

BankState weakest_state_read(const design::Design& d) {
  constexpr Temperature coldest_read = celsius(10.0);  // first column of the cell's resistance
  const BankState weakest = weakest_state(d);
  return {weakest.charge, std::max(weakest.temperature, coldest_read)};
}

SourceKind weakest(const Network& n) {
  auto kind = SourceKind::published;
  for (const auto& b : n.branches) kind = std::max(kind, b.kind);
  for (const auto& f : n.feeds) kind = std::max(kind, f.kind);
  for (const auto& l : n.loads) kind = std::max(kind, l.kind);
  return kind;
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// The whole wiring of a design, in the order in which one result needs another.
#include "housepower/wiring/assess_network.hpp"
#include "inside.hpp"

namespace housepower::wiring {

Assessment::Assessment() = default;
Assessment::Assessment(const Assessment&) = default;
Assessment::Assessment(Assessment&&) noexcept = default;
Assessment& Assessment::operator=(const Assessment&) = default;
Assessment& Assessment::operator=(Assessment&&) noexcept = default;
Assessment::~Assessment() = default;

using namespace inside;

namespace {

void add_ampacities(const design::Design& d, const Run& run, RunFacts& facts) {
  using design::Pole;
  const auto& out = facts.outgoing.conductor;
  const auto& back = facts.back ? facts.back->conductor : out;
  facts.heating = facts.ampacity = ampacity_of(d, run, out, Pole::outgoing);
  facts.heating_back = facts.ampacity_back = ampacity_of(d, run, back, Pole::return_);
  if (!d->ampacity_table.empty()) {
    facts.heating = heating_ampacity_of(d, run, out, Pole::outgoing);
    facts.heating_back = heating_ampacity_of(d, run, back, Pole::return_);
  }
  for (const Pole pole : {Pole::outgoing, Pole::return_}) {
    const auto extras = extras_of(run, pole, pole == Pole::outgoing ? &out : &back);
    facts.joints += extras.joints;
    facts.items += extras.items;
  }
}

void add_full_cases(const design::Design& d, Solvable& s, Assessment& a) {
  const auto add = [&](LoadCase c, const std::vector<Consumer>& members) {
    c.temperature = celsius(20.0);
    c.judged = false;
    std::vector<Drawn> currents;
    for (const Consumer& k : members) currents.push_back({k, full_current(d, k)});
    a.cases.push_back(solve_case(d, a, s, c, currents));
  };
  LoadCase everything;
  everything.name = "everything-on";
  for (std::size_t i = 0; i < d->appliances.size(); ++i) everything.running.push_back({int(i)});
  add(everything, drawing(d));
  const auto sets = charging_sets(d);
  for (std::size_t i = 0; i < sets.size(); ++i) {
    const ChargingSet& set = sets[i];
    LoadCase c;
    c.name = set.in_case();
    c.charging_set = i;
    for (const Consumer& k : set.members) c.charging.push_back(name_of(d, k));
    add(c, set.members);
  }
}

/// `network` is in the end that in use, as its last case left it.
Assessment assessed(const design::Design& d, std::span<const LoadCase> cases,
                    std::optional<Solvable>& network) {
  Assessment a;
  a.plus = neighbours_of(d, design::Pole::outgoing);
  a.minus = neighbours_of(d, design::Pole::return_);
  a.ways = ways_of(d);
  const auto beyond = beyond_runs(d, a.ways);
  Solvable linear(network_of(d, stated_conductors(d), Condition::design_current));
  const auto design = design_currents(d, linear, a.ways);
  const auto in_cases = nominal_currents(d, linear, cases);
  std::vector<RunConductors> conductors;
  for (std::size_t i = 0; i < d->runs.size(); ++i) {
    RunFacts& facts = a.runs.emplace_back();
    facts.current = design[i];
    choose_conductors(d, beyond[i], in_cases[i], d->runs[i], facts);
    add_ampacities(d, d->runs[i], facts);
    auto& used = conductors.emplace_back();
    used.outgoing = facts.outgoing.conductor;
    if (facts.back) used.back = facts.back->conductor;
  }
  network.emplace(network_of(d, conductors, Condition::drop));
  a.cases.reserve(cases.size() + charging_sets(d).size() + 1);
  add_full_cases(d, *network, a);
  for (const LoadCase& c : cases) a.cases.push_back(solve_case(d, a, *network, c, {}));
  add_largest_faults(d, a);
  add_smallest_faults(d, a);
  a.ends = reaching_ends(d);
  return a;
}

}  // namespace

Assessment assess(const design::Design& d, std::span<const LoadCase> cases) {
  std::optional<Solvable> network;
  Assessment a = assessed(d, cases, network);
  a.sharing = sharing_of(d, a);
  a.loses_one = loses_one(d, a, *network);
  a.reserves = inverter_reserves(d, a);
  return a;
}

CaseResult everything_at_once(const design::Design& d, const Assessment& a) {
  LoadCase c;
  c.name = "everything-on";
  c.temperature = celsius(20.0);
  c.judged = false;
  for (std::size_t i = 0; i < d->appliances.size(); ++i) c.running.push_back({int(i)});
  Solvable s = network_in_use(d, a);
  return solve_case(d, a, s, c, {});
}

Assessment assess_network(const design::Design& d, std::span<const LoadCase> cases) {
  std::optional<Solvable> network;
  return assessed(d, cases, network);
}

}  // namespace housepower::wiring

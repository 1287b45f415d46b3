// SPDX-License-Identifier: Apache-2.0
// What the files of this room share.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "housepower/wiring/assessment.hpp"
#include "housepower/wiring/formulas.hpp"
#include "housepower/wiring/network_of.hpp"

namespace housepower::wiring::inside {

using namespace design::resolved;

template <class T> const T& at(const std::vector<T>& list, int index) {
  return list[static_cast<std::size_t>(index)];
}
template <class T> T& at(std::vector<T>& list, int index) {
  return list[static_cast<std::size_t>(index)];
}
template <class T> const T& at(const std::vector<T>&&, int) = delete;  // would outlive its list

inline constexpr Source as_stated{SourceKind::supplier, "the design", "as stated"};

[[nodiscard]] inline Current magnitude(Current i) {
  return Current::from_value(std::abs(i.value()));
}

/// Of that pole of a run; nothing where it goes back through the chassis.
[[nodiscard]] inline const tables::Conductor* conductor_of(const RunFacts& facts,
                                                           design::Pole pole) {
  if (pole == design::Pole::outgoing) return &facts.outgoing.conductor;
  return facts.back ? &facts.back->conductor : nullptr;
}

/// The network's answer as a source: as firm as its weakest value.
inline Source solution(SourceKind weakest) {
  return {std::max(weakest, SourceKind::common_practice), "solution of the network",
          "the node equations of all its conductors at once"};
}

// ---- loads.cpp: everything that draws or charges, each once

/// What draws, and what charges (a dc-dc charger's input with it).
[[nodiscard]] std::vector<Consumer> drawing(const design::Design&);
[[nodiscard]] std::vector<Consumer> charging(const design::Design&);
struct ChargingSet {
  std::string name;
  std::vector<Consumer> members;
  [[nodiscard]] std::string in_case() const { return "charging: " + name; }
};
/// What can charge at once: {drive, sun}, {mains, sun}, {generator, sun}.
[[nodiscard]] std::vector<ChargingSet> charging_sets(const design::Design&);

[[nodiscard]] const std::string& name_of(const design::Design&, const Consumer&);
[[nodiscard]] design::Subject subject_of(const design::Design&, const Consumer&);
[[nodiscard]] PostId post_of(const design::Design&, const Consumer&);
[[nodiscard]] int load_of(const Wired&, const Consumer&);
/// Below which an appliance or inverter does not work.
[[nodiscard]] Voltage lowest_voltage(const design::Design&, const Consumer&);
[[nodiscard]] std::size_t drop_class_of(const design::Design&, const Consumer&);
/// Strings of an array side by side.
[[nodiscard]] Ratio strings_of(const Array&);

/// Current of a consumer with everything on; negative where it charges.
[[nodiscard]] Current full_current(const design::Design&, const Consumer&, Working* = nullptr);
/// Its current at 12.5 V (25 V) if it lasts over 30 minutes, else nothing.
[[nodiscard]] Current lasting_current(const design::Design&, const Consumer&);
/// Of an inverter that gives its rating: at its cut-out, and at 12.5 V (25 V).
[[nodiscard]] Current rated_current(const design::Design&, int inverter, Working* = nullptr);
[[nodiscard]] Current rated_lasting_current(const design::Design&, int inverter);
/// What is listed on an inverter, all at once, up to its rating; that where nothing is listed.
[[nodiscard]] Power listed_on(const design::Design&, int inverter);

/// What an a.c. appliance asks of its inverter while it starts.
[[nodiscard]] Power start_power(const Appliance&);
/// Real power asked of an inverter in a case, its starter starting, up to `most`.
[[nodiscard]] Power asked_in_case(const design::Design&, const LoadCase&, int inverter, Power most);
[[nodiscard]] bool runs_in(const design::Design&, const LoadCase&, const Consumer&);
void clear_loads(Wired&);
/// Makes a load draw that current, whatever its voltage.
void set_current(Wired&, int load, Current);
/// The loads of a case as they behave; what no feed reaches has none.
void set_loads(Wired&, const Solver&, const design::Design&, const LoadCase&);

// ---- design_current.cpp

/// A network with its solver.
struct Solvable {
  Wired wired;
  Solver solver;
  explicit Solvable(Wired w) : wired(std::move(w)), solver(wired.network) {}
};
[[nodiscard]] PerPost<Way> ways_of(const design::Design&);
/// From one source to each post.
[[nodiscard]] PerPost<Way> ways_from(const design::Design&, PostId source);
/// By post: the number of its group, which runs join.
[[nodiscard]] PerPost<int> groups_of(const design::Design&);
/// For each run the consumers (those that draw, those that charge) whose way it is part of.
[[nodiscard]] PerRun<std::vector<Consumer>> beyond_runs(const design::Design&, const PerPost<Way>&);
[[nodiscard]] PerRun<DesignCurrent> design_currents(const design::Design&, Solvable&,
                                                    const PerPost<Way>&);
/// The largest current of each run in the judged cases, every load at its nominal voltage.
[[nodiscard]] PerRun<Current> nominal_currents(const design::Design&, Solvable&,
                                               std::span<const LoadCase>);

// ---- choose.cpp

/// Conductors of a run: the design's or chosen, their ampacities, and the smallest that would do.
void choose_conductors(const design::Design&, const std::vector<Consumer>& beyond, Current in_cases,
                       const Run&, RunFacts&);

// ---- cases.cpp

/// Temperature of a conductor under a current; at its limit where its ampacity is not known.
[[nodiscard]] Temperature temperature_of(const Run&, const AmpacityAnswer&, Current,
                                         Working* = nullptr);
/// Joints, items and devices of one pole of a run.
[[nodiscard]] Resistance in_line_of(const Run&, design::Pole, const tables::Conductor*,
                                    Working* = nullptr);
/// All of one pole of a run at a conductor temperature; without a conductor the chassis.
[[nodiscard]] Resistance resistance_of(const design::Design&, const Run&, design::Pole,
                                       const tables::Conductor*, Temperature, Resistance in_line,
                                       Working* = nullptr);
/// `currents`: every consumer draws that, whatever its voltage; empty: as it behaves.
struct Drawn {
  Consumer consumer;
  Current current;
};
[[nodiscard]] CaseResult solve_case(const design::Design&, const Assessment&, Solvable&,
                                    const LoadCase&, const std::vector<Drawn>& currents);

/// Why figures of what stands at the end of a way cannot be relied on; empty: they can.
[[nodiscard]] std::string unknown_of(const design::Design&, const Way&);
/// The operating point with each conductor at the temperature that its current brings.
[[nodiscard]] Solution solve_warm(const design::Design&, const PerRun<RunFacts>&, Solvable&);

// ---- reserve.cpp

/// The network of an assessment in use.
[[nodiscard]] Solvable network_in_use(const design::Design&, const Assessment&);
/// The judged case in which most is drawn, `besides` that load (a position in the network; −1:
/// none), without its start and without charging.
[[nodiscard]] LoadCase heaviest_case(const design::Design&, const Assessment&, Solvable&,
                                     int besides);

// ---- network_of.cpp

/// A link or lead of the bank with a joint at each end.
[[nodiscard]] Resistance lead_resistance(const design::Design&, const Lead&, Condition);
/// A bank's batteries with their links or leads between `bar`; the feeds that they are.
[[nodiscard]] std::vector<int> add_batteries(Network&, const design::Design&, const Bank&,
                                             const Wired::Pole& bar, Condition);
/// What a battery that has opened lets through.
inline constexpr Resistance opened = Resistance::from_value(1e9);
/// Puts the bank of a network into a state.
void set_bank(Wired&, const design::Design&, Condition, const BankState&);

// ---- loses_one.cpp

/// For the heaviest case and the heaviest start, on the network that solved them.
[[nodiscard]] std::vector<LosesOne> loses_one(const design::Design&, const Assessment&, Solvable&);

// ---- faults.cpp

/// Devices with the largest fault of each, and that of each post.
void add_largest_faults(const design::Design&, Assessment&);

// ---- smallest_faults.cpp

/// What each device protects, with the smallest fault of each, and that of each post.
void add_smallest_faults(const design::Design&, Assessment&);

}  // namespace housepower::wiring::inside

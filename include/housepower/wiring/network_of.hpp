// SPDX-License-Identifier: Apache-2.0
// From a design to its network: two nodes a post, two branches a run, a feed for each battery with
// its links or leads, and a load for everything that can draw or charge. The shape is the same in
// every case; what does not run has no power.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "housepower/wiring/network.hpp"

namespace housepower::wiring {

/// The only switch between conductor temperatures, joints and states of the sources.
/// `drop`: joints and items in, each source at its low voltage and high resistance, the bank as it
/// is in use; runs start at 20 °C and are set to their own temperature. `design_current`: the same with low resistances.
/// `largest_fault`: the full rested bank, low resistances, pure cold copper, joints and items
/// nothing, a run without a conductor nothing, jump posts that are not for waking feed.
/// `smallest_fault`: joints and items in, conductors at the limit of their insulation, each source
/// at its low voltage and highest resistance, the bank cold and nearly empty (`weakest_state`).
enum class Condition { drop, design_current, largest_fault, smallest_fault };

/// The conductors of a run as they are used: a chosen one where the design leaves it open.
struct RunConductors {
  std::optional<tables::Conductor> outgoing, back;  // back: absent through the chassis
};

struct BankState {
  Ratio charge = 0.3;
  Temperature temperature = celsius(25.0);
  int battery_open = 0;  // number of a battery that is disconnected; 0: none
};

/// A network and what stands for what in it: positions in its lists, −1 where nothing does.
struct Wired {
  struct Pole {
    NodeId plus, minus;
  };
  struct RunBranches {
    int outgoing, back;
  };
  struct ApplianceLoads {
    int steady = -1, starting = -1;
  };  // of d.c. appliances
  Network network;
  design::resolved::PerPost<Pole> posts;
  design::resolved::PerRun<RunBranches> runs;
  std::vector<int> batteries;                       // feeds: the bank's batteries, in their order
  design::List<int, design::resolved::Feed> feeds;  // feeds: the [[feed]]s
  design::resolved::PerPost<int> jump_posts;        // feeds; in a fault only
  // loads
  design::List<ApplianceLoads, design::resolved::Appliance> appliances;
  design::List<int, design::resolved::Inverter> inverters;
  design::List<int, design::resolved::Charger> charger_in, charger_out;
  design::List<int, design::resolved::Controller> controller_out;
  design::List<int, design::resolved::Array> arrays;
};

[[nodiscard]] Wired network_of(const design::Design&, std::span<const RunConductors>, Condition,
                               const BankState& = {});
/// The conductors as the design states them.
[[nodiscard]] std::vector<RunConductors> stated_conductors(const design::Design&);

/// Joints and items on one pole of a run: half of the joints, the items of that pole and the cold
/// resistance of its devices where it is published.
struct PoleExtras {
  Resistance joints{}, items{};
  SourceKind kind = SourceKind::published;
};
[[nodiscard]] PoleExtras extras_of(const design::resolved::Run&, design::Pole,
                                   const tables::Conductor*);

/// A joint that nobody stated: 0.1 m of the same conductor, at least 0.05 and at most 0.5 mΩ.
[[nodiscard]] Resistance default_joint(const tables::Conductor&);

/// The coldest that a conductor is reckoned with: 20 °C or the record low.
[[nodiscard]] Temperature coldest(const design::Design&);
/// A full rested string of batteries: as stated, else by the table of one cell.
[[nodiscard]] Voltage full_rested(const design::Design&);
/// Of one battery: for a fault as stated or by its capacity (design::low_by_capacity); in use the
/// high one at its temperature, charge and age.
struct BatteryResistance {
  Resistance value{};
  SourceKind kind = SourceKind::supplier;
};
[[nodiscard]] BatteryResistance low_resistance_of(const design::resolved::Bank&);
[[nodiscard]] BatteryResistance resistance_in_use(const design::Design&, const BankState&);

/// The bank at its weakest, for the smallest fault: at its reserve, at most 10 %, and at the lowest
/// monthly mean minimum of its place; without a place at its record low.
[[nodiscard]] BankState weakest_state(const design::Design&);

/// The same, no colder than the temperatures at which the resistance of a cell was read.
[[nodiscard]] BankState weakest_state_read(const design::Design&);

/// The weakest value of a network.
[[nodiscard]] SourceKind weakest(const Network&);

}  // namespace housepower::wiring

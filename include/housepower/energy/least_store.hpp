// SPDX-License-Identifier: Apache-2.0
// What a bank must hold at the very least to last a stay: the drawdown of a store that takes
// everything offered, loses nothing to cold, heat or its own resistance, and never spills before it
// is full. It does not depend on the size of the bank, so one pass over the weather bounds all
// sizes: what falls short here falls short in the simulation, never the other way round.
#pragma once

#include <vector>

#include "housepower/energy/drawdown.hpp"
#include "housepower/energy/stay.hpp"

namespace housepower::energy {

/// For each stay, by year and then by day of arrival.
struct LeastStore {
  std::vector<Energy> below_arrival;  // most that it lacks against the charge of arrival
  std::vector<Energy> below_highest;  // most that it is drawn down from any charge before
};
[[nodiscard]] LeastStore least_store(const Surroundings&, const StayQuestion&,
                                     const Each& = one_after_another);

/// Share of the stays that such a bank can last at best: at least as large as the simulated share.
[[nodiscard]] Ratio lasting_at_best(const LeastStore&, const kernel::Plant&);

}  // namespace housepower::energy

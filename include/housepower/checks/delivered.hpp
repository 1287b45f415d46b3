// SPDX-License-Identifier: Apache-2.0
// What arrives at the bank from each charger, for every answer about stays. A dc-dc charger brings what
// its line lets through at the tow vehicle's lowest voltage, never more than the feed can spare; a line
// on which it cycles, or that is not described, brings nothing. Name plates count for mains chargers
// and generators, and where a design draws no run at all, which is said.
#pragma once

#include "housepower/energy/plant.hpp"
#include "housepower/wiring/charging_circuits.hpp"

namespace housepower::checks {

/// One entry for each charger of the design.
[[nodiscard]] energy::DeliveredList delivered(const design::Design&, const wiring::Assessment&);
/// With the network assessed for it, where a charger has a line.
[[nodiscard]] energy::DeliveredList delivered(const design::Design&);

}  // namespace housepower::checks

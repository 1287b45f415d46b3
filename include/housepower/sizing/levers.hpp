// SPDX-License-Identifier: Apache-2.0
// What would lengthen a stay: each change tried by itself, by simulating again.
#pragma once

#include <string>
#include <vector>

#include "housepower/energy/stay.hpp"

namespace housepower::sizing {

struct Lever {
  std::string change;  // "one more battery"
  Duration met{};      // with it, by the stated chance
};

/// All of them on the same weather, of fewer years than the answer itself; `base` is the design as
/// it is on those years.
struct Levers {
  Duration base{};
  std::vector<Lever> all;  // the best first
};
/// One more battery, one more string of each array, each of the largest consumers left off, frugal
/// use, and without what [travel] charges.
[[nodiscard]] Levers levers(const design::Document&, const design::Design&, const tables::Tables&,
                            const energy::Weather&, const energy::StayQuestion&,
                            const energy::Habit&, const energy::Each&);

}  // namespace housepower::sizing

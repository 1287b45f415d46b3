// SPDX-License-Identifier: Apache-2.0
// Which runs end where: made once, it lets a walk through the network ask each post for its own
// runs instead of asking every run.
#pragma once

#include <vector>

#include "housepower/design/design.hpp"

namespace housepower::wiring {

/// A run seen from a post at one of its ends.
struct Neighbour {
  design::resolved::RunId run;
  design::resolved::PostId other;  // its other end
  bool along = true;               // leaving here goes from the run's `from` to its `to`
};

/// By post: the runs that end there on one pole, in the order of the design. On the return a run
/// ends at its `to` and where its return leads.
using Neighbours = std::vector<std::vector<Neighbour>>;
[[nodiscard]] Neighbours neighbours_of(const design::Design&, design::Pole);

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// The check of a design with a simulation that the caller chose: a part of it, or none. What it
// leaves out is not checked, and the verdict counts it so.
#pragma once

#include "housepower/checks/rule.hpp"

namespace housepower::checks {

/// As resolved: `soften` follows, as in `check`.
[[nodiscard]] Checked judged(const design::Design&, energy::Outlook, Workings);

/// Rules that stand on the hourly simulation.
[[nodiscard]] bool is_simulated(std::string_view rule);

}  // namespace housepower::checks

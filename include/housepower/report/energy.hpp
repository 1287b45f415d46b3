// SPDX-License-Identifier: Apache-2.0
// The answer of `energy`.
#pragma once

#include "housepower/answers/energy.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

/// The mean day and each month over the years of the hourly simulation.
[[nodiscard]] Page energy_page(const answers::EnergyReport&);
[[nodiscard]] std::string energy_json(const answers::EnergyReport&);

}  // namespace housepower::report

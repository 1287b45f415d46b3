// SPDX-License-Identifier: Apache-2.0
// What a design uses and gathers, day by day and month by month over years of weather.
#pragma once

#include <vector>

#include "housepower/answers/checked_design.hpp"
#include "housepower/energy/years.hpp"

namespace housepower::answers {

/// The mean days, the usable bank and its autonomy stand in the checked design.
struct EnergyReport {
  CheckedDesign checked;
  std::vector<energy::MonthOverYears> years;  // none without a bank or a place
};

/// The checked design outlives it. What the caller's Each throws passes through: so it is stopped.
[[nodiscard]] EnergyReport energy_of(const CheckedDesign&,
                                     const energy::Each& = energy::one_after_another);

}  // namespace housepower::answers

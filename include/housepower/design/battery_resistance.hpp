// SPDX-License-Identifier: Apache-2.0
// The resistance of a battery whose design states none, by its capacity and its cells.
#pragma once

#include <algorithm>
#include <cmath>

#include "housepower/units/quantity.hpp"

namespace housepower::design {

/// Cells of one battery: 3.2 V each by the trade's naming, at least one.
[[nodiscard]] inline Ratio cells_of(Voltage nominal) {
  return std::max(1.0, std::round(nominal.value() / 3.2));
}

/// For the largest fault: 160 mΩ·Ah over the capacity for four cells, at most 2 mΩ, in proportion to
/// the cells in series (from memory; a maker's data sheet that was read has 1 mΩ at 300 Ah).
[[nodiscard]] inline Resistance low_by_capacity(Charge capacity, Voltage nominal) {
  const Resistance four = (160.0 * milliohm) * double((1.0 * ampere_hour) / capacity);
  return std::min(four, 2.0 * milliohm) * (double(cells_of(nominal)) / 4.0);
}

/// Where neither is stated, for drops and the smallest fault: 2.5 times the low one, at least 5 mΩ
/// for four cells (from memory).
[[nodiscard]] inline Resistance high_by_capacity(Charge capacity, Voltage nominal) {
  return std::max(2.5 * low_by_capacity(capacity, nominal),
                  5.0 * milliohm * (double(cells_of(nominal)) / 4.0));
}

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(no match for|invalid operands|no matching)
// Ampere-hours and watt-hours have no sum without a voltage.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  auto wrong = 100.0 * ampere_hour + 1200.0 * watt_hour;
  static_cast<void>(wrong);
}

// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(no match for|invalid operands)
// Watts are not equal to watt-hours, whatever the numbers.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  bool wrong = 45.0 * watt == 45.0 * watt_hour;
  static_cast<void>(wrong);
}

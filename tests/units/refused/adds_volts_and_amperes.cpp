// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(no match for|invalid operands|no matching)
// A voltage and a current have no sum.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  auto wrong = 12.0 * volt + 1.0 * ampere;
  static_cast<void>(wrong);
}

// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(no match for|invalid operands)
// Volts are neither more nor less than amperes.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  bool wrong = 12.0 * volt < 1.0 * ampere;
  static_cast<void>(wrong);
}

// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(cannot convert|could not convert|no viable conversion)
// A voltage is no number: divide it by its unit.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  double wrong = 12.0 * volt;
  static_cast<void>(wrong);
}

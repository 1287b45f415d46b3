// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(could not convert|cannot convert|conversion from|no viable conversion)
// Volts times amperes are watts.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  Resistance wrong = 12.0 * volt * (1.0 * ampere);
  static_cast<void>(wrong);
}

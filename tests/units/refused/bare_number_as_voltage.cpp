// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(could not convert|cannot convert|conversion from|no viable conversion)
// A number is no voltage.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  Voltage wrong = 12.0;
  static_cast<void>(wrong);
}

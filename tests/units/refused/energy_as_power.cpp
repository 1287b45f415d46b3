// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(could not convert|cannot convert|conversion from|no viable conversion)
// Watt-hours are no watts.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  Power wrong = 100.0 * watt_hour;
  static_cast<void>(wrong);
}

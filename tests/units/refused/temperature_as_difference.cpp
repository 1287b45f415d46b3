// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(could not convert|cannot convert|conversion from|no viable conversion)
// 40 °C is a point, not a rise of 40 K.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  TemperatureDifference wrong = celsius(40.0);
  static_cast<void>(wrong);
}

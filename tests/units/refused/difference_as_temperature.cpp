// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(could not convert|cannot convert|conversion from|no viable conversion)
// A rise of 40 K is not 40 °C.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  Temperature wrong = 40.0 * kelvin;
  static_cast<void>(wrong);
}

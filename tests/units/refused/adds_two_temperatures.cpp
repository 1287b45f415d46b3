// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(no match for|invalid operands|no type named)
// 20 °C and 20 °C are not 40 °C.
#include "housepower/units/quantity.hpp"

using namespace housepower;

void refused() {
  auto wrong = celsius(20.0) + celsius(20.0);
  static_cast<void>(wrong);
}

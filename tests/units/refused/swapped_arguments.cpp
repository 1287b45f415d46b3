// SPDX-License-Identifier: Apache-2.0
// expected: error: .*(could not convert|cannot convert|no matching function)
// A length where a current belongs.
#include "housepower/units/quantity.hpp"

using namespace housepower;

Voltage drop(Length one_way, Current current, ResistancePerLength resistance) {
  return 2.0 * one_way * current * resistance;
}

void refused() {
  const auto wrong = drop(15.0 * ampere, 4.0 * metre, 7.98 * ohm_per_kilometre);
  static_cast<void>(wrong);
}

// SPDX-License-Identifier: Apache-2.0
// expected: compiles
// The right neighbour of each program here: were one of these refused, the others proved little.
#include "housepower/reading/fields.hpp"
#include "housepower/units/number.hpp"

using namespace housepower;

Voltage drop(Length one_way, Current current, ResistancePerLength resistance) {
  return 2.0 * one_way * current * resistance;
}

struct Run {
  Length length;
};

constexpr Field right_field = field<&Run::length>("length", "", "").more_than(1.0 * metre);

void accepted() {
  const auto sum = 12.0 * volt + 1.0 * millivolt;
  const Power power = 12.0 * volt * (1.0 * ampere);
  const Resistance resistance = 12.0 * volt / (1.0 * ampere);
  const double number = 12.0 * volt / volt;
  const bool less = 12.0 * volt < 1.0 * volt;
  const Energy energy = power * (1.0 * hour);
  const bool equal = energy == 12.0 * watt_hour;
  const Energy of_bank = 100.0 * ampere_hour * (12.8 * volt) + energy;
  const Temperature warmer = celsius(20.0) + 20.0 * kelvin;
  const TemperatureDifference rise = warmer - celsius(20.0);
  const Voltage lost = drop(4.0 * metre, 15.0 * ampere, 7.98 * ohm_per_kilometre);
  const Number any = lost;
  static_cast<void>(sum), static_cast<void>(resistance), static_cast<void>(number);
  static_cast<void>(less), static_cast<void>(equal), static_cast<void>(of_bank);
  static_cast<void>(rise), static_cast<void>(any), static_cast<void>(right_field);
}

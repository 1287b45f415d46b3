// SPDX-License-Identifier: Apache-2.0
// The digits that a machine is given: as many as the methods carry, not all that a computer holds.
#pragma once

#include <array>
#include <cmath>

namespace housepower::page {

/// The powers of ten that a double holds exactly.
inline constexpr auto powers_of_ten = [] {
  std::array<double, 23> powers{1.0};
  for (std::size_t i = 1; i < powers.size(); ++i) powers[i] = powers[i - 1] * 10.0;
  return powers;
}();

/// Rounded to twelve significant digits: networks are solved and stays summed to about that; the last
/// ones of 20.00000000000019 tell of the order of a sum, not of a van.
[[nodiscard]] inline double as_carried(double value) {
  if (value == 0.0 || !std::isfinite(value)) return value;
  const int places = 11 - static_cast<int>(std::floor(std::log10(std::abs(value))));
  if (places < 0 || places >= static_cast<int>(powers_of_ten.size())) return value;
  const double scale = powers_of_ten[static_cast<std::size_t>(places)];
  return std::round(value * scale) / scale;
}

}  // namespace housepower::page

// SPDX-License-Identifier: Apache-2.0
#include "housepower/units/apart.hpp"

#include <algorithm>
#include <cmath>

namespace housepower {

int digits_apart(double one, double other) {
  const double most = std::max(std::abs(one), std::abs(other));
  if (!(most > 0.0)) return 3;
  const double first = std::floor(std::log10(most));
  for (int digits = 3; digits < 5; ++digits) {
    const double place = std::pow(10.0, first - digits + 1.0);
    if (std::lround(one / place) != std::lround(other / place)) return digits;
  }
  return 5;
}

}  // namespace housepower

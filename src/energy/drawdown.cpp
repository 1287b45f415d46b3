// SPDX-License-Identifier: Apache-2.0
// The sequent-peak method, day by day.
#include "housepower/energy/drawdown.hpp"

namespace housepower::energy {

Drawdown largest_drawdown(std::span<const Energy> gained, std::span<const Energy> used, int times) {
  Drawdown worst;
  Energy now{}, sum_gained{}, sum_used{};
  std::size_t left_full = 0;
  for (int run = 0; run < times; ++run)
    for (std::size_t i = 0; i < used.size(); ++i) {
      const Energy gain = i < gained.size() ? gained[i] : Energy{};
      sum_gained += gain;
      sum_used += used[i];
      if (now == Energy{}) left_full = i;
      now = drawn_down(now, used[i], gain);
      if (worst.largest < now) worst.largest = now, worst.begins = left_full, worst.ends = i;
    }
  worst.gains_enough = sum_used <= sum_gained;
  return worst;
}

}  // namespace housepower::energy

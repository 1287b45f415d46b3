// SPDX-License-Identifier: Apache-2.0
// Many stays in the same hours, several at once: one stay alone waits for its own last step, and a
// register holds four or eight of them. Each comes out as `run` has it, bit for bit.
#pragma once

#include "housepower/energy/kernel.hpp"

namespace housepower::energy::kernel {

/// One stay of one plant. All of a call begin at the same hour of the day.
struct Lane {
  const Plant* plant;
  Outcome* outcome;
  int first;  // hour of the spell
  int phase;  // instead of that of the hours
};
/// How far stays are followed.
enum class Until {
  end,      // through every hour
  empty,    // neighbours stop once all of them have ended: lengths are right, sums are not, and the
            // lowest charge is that up to the day of the end
  lengths,  // the same, and there are no sums but the lowest charge and the coldest cells
};
/// For so many `hours`, days of 24 of them. A register takes as many as the processor allows (1, 4 or
/// 8), `at_once` at most.
void run(const Hours&, int hours, std::span<const Lane>, Until, int at_once = 8);
void run(const Hours&, int hours, std::span<const Lane>, bool until_empty = false, int at_once = 8);

}  // namespace housepower::energy::kernel

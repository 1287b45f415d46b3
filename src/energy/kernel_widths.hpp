// SPDX-License-Identifier: Apache-2.0
// The kernel for processors that hold four or eight doubles in a register: stays from the first on, as
// many as fill registers; how many were run. Only where the processor says that it can.
#pragma once

#include <cstddef>

#include "housepower/energy/kernel_lanes.hpp"

#if defined(__x86_64__)
#define HOUSEPOWER_WIDE
namespace housepower::energy::kernel {

[[nodiscard]] std::size_t run_by_four(const Hours&, int hours, std::span<const Lane>, Until);
[[nodiscard]] std::size_t run_by_eight(const Hours&, int hours, std::span<const Lane>, Until);

}  // namespace housepower::energy::kernel
#endif

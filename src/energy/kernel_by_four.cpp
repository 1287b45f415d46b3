// SPDX-License-Identifier: Apache-2.0
// The kernel with four stays in a register.
#include "kernel_step.hpp"
#include "kernel_widths.hpp"

#ifdef HOUSEPOWER_WIDE
namespace housepower::energy::kernel {

std::size_t run_by_four(const Hours& h, int hours, std::span<const Lane> lanes, Until until) {
  using Lanes = double __attribute__((vector_size(4 * sizeof(double))));
  return run_vectors<Lanes>(h, hours, lanes, until);
}

}  // namespace housepower::energy::kernel
#endif

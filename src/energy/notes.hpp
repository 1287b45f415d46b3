// SPDX-License-Identifier: Apache-2.0
// What a reader of the energy figures must know: assumptions and what is left out.
#pragma once

#include "housepower/energy/assessment.hpp"

namespace housepower::energy {
[[nodiscard]] std::vector<std::string> notes_of(const design::Design&, const Assessment&);
}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// The assessment without its longest calculations, for who asks again and knows what it needs.
#pragma once

#include "housepower/wiring/assessment.hpp"

namespace housepower::wiring {

/// As `assess`, without how batteries share, what the loss of one does, and the inverters' reserves.
[[nodiscard]] Assessment assess_network(const design::Design&, std::span<const LoadCase>);

}  // namespace housepower::wiring

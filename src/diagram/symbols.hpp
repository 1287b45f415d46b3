// SPDX-License-Identifier: Apache-2.0
// The symbols of a single-line diagram.
#pragma once

#include "housepower/diagram/diagram.hpp"

namespace housepower::diagram {

/// Drawn over the conductor that passes through its box.
void draw_symbol(Svg&, const DiagramSymbol&);

}  // namespace housepower::diagram

// SPDX-License-Identifier: Apache-2.0
// A place far from every town of the climate table: what is counted with there is hardly its climate.
#pragma once

#include <string>

#include "housepower/design/design.hpp"

namespace housepower::design {

/// "no town of the climate table is within 300 km: the climate of Hobart (464 km, 27 m) says little
/// about this place"; empty where one is, and where the place is a town's or has an hourly file.
[[nodiscard]] std::string far_climate(const Design&);

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
// What the electrical parts of a design weigh, as far as it says: for the rule `mass`, and for
// tables of many designs.
#pragma once

#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/wiring/assessment.hpp"

namespace housepower::checks {

struct Masses {
  Mass total{};                      // of the parts that state theirs, and of the cable
  Mass cable{}, copper{};            // of all runs, where one is open with the conductor chosen
  std::vector<std::string> missing;  // parts whose `mass` is not stated: then `total` is a least
};
[[nodiscard]] Masses masses_of(const design::Design&, const wiring::Assessment&,
                               Working* = nullptr);

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// What the electrical parts of a design weigh, as far as it says: for the rule `mass`, and for
// tables of many designs.
#pragma once

#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/wiring/assessment.hpp"

namespace housepower::checks {

inline constexpr Density copper_density = Density::from_value(8960.0);
inline constexpr Source copper_density_source{SourceKind::from_memory,
                                              "density of copper, 8.96 g/cm³", ""};
/// Of the copper alone, without sheath.
[[nodiscard]] constexpr Mass copper_mass(Area copper, Length length) {
  return copper_density * (copper * length);
}

struct Masses {
  Mass total{};                      // of the parts that state theirs, and of the cable
  Mass cable{}, copper{};            // of all runs, where one is open with the conductor chosen
  std::vector<std::string> missing;  // parts whose `mass` is not stated: then `total` is a least
};
[[nodiscard]] Masses masses_of(const design::Design&, const wiring::Assessment&,
                               Working* = nullptr);

}  // namespace housepower::checks

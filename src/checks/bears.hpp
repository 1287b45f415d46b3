// SPDX-License-Identifier: Apache-2.0
// What the rules on ampacity share: the keys that a pass leans on, and how a message says what a
// conductor bears.
#pragma once

#include "common.hpp"

namespace housepower::checks {

inline constexpr Leaning ampacity_leans_on[] = {{Subject::Kind::run, "insulation"},
                                                {Subject::Kind::run, "insulation_material"},
                                                {Subject::Kind::run, "laid"},
                                                {Subject::Kind::run, "ambient"},
                                                {Subject::Kind::run, "circuits_together"}};

/// "bs-7671-4f2-90, row 6", and how its factors were counted beyond their tables.
[[nodiscard]] inline std::string row_and_beyond(const wiring::Ampacity& found) {
  return std::string(found.table) + ", row " + found.row +
         (found.beyond.empty() ? "" : "; " + found.beyond);
}
/// No larger conductor helps where the air is too hot.
[[nodiscard]] inline std::string more_ampacity(const wiring::Ampacity& found,
                                               const wiring::RunFacts& facts) {
  if (found.value > Current{}) return larger_conductor(facts);
  const std::string air = print(Number(found.ambient_used));
  return found.at_terminal ? "a cooler place for its devices and terminals, which are in " + air
                           : "a cooler route, or insulation for more than " + air;
}

}  // namespace housepower::checks

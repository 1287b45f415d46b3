// SPDX-License-Identifier: Apache-2.0
// What the rules on ampacity share: the keys that a pass leans on, and how a message says what a
// conductor bears.
#pragma once

#include "common.hpp"
#include "housepower/wiring/links.hpp"
#include "resting.hpp"

namespace housepower::checks {

/// No key states how links and leads lie: a pass says what it rests on.
inline void say_how_leads_lie(Finding& f, const design::Design& design) {
  const auto lie = wiring::lie_of_leads(design);
  if (f.verdict != Verdict::pass || !lie) return;
  f.message +=
      "; this rests on how they lie, which no key states: free and by themselves, insulated for " +
      print(Number(lie->insulation)) + " and in " + print(Number(lie->ambient)) +
      " as the runs at the bank";
}
/// "bs-7671-4f2-90, row 6", and how its factors were counted beyond their tables.
[[nodiscard]] inline std::string row_and_beyond(const wiring::Ampacity& found) {
  return std::string(found.table) + ", row " + found.row +
         (found.beyond.empty() ? "" : "; " + found.beyond);
}
/// No larger conductor helps where the air is too hot.
[[nodiscard]] inline std::string more_ampacity(const wiring::Ampacity& found,
                                               const wiring::RunFacts& facts) {
  const bool thin = !(found.listed > Current{});  // thinner than its table begins
  if (thin || found.value > Current{}) return larger_conductor(facts);
  const std::string air = print(Number(found.ambient_used));
  return found.at_terminal ? "a cooler place for its devices and terminals, which are in " + air
                           : "a cooler route, or insulation for more than " + air;
}

}  // namespace housepower::checks

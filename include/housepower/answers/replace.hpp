// SPDX-License-Identifier: Apache-2.0
// A battery, fuse or charger of a van as it was built, replaced by another: what then fails, and the
// least change of its wiring that cures that.
#pragma once

#include <optional>
#include <vector>

#include "housepower/answers/compare.hpp"
#include "housepower/answers/mend.hpp"

namespace housepower::answers {

struct ReplaceReport {
  CheckedDesign before, after;
  range::Comparison changes;                     // points into what was checked
  std::vector<checks::Finding> fails, cautions;  // that were not so before
  std::vector<choice::MendedPart> needs;         // what the replacement asks for
  std::vector<choice::MendedPart> besides;       // what the van as built would ask for all the same
  std::vector<choice::Left> left;  // of `fails` and `cautions` what no such change cures
  checks::Verdicts then;           // with `needs` and `besides`
  bool complete = true;            // false: the search ended at its limit
};

/// One of the two, with the parts that are in stock for it.
struct ReplaceSide {
  CompareSide side;
  std::vector<design::Part> parts{};
};
/// `before` as built, `after` with the replacement. Nothing, and told, where the stock cannot be read.
[[nodiscard]] std::optional<ReplaceReport> replace(const ReplaceSide& before,
                                                   const ReplaceSide& after, Diagnostics&);

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// Two checked designs against each other.
#pragma once

#include "housepower/answers/checked_design.hpp"
#include "housepower/answers/given_design.hpp"
#include "housepower/range/compare.hpp"

namespace housepower::answers {

struct CompareReport {
  CheckedDesign before, after;
  range::Comparison changes;  // points into what was checked
};

/// One of the two.
struct CompareSide {
  GivenDesign given;
  const checks::Checked& checked;
};
/// With the stays that both promise, simulated beyond the promise.
[[nodiscard]] CompareReport compare(const CompareSide& before, const CompareSide& after);

}  // namespace housepower::answers

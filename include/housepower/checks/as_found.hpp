// SPDX-License-Identifier: Apache-2.0
// A van as its readings say it is, judged by the rules: the joints that were found by `hot-joint` at
// the largest current that their run carries, the ways through them by `drop`, undervoltage and
// collapse in every case of the design, batteries by `parallel-share`.
#pragma once

#include <vector>

#include "housepower/checks/rule.hpp"
#include "housepower/wiring/diagnosis.hpp"

namespace housepower::checks {

struct AsFound {
  std::vector<Finding> findings;  // beyond those of the design itself; the worst first
  Verdict verdict = Verdict::pass;
};

/// At best a caution where a cause was found, the readings are not explained or one is out of its
/// band. `checked`: of the same design, as it was drawn.
[[nodiscard]] AsFound judge_found(const design::Document&, const design::Design&,
                                  const Checked& checked, const wiring::Diagnosis&);

}  // namespace housepower::checks

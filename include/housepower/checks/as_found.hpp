// SPDX-License-Identifier: Apache-2.0
// A van as its readings say it is, judged by the rules: the joints that were found by `hot-joint` at
// the largest current that their run carries, the ways through them by `drop`, undervoltage and
// collapse in every case of the design, batteries by `parallel-share`. Where the readings cannot tell
// causes apart each of them is judged as if it were it: the worst decides.
#pragma once

#include <vector>

#include "housepower/checks/rule.hpp"
#include "housepower/wiring/dead_tests.hpp"

namespace housepower::checks {

struct AsFound {
  std::vector<Finding> findings;  // beyond those of the design itself; the worst first
  Verdict verdict = Verdict::pass;
};

/// At best a caution where a cause was found, the readings are not explained, one is out of its band,
/// a pole that carried a current was not read, a run was not tested (with a load that sends a current
/// through it, or dead where none does), or a dead test or an inspection is not recorded. A fail where
/// what was seen does not hold. `checked`: of
/// the same design, as it was drawn.
[[nodiscard]] AsFound judge_found(const design::Document&, const design::Design&,
                                  const Checked& checked, const wiring::Diagnosis&,
                                  const std::vector<wiring::CheckedByHand>& by_hand,
                                  const wiring::Coverage&);

}  // namespace housepower::checks

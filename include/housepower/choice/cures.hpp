// SPDX-License-Identifier: Apache-2.0
// Cures that were tried: for each finding at caution or fail a change of conductors, devices or
// take-off with which the design was judged, so that the finding passes and no other gets worse.
#pragma once

#include "housepower/checks/rule.hpp"

namespace housepower::choice {

/// Rewrites `cure` and fills `cure_set` of the findings that such a change may cure; where no single
/// change does it, a joint one, or the words that none does and what each would break. Findings
/// that ask for a value to be stated, and those that no wiring cures, keep their words; one that asks
/// for a conductor names what `choose` takes. What a rule proposes in `cure_set` is tried: first where
/// it is of what the finding speaks of, else where no such change helps. It stands there afterwards only
/// where it holds. A device put where one is missing counts, though its place is to be measured. At most
/// twelve designs are judged for a finding, and so many in all that a check stays quick; what is
/// past that says that it was not tried. Returns how many were judged.
int try_cures(const design::Document&, const design::Design&, checks::Checked&);

/// Where no cure is tried what rules propose is not offered.
void forget_untried(checks::Checked&);

/// "state …": the cure is to say how it is, not to change it.
[[nodiscard]] bool asks_to_state(const checks::Finding&);

}  // namespace housepower::choice

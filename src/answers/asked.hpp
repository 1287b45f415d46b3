// SPDX-License-Identifier: Apache-2.0
// What is asked of a design beside its file: another place, another appliance, more people.
#pragma once

#include "housepower/answers/opening.hpp"

namespace housepower::answers {

/// Puts place, added appliances, and what is used every day or left off into the design's tree, and
/// into `told` what an answer has to say of that. False, and told, where something is not understood.
[[nodiscard]] bool ask(Node& design, const Question&, std::vector<std::string>& told, Diagnostics&);

/// The same of the resolved design: hours for so many people; a warning where an inverter cannot run
/// what was added.
void ask_resolved(Opening&, const Question&, Diagnostics&);

/// A design without runs is no wiring that could be checked: says what nothing feeds.
[[nodiscard]] bool has_its_runs(const Opening&, Diagnostics&);

}  // namespace housepower::answers

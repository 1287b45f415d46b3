// SPDX-License-Identifier: Apache-2.0
// The answer of `wiring`.
#pragma once

#include "housepower/answers/wiring.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

/// One table of all runs, with the drops of a case (null: of none), and what was chosen for open ones.
/// `full`: devices and faults, batteries, charging, headroom and what a change would break, too.
[[nodiscard]] Page wiring_page(const answers::WiringReport&, const wiring::CaseResult*, bool full);
/// All of it, every case.
/// `quick`: it says of itself that headroom and what-if were left out.
[[nodiscard]] std::string wiring_json(const answers::WiringReport&, bool quick = false);

}  // namespace housepower::report

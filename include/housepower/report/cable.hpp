// SPDX-License-Identifier: Apache-2.0
// The answer of `cable`.
#pragma once

#include "housepower/answers/cable.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

/// Size, device and drop first, as assumed and at worst, with what governs each; then what is to be
/// looked at, what was assumed, and the other figures. `with_working`: each finding, passes too.
[[nodiscard]] Page cable_page(const answers::CableReport&, bool with_working);
[[nodiscard]] std::string cable_json(const answers::CableReport&);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// An appliance that is typed beside a design: "Air fryer: 1400 W, 0.3 h, inverter".
#pragma once

#include "housepower/answers/opening.hpp"

namespace housepower::answers {

/// Adds it to the design's tree, used by people, d.c. on the bank itself, and tells it; `number` counts
/// the options of the name. False, and said, where it is not understood.
[[nodiscard]] bool add_appliance(Node& design, const std::string& typed, std::size_t number,
                                 std::vector<std::string>& told, Diagnostics&);

/// An inverter runs nothing larger than it is rated for, and batteries let out no more than their
/// limit: tells and warns of each that was added beyond either.
void warn_of_inverters(Opening&, std::size_t added, Diagnostics&);

}  // namespace housepower::answers

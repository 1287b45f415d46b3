// SPDX-License-Identifier: Apache-2.0
// The voltage from place to place on the way to the consumer that loses most.
#pragma once

#include <optional>

#include "housepower/page/page.hpp"
#include "housepower/wiring/assessment.hpp"

namespace housepower::report {

using namespace page;

/// To the consumer that loses most in a case; nothing where there is no case, or nothing runs in it.
[[nodiscard]] std::optional<TableBlock>
voltage_way(const design::Design&, const wiring::Assessment&, const wiring::CaseResult*);

}  // namespace housepower::report

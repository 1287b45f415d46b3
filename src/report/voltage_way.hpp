// SPDX-License-Identifier: Apache-2.0
// The voltage from place to place on the way to the consumer that loses most.
#pragma once

#include <optional>

#include "housepower/page/page.hpp"
#include "housepower/wiring/assessment.hpp"

namespace housepower::report {

using namespace page;

/// A case's name in quotes, unless it holds some itself.
[[nodiscard]] std::string quoted_once(const std::string& name);
/// In the case where most is lost; nothing where no case was solved or none runs.
[[nodiscard]] std::optional<TableBlock> voltage_way(const design::Design&,
                                                    const wiring::Assessment&);

}  // namespace housepower::report

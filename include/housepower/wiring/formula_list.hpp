// SPDX-License-Identifier: Apache-2.0
// The formulas of wiring by name.
#pragma once

#include <span>

#include "housepower/working/registry.hpp"

namespace housepower::wiring {

[[nodiscard]] std::span<const FormulaEntry> formulas();

}  // namespace housepower::wiring

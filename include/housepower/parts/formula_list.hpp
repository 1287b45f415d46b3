// SPDX-License-Identifier: Apache-2.0
// The formulas of this room by name.
#pragma once

#include <span>

#include "housepower/working/registry.hpp"

namespace housepower::parts {
[[nodiscard]] std::span<const FormulaEntry> formulas();
}  // namespace housepower::parts

// SPDX-License-Identifier: Apache-2.0
// Files that a design names: from where their paths lead.
#pragma once

#include <string>
#include <string_view>

#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

/// The key of a diagnostic about a file that cannot be read.
inline constexpr std::string_view unreadable = "file";

/// The file beside which a path is looked for: the one that names it, or for an override the design.
[[nodiscard]] std::string file_naming(const Place& named, const std::string& design);

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// JSON as it is read: what a page in a browser asks.
#pragma once

#include <optional>
#include <string_view>

#include "housepower/page/json.hpp"

namespace housepower::page {

/// Nothing where the text is no JSON, or nests deeper than 64.
[[nodiscard]] std::optional<Json> read_json(std::string_view text);

}  // namespace housepower::page

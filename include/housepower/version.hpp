// SPDX-License-Identifier: Apache-2.0
// The version of the library that is linked.
#pragma once

#include <string_view>

namespace housepower {

/// "0.1.0".
[[nodiscard]] std::string_view version();

}  // namespace housepower

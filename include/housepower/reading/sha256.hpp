// SPDX-License-Identifier: Apache-2.0
// SHA-256 of a text (FIPS 180-4, from memory), as 64 digits of base 16: a seal that nobody can forge
// by a change elsewhere.
#pragma once

#include <string>
#include <string_view>

namespace housepower {

[[nodiscard]] std::string sha256_of(std::string_view);

}  // namespace housepower

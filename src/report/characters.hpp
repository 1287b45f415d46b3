// SPDX-License-Identifier: Apache-2.0
// Texts character by character, for files that must hold no broken ones.
#pragma once

#include <string_view>

namespace housepower::report {

/// U+FFFD, for what cannot be shown.
inline constexpr std::string_view strange = "\xEF\xBF\xBD";

/// The length of the character at the front; 0 where the bytes are no UTF-8.
[[nodiscard]] std::size_t character_length(std::string_view text);
/// That character, or the byte that is none.
[[nodiscard]] std::string_view next_character(std::string_view text);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// Texts character by character, for files that must hold no broken ones.
#pragma once

#include <string>
#include <string_view>

namespace housepower::page {

/// The length of the character at the front; 0 where the bytes are no UTF-8.
[[nodiscard]] std::size_t character_length(std::string_view text);
/// That character, or the byte that is none.
[[nodiscard]] std::string_view next_character(std::string_view text);

/// The text with escapes for what acts unseen (shown.hpp), and U+FFFD for what XML does not hold.
[[nodiscard]] std::string as_xml_holds(std::string_view text, std::string_view kept = {});

/// The text with each run of words that are written from right to left, and the blanks within it,
/// between two others: so that figures beside a name keep their place. Letters from Hebrew to NKo,
/// Syriac to extended Arabic, and presentation forms. Source: from memory of Unicode's blocks.
[[nodiscard]] std::string leftward_words_between(std::string_view text, std::string_view before,
                                                 std::string_view after);

}  // namespace housepower::page

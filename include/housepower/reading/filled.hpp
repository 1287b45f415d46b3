// SPDX-License-Identifier: Apache-2.0
// Running text in lines that a terminal shows whole.
#pragma once

#include <string>
#include <string_view>

namespace housepower {

/// Words in lines of `width` columns, the first of which begins at `column`; each later one begins
/// with `before`. A word that is longer stays whole, so that a path can be taken from the screen.
[[nodiscard]] std::string filled(std::string_view text, std::size_t width, std::size_t column = 0,
                                 std::string_view before = {});

/// Columns of help and of messages.
inline constexpr std::size_t widest_line = 100;

}  // namespace housepower

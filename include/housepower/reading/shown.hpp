// SPDX-License-Identifier: Apache-2.0
// Text as it may be shown: how many cells of a terminal it takes, and with what is not seen but acts
// (control characters, line ends, changes of direction, what takes no room) as an escape such as
// \u202E, so that no name in a file can drive a terminal or pass for another name.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace housepower {

/// Acts unseen: C0 and C1 controls, marks and overrides of the direction of writing, separators of
/// lines and paragraphs, and what takes no room but is no combining mark.
[[nodiscard]] bool is_unseen(std::uint32_t code_point);
/// "\u202E"; beyond U+FFFF "\U000E0001".
[[nodiscard]] std::string escape_of(std::uint32_t code_point);
/// The text with each of them as its escape, but for those in `kept`; a byte that is no UTF-8 is
/// U+FFFD.
[[nodiscard]] std::string with_escapes(std::string_view text, std::string_view kept = {});

/// One code point as shown; a combining mark takes no cell, an East Asian sign two.
struct ShownCell {
  std::string text;
  int width = 1;
};
/// The first `most` code points, so that a hostile line of megabytes stays cheap.
[[nodiscard]] std::vector<ShownCell> shown_cells(std::string_view text,
                                                 std::size_t most = std::string_view::npos);
[[nodiscard]] std::string shown(std::string_view text, std::size_t most = std::string_view::npos);
[[nodiscard]] std::size_t shown_width(std::string_view text);

}  // namespace housepower

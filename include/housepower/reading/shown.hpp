// SPDX-License-Identifier: Apache-2.0
// Text as a terminal shows it: how many cells it takes, and with what cannot be shown there
// (escapes, line ends, changes of direction) replaced, so that no name in a file can drive one.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace housepower {

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

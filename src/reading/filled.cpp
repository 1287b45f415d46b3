// SPDX-License-Identifier: Apache-2.0
#include "housepower/reading/filled.hpp"

#include <algorithm>

#include "housepower/reading/text.hpp"

namespace housepower {

std::string filled(std::string_view text, std::size_t width, std::size_t column,
                   std::string_view before) {
  std::string out;
  bool fresh = true;
  while (!text.empty()) {
    const auto word = text.substr(0, text.find(' '));
    text.remove_prefix(std::min(word.size() + 1, text.size()));
    const auto length = static_cast<std::size_t>(detail::count_code_points(word));
    if (!fresh && column + 1 + length > width) {
      out.append("\n").append(before);
      column = static_cast<std::size_t>(detail::count_code_points(before));
      fresh = true;
    }
    if (!fresh) out += ' ', ++column;
    out += word;
    column += length;
    fresh = false;
  }
  return out;
}

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
#include "characters.hpp"

#include <algorithm>

namespace housepower::report {

std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned first = byte(0);
  const std::size_t length = first < 0x80                    ? 1
                             : first >= 0xC2 && first < 0xE0 ? 2
                             : first >= 0xE0 && first < 0xF0 ? 3
                             : first >= 0xF0 && first < 0xF5 ? 4
                                                             : 0;
  if (length == 0 || length > text.size()) return 0;
  for (std::size_t i = 1; i < length; ++i)
    if ((byte(i) & 0xC0) != 0x80) return 0;
  if (length == 3 && first == 0xE0 && byte(1) < 0xA0) return 0;  // longer than need be
  if (length == 3 && first == 0xED && byte(1) > 0x9F) return 0;  // half of a pair
  if (length == 4 && ((first == 0xF0 && byte(1) < 0x90) || (first == 0xF4 && byte(1) > 0x8F)))
    return 0;
  return length;
}

std::string_view next_character(std::string_view text) {
  return text.substr(0, std::max<std::size_t>(1, character_length(text)));
}

}  // namespace housepower::report

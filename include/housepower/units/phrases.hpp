// SPDX-License-Identifier: Apache-2.0
// Small pieces of the sentences of every room.
#pragma once

#include <string>
#include <string_view>

namespace housepower {

/// "fridge" between double quotes.
[[nodiscard]] inline std::string quoted(std::string_view text) {
  return '"' + std::string(text) + '"';
}

/// The same, but a text that has quotes in it as it is: "Blender" alone.
[[nodiscard]] inline std::string quoted_once(std::string_view text) {
  return text.find('"') == text.npos ? quoted(text) : std::string(text);
}

/// "a, b, c" of a list of texts.
template <class Texts>
[[nodiscard]] std::string listed(const Texts& texts, std::string_view between = ", ") {
  std::string list;
  bool first = true;
  for (const std::string_view text : texts) {
    if (!first) list += between;
    list += text;
    first = false;
  }
  return list;
}

}  // namespace housepower

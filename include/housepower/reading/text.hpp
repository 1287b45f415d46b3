// SPDX-License-Identifier: Apache-2.0
// Small helpers on text that the files of this room share: code points, quoting, paths.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "housepower/reading/node.hpp"

namespace housepower::detail {

struct CodePoint {
  std::uint32_t value = 0;
  std::size_t bytes = 1;
};

/// The first code point of a text that is not empty; a byte that is no UTF-8 counts as U+FFFD.
[[nodiscard]] CodePoint first_code_point(std::string_view text);

/// A code point as `with_escapes` writes it; `bytes` are its own.
[[nodiscard]] std::string seen(std::string_view bytes, std::uint32_t code_point);

/// The small letter without its accent, of A to Z, a to z and U+00C0 to U+00FF; else nothing.
[[nodiscard]] std::optional<char> plain_letter(std::uint32_t code_point);
/// All letters of a text so.
[[nodiscard]] std::string in_plain_letters(std::string_view text);

/// A to Z small, all else as it is: for words that may be typed in any.
[[nodiscard]] std::string in_small_letters(std::string_view text);

[[nodiscard]] int count_code_points(std::string_view text);

/// "\"text\"", cut after 40 code points, so that a message stays a line.
[[nodiscard]] std::string quoted(std::string_view text);

/// "run" and "fridge" make "run/fridge"; an empty part leaves the other.
[[nodiscard]] std::string join(std::string_view path, std::string_view key);

/// Takes the part before the next `separator` off the front of `rest`.
[[nodiscard]] std::string_view take_part(std::string_view& rest, char separator);

[[nodiscard]] std::string_view trimmed(std::string_view text);

[[nodiscard]] inline bool is_table(const Node& node) {
  return std::holds_alternative<Node::Table>(node.value);
}

}  // namespace housepower::detail

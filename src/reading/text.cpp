// SPDX-License-Identifier: Apache-2.0
// Code points of UTF-8, quoting and paths: helpers of this room.
#include "housepower/reading/text.hpp"

#include <algorithm>

namespace housepower::detail {

CodePoint first_code_point(std::string_view text) {
  constexpr CodePoint broken{0xFFFD, 1};
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned lead = byte(0);
  if (lead < 0x80) return {lead, 1};
  if (lead < 0xC2 || lead > 0xF4) return broken;
  const std::size_t bytes = lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
  if (text.size() < bytes) return broken;
  std::uint32_t value = lead & (0x7Fu >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0u) != 0x80u) return broken;
    value = value << 6 | (byte(i) & 0x3Fu);
  }
  constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (value < least[bytes] || value > 0x10FFFF || surrogate) return broken;
  return {value, bytes};
}

std::optional<char> plain_letter(std::uint32_t value) {
  // U+00C0 to U+00FF; a blank where it is no letter
  constexpr std::string_view accented =
      "aaaaaaaceeeeiiii nooooo ouuuuy saaaaaaaceeeeiiii nooooo ouuuuy y";
  if (value >= 'A' && value <= 'Z') return static_cast<char>(value - 'A' + 'a');
  if (value >= 'a' && value <= 'z') return static_cast<char>(value);
  if (value < 0xC0 || value > 0xFF || accented[value - 0xC0] == ' ') return std::nullopt;
  return accented[value - 0xC0];
}

std::string in_plain_letters(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const auto [value, bytes] = first_code_point(text);
    if (const auto letter = plain_letter(value)) out += *letter;
    else out += text.substr(0, bytes);
    text.remove_prefix(bytes);
  }
  return out;
}

int count_code_points(std::string_view text) {
  int count = 0;
  for (; !text.empty(); ++count) text.remove_prefix(first_code_point(text).bytes);
  return count;
}

std::string quoted(std::string_view text) {
  std::size_t end = 0;
  for (int i = 0; i < 40 && end < text.size(); ++i) end += first_code_point(text.substr(end)).bytes;
  std::string out = "\"";
  out += text.substr(0, end);
  return out += end < text.size() ? "…\"" : "\"";
}

std::string join(std::string_view path, std::string_view key) {
  std::string out(path);
  if (!path.empty() && !key.empty()) out += '/';
  return out += key;
}

std::string_view take_part(std::string_view& rest, char separator) {
  const std::size_t end = std::min(rest.find(separator), rest.size());
  const std::string_view part = rest.substr(0, end);
  rest.remove_prefix(std::min(end + 1, rest.size()));
  return part;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blank = " \t\r\n";
  const std::size_t first = text.find_first_not_of(blank);
  if (first == text.npos) return {};
  return text.substr(first, text.find_last_not_of(blank) - first + 1);
}

std::string in_small_letters(std::string_view text) {
  std::string small(text);
  for (char& c : small)
    if (c >= 'A' && c <= 'Z') c = char(c - 'A' + 'a');
  return small;
}

}  // namespace housepower::detail

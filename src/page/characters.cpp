// SPDX-License-Identifier: Apache-2.0
#include "characters.hpp"

#include <algorithm>

#include "housepower/reading/shown.hpp"

namespace housepower::page {

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

namespace {

bool is_leftward(std::string_view c) {
  if (c.size() < 2) return false;
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(c[i]); };
  if (c.size() == 2) return byte(0) >= 0xD6 && byte(0) <= 0xDF;
  if (c.size() == 3)
    return (byte(0) == 0xE0 &&
            (byte(1) == 0xA0 || byte(1) == 0xA1 || byte(1) == 0xA2 || byte(1) == 0xA3)) ||
           (byte(0) == 0xEF && byte(1) >= 0xAC && byte(1) <= 0xBB);
  return byte(0) == 0xF0 && (byte(1) == 0x90 || byte(1) == 0x9E);
}

}  // namespace

std::string as_xml_holds(std::string_view text, std::string_view kept) {
  std::string out = with_escapes(text, kept);
  for (const std::string_view none : {"\uFFFE", "\uFFFF"})
    for (std::size_t at = 0; (at = out.find(none, at)) != out.npos;)
      out.replace(at, none.size(), "\uFFFD");
  return out;
}

std::string leftward_words_between(std::string_view text, std::string_view before,
                                   std::string_view after) {
  std::string out, blanks;  // blanks: within a run, or behind it
  bool within = false;
  while (!text.empty()) {
    const std::string_view c = next_character(text);
    text.remove_prefix(c.size());
    if (within && c == " ") {
      blanks += c;
      continue;
    }
    const bool leftward = is_leftward(c);
    if (within && !leftward) out += after;
    out += blanks;
    blanks.clear();
    if (!within && leftward) out += before;
    out += c;
    within = leftward;
  }
  if (within) out += after;
  return out + blanks;
}

}  // namespace housepower::page

// SPDX-License-Identifier: Apache-2.0
// Looking up a unit by any of its spellings.
#include <algorithm>

#include "spellings.hpp"

namespace housepower {
namespace spellings {
namespace {

/// Takes one code point; a byte that is no UTF-8 counts as itself.
char32_t take(std::string_view& rest) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(rest[i]); };
  const unsigned char first = byte(0);
  const std::size_t size = first < 0xC0 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  char32_t code = size == 1 ? first : first & (0xFFU >> (size + 1));
  std::size_t used = 1;
  for (; used < size && used < rest.size() && (byte(used) & 0xC0) == 0x80; ++used)
    code = (code << 6) | (byte(used) & 0x3FU);
  rest.remove_prefix(used);
  return code;
}

bool same(std::string_view a, std::string_view b) {
  while (!a.empty() && !b.empty())
    if (take_folded(a) != take_folded(b)) return false;
  return a.empty() && b.empty();
}

}  // namespace

char32_t take_folded(std::string_view& rest) {
  switch (const char32_t code = take(rest)) {
  case 0x2126: return 0x03A9;  // ohm sign: capital omega
  case 0x03BC: return 0x00B5;  // small mu: micro sign
  case 0x00BA: return 0x00B0;  // raised o: degree sign
  case 0x00B2: return '2';
  case 0x00B3: return '3';
  case 0x2074: return '4';
  case 0x00B7:
  case 0x22C5:
  case 0x00A0:
  case 0x202F: return ' ';  // dots, no-break spaces
  default: return code;
  }
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks[] = {" ", "\t", "\u00A0", "\u202F"};
  for (bool again = true; again;) {
    again = false;
    for (const auto blank : blanks) {
      if (text.starts_with(blank)) text.remove_prefix(blank.size()), again = true;
      if (text.ends_with(blank)) text.remove_suffix(blank.size()), again = true;
    }
  }
  return text;
}

int length_of(std::string_view text) {
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

}  // namespace spellings

std::span<const Unit> units() { return spellings::table; }

std::optional<Unit> unit_named(std::string_view symbol) {
  for (const Unit& unit : spellings::table)  // nearly always one of these, and much faster
    if (unit.symbol == symbol) return unit;
  for (const Unit& unit : spellings::table)
    if (spellings::same(unit.symbol, symbol)) return unit;
  return std::nullopt;
}

}  // namespace housepower

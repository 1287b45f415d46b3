// SPDX-License-Identifier: Apache-2.0
// Code points as cells of a terminal.
#include "housepower/reading/shown.hpp"

#include <algorithm>
#include <cstdint>

#include "housepower/reading/text.hpp"

namespace housepower {
namespace {

constexpr int tab_stop = 4;

struct Range {
  std::uint32_t first, last;
};
template <std::size_t N> bool within(std::uint32_t c, const Range (&ranges)[N]) {
  return std::any_of(ranges, ranges + N, [c](Range r) { return c >= r.first && c <= r.last; });
}

// Source: Unicode: C0 and C1 controls, format characters (general category Cf), separators of lines
// and paragraphs, characters without a width; from memory.
constexpr Range unseen[] = {{0x00, 0x1F},     {0x7F, 0x9F},      {0xAD, 0xAD},     {0x61C, 0x61C},
                            {0x115F, 0x1160}, {0x180E, 0x180E},  {0x200B, 0x200F}, {0x2028, 0x202E},
                            {0x2060, 0x206F}, {0x3164, 0x3164},  {0xFEFF, 0xFEFF}, {0xFFA0, 0xFFA0},
                            {0xFFF9, 0xFFFB}, {0xE0000, 0xE0FFF}};
// Source: Unicode blocks of combining marks; from memory.
constexpr Range combining[] = {{0x300, 0x36F},   {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF},
                               {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}};
// Source: Unicode blocks of East Asian wide characters and pictographs; from memory.
constexpr Range wide[] = {{0x1100, 0x115F},   {0x2E80, 0x303E},  {0x3041, 0xA4CF}, {0xAC00, 0xD7A3},
                          {0xF900, 0xFAFF},   {0xFE30, 0xFE6F},  {0xFF00, 0xFF60}, {0xFFE0, 0xFFE6},
                          {0x1F300, 0x1FAFF}, {0x20000, 0x3FFFD}};

int columns_taken(std::uint32_t c, int column) {
  if (c == '\t') return tab_stop - column % tab_stop;
  if (is_unseen(c)) return c > 0xFFFF ? 10 : 6;
  if (c < 0x300) return 1;
  return within(c, combining) ? 0 : within(c, wide) ? 2 : 1;
}

ShownCell shown_cell(std::string_view bytes, std::uint32_t c, int column) {
  const int width = columns_taken(c, column);
  if (c == '\t') return {std::string(static_cast<std::size_t>(width), ' '), width};
  return {detail::seen(bytes, c), width};
}

}  // namespace

bool is_unseen(std::uint32_t c) { return !(c >= 0x20 && c < 0x7F) && within(c, unseen); }

std::string escape_of(std::uint32_t c) {
  constexpr std::string_view hex = "0123456789ABCDEF";
  std::string out = c > 0xFFFF ? "\\U" : "\\u";
  for (int shift = c > 0xFFFF ? 28 : 12; shift >= 0; shift -= 4) out += hex[(c >> shift) & 15U];
  return out;
}

namespace detail {
std::string seen(std::string_view bytes, std::uint32_t code_point) {
  if (is_unseen(code_point)) return escape_of(code_point);
  return code_point == 0xFFFD ? "\uFFFD" : std::string(bytes);
}
}  // namespace detail

std::string with_escapes(std::string_view text, std::string_view kept) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const auto [value, bytes] = detail::first_code_point(text);
    const auto own = text.substr(0, bytes);
    if (kept.find(own) != kept.npos) out += own;
    else out += detail::seen(own, value);
    text.remove_prefix(bytes);
  }
  return out;
}

std::vector<ShownCell> shown_cells(std::string_view text, std::size_t most) {
  std::vector<ShownCell> cells;
  for (int column = 0; !text.empty();) {
    if (cells.size() == most) {
      cells.push_back({"…", 1});
      break;
    }
    const auto [value, bytes] = detail::first_code_point(text);
    cells.push_back(shown_cell(text.substr(0, bytes), value, column));
    column += cells.back().width;
    text.remove_prefix(bytes);
  }
  return cells;
}

std::string shown(std::string_view text, std::size_t most) {
  std::string out;
  for (const auto& cell : shown_cells(text, most)) out += cell.text;
  return out;
}

std::size_t shown_width(std::string_view text) {
  int width = 0;
  while (!text.empty()) {
    const auto [value, bytes] = detail::first_code_point(text);
    width += columns_taken(value, width);
    text.remove_prefix(bytes);
  }
  return static_cast<std::size_t>(width);
}

}  // namespace housepower

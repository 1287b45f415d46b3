// SPDX-License-Identifier: Apache-2.0
// Words in lines, by the cells that a terminal gives each sign.
#include "text_layout.hpp"

#include <algorithm>

#include "housepower/reading/shown.hpp"

namespace housepower::page {
namespace {

/// Takes the next part off `rest`: up to a space, which is dropped, or to the end of its slashes. A
/// figure keeps its unit: "0.15 m".
struct LinePart {
  std::string_view text;
  bool spaced = false;  // a space stood behind it
};
bool is_figure_with_unit(std::string_view rest, std::size_t space) {
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  const std::size_t unit = std::min(rest.find(' ', space + 1), rest.size()) - space - 1;
  return space > 0 && digit(rest[space - 1]) && unit > 0 && unit <= 4 && !digit(rest[space + 1]);
}
LinePart take_part(std::string_view& rest) {
  std::size_t end = rest.find_first_of(" /");
  if (end < rest.size() && rest[end] == ' ' && is_figure_with_unit(rest, end))
    end = rest.find_first_of(" /", end + 1);
  if (end == rest.npos) end = rest.size();
  while (end < rest.size() && rest[end] == '/') ++end;
  const bool spaced = end < rest.size() && rest[end] == ' ';
  const LinePart part{rest.substr(0, end), spaced};
  rest.remove_prefix(end + (spaced ? 1 : 0));
  return part;
}

/// A part that no line holds, cell by cell.
void break_into(std::vector<std::string>& lines, std::string_view part, std::size_t width,
                std::size_t& used) {
  for (const auto& cell : shown_cells(part)) {
    const auto own = static_cast<std::size_t>(cell.width);
    if (used > 0 && used + own > width) lines.emplace_back(), used = 0;
    lines.back() += cell.text, used += own;
  }
}

}  // namespace

int line_width(const Screen& screen) { return std::min(screen.width, 100); }

std::string painted(std::string text, const char* code, const Screen& screen) {
  return screen.colour ? std::string("\x1b[") + code + "m" + text + "\x1b[0m" : text;
}

std::string wrapped(const std::string& first, std::string_view words, std::size_t indent,
                    int width) {
  std::string out = first;
  std::size_t column = shown_width(first);
  bool fresh = true;
  for (std::string_view rest = words; !rest.empty();) {
    const auto end = std::min(rest.find(' '), rest.size());
    const std::string word = shown(rest.substr(0, end));
    rest.remove_prefix(std::min(end + 1, rest.size()));
    const std::size_t length = shown_width(word);
    if (!fresh && column + 1 + length > static_cast<std::size_t>(width)) {
      out += "\n" + std::string(indent, ' ');
      column = indent;
      fresh = true;
    }
    if (!fresh) out += ' ', ++column;
    out += word;
    column += length;
    fresh = false;
  }
  return out + "\n";
}

std::size_t widest_part(std::string_view text) {
  std::size_t widest = 0;
  while (!text.empty()) widest = std::max(widest, shown_width(take_part(text).text));
  return widest;
}

std::vector<std::string> cell_lines(std::string_view text, std::size_t width) {
  if (shown_width(text) <= width) return {shown(text)};
  std::vector<std::string> lines(1);
  std::size_t used = 0;
  bool space = false;
  while (!text.empty()) {
    const LinePart part = take_part(text);
    const std::size_t own = shown_width(part.text);
    if (used > 0 && used + (space ? 1 : 0) + own > width)
      lines.emplace_back(), used = 0, space = false;
    if (space && used > 0) lines.back() += ' ', ++used;
    if (own > width) break_into(lines, part.text, width, used);
    else lines.back() += shown(part.text), used += own;
    space = part.spaced;
  }
  return lines;
}

std::string shortened(std::string_view text, std::size_t width) {
  if (shown_width(text) <= width) return shown(text);
  return cell_lines(text, std::max<std::size_t>(width, 3) - 2).front() + " …";
}

}  // namespace housepower::page

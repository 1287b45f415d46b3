// SPDX-License-Identifier: Apache-2.0
// A table on a screen. Where it is too wide, heads wrap first, then words in cells; then it goes on
// below, the columns that tell its rows apart repeated. No figure is ever cut. Bars take what room is left.
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>
#include <set>

#include "housepower/reading/shown.hpp"
#include "text_layout.hpp"

namespace housepower::page {
namespace {

using PerColumn = std::vector<std::size_t>;

constexpr std::size_t margin_left = 2, gap = 2;
constexpr std::size_t least_words = 12;  // words in cells get as much, where they need it
constexpr std::size_t least_bar = 10, good_bar = 20, most_bar = 32;  // cells

/// How wide a column would be, with its head wrapped, and at least.
struct Widths {
  std::size_t natural = 0, body = 0, least = 0;
};

Widths widths_of(const TableBlock& t, std::size_t column) {
  std::size_t cells = 0, part = 0;
  for (const auto& row : t.rows) {
    cells = std::max(cells, shown_width(row[column]));
    part = std::max(part, widest_part(row[column]));
  }
  const std::size_t head = widest_part(t.heads[column]);
  Widths w{std::max(cells, shown_width(t.heads[column])), std::max(cells, head), 0};
  w.least =
      t.numbers[column] ? w.body : std::min(w.body, std::max(least_words, std::max(part, head)));
  return w;
}

std::size_t total(const PerColumn& widths) {
  return std::accumulate(widths.begin(), widths.end(), margin_left + gap * (widths.size() - 1));
}

/// The lines of a cell of words, the later ones set in, so that they do not look like a new row.
std::vector<std::string> words_in(const std::string& text, std::size_t width) {
  if (width < least_words || shown_width(text) <= width) return cell_lines(text, width);
  auto lines = cell_lines(text, width - 1);
  for (std::size_t i = 1; i < lines.size(); ++i) lines[i].insert(0, 1, ' ');
  return lines;
}

/// How many lines a column's cells take together at a width; each is worked out once.
class Heights {
public:
  Heights(const TableBlock& t, const PerColumn& columns) : t_(t), columns_(columns) {
    for (const auto& row : t.rows)
      for (const std::size_t c : columns) cells_.push_back(shown_width(row[c]));
  }
  std::size_t at(std::size_t column, std::size_t width) {
    auto [found, is_new] = known_.try_emplace({column, width}, 0);
    if (is_new)
      for (std::size_t row = 0; row < t_.rows.size(); ++row)
        found->second += lines_of(row, column, width);
    return found->second;
  }

private:
  /// Of a very long text about as many, so that trying all widths stays cheap.
  std::size_t lines_of(std::size_t row, std::size_t column, std::size_t width) const {
    constexpr std::size_t very_long = 1000;
    const std::size_t cells = cells_[row * columns_.size() + column];
    if (cells <= width) return 1;
    return cells > very_long ? cells / width + 1
                             : words_in(t_.rows[row][columns_[column]], width).size();
  }
  std::vector<std::size_t> cells_;  // by row, then by column
  const TableBlock& t_;
  const PerColumn& columns_;
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> known_;
};

/// Takes from the column above its floor where that costs fewest lines, then from the widest, until
/// the table fits or nothing is left to take.
void shrink(PerColumn& widths, const PerColumn& floors, std::size_t room, Heights& heights) {
  for (std::size_t over = total(widths); over > room; --over) {
    std::optional<std::size_t> best;
    std::size_t least = 0;
    for (std::size_t c = 0; c < widths.size(); ++c) {
      if (widths[c] <= floors[c]) continue;
      const std::size_t now = heights.at(c, widths[c]), then = heights.at(c, widths[c] - 1);
      const std::size_t cost = then > now ? then - now : 0;
      if (!best || cost < least || (cost == least && widths[c] > widths[*best]))
        best = c, least = cost;
    }
    if (!best) return;
    --widths[*best];
  }
}

/// How many columns at the left tell the rows apart, where there is room for them; else one.
std::size_t key_of(const TableBlock& t, const std::vector<Widths>& all, std::size_t room) {
  std::size_t widest = 0;
  for (const Widths& w : all) widest = std::max(widest, w.least);
  std::set<std::vector<std::string>> seen;
  std::size_t used = margin_left;
  for (std::size_t key = 1; key < all.size(); ++key, seen.clear()) {
    used += all[key - 1].least + gap;
    if (used + widest > room) break;
    for (const auto& row : t.rows)
      seen.emplace(row.begin(), row.begin() + static_cast<std::ptrdiff_t>(key));
    if (seen.size() == t.rows.size()) return key;
  }
  return 1;
}

/// Columns in as many tables as it takes, the first `key` in each.
std::vector<PerColumn> parts_within(const std::vector<Widths>& all, std::size_t key,
                                    std::size_t room) {
  PerColumn first(key);
  std::iota(first.begin(), first.end(), std::size_t{0});
  std::size_t start = margin_left - gap;
  for (const std::size_t c : first) start += gap + all[c].least;
  std::vector<PerColumn> parts{first};
  std::size_t used = start;
  for (std::size_t c = key; c < all.size(); ++c) {
    if (parts.back().size() > key && used + gap + all[c].least > room)
      parts.push_back(first), used = start;
    parts.back().push_back(c), used += gap + all[c].least;
  }
  return parts;
}
/// The same number of tables, none much narrower than the others.
std::vector<PerColumn> parts_of(const TableBlock& t, const std::vector<Widths>& all,
                                std::size_t room) {
  const std::size_t key = key_of(t, all, room);
  auto parts = parts_within(all, key, room);
  const std::size_t number = parts.size();
  for (; number > 1 && room > 1; --room) {
    auto narrower = parts_within(all, key, room - 1);
    if (narrower.size() > number) break;
    parts = std::move(narrower);
  }
  return parts;
}

std::string padded(const std::string& text, std::size_t width, bool right) {
  const std::size_t own = shown_width(text);
  const std::string fill(width > own ? width - own : 0, ' ');
  return right ? fill + text : text + fill;
}

/// One row: as many lines as its tallest cell; a head stands on the figures below it.
void append_row(std::string& out, const std::vector<std::vector<std::string>>& cells,
                const PerColumn& widths, const std::vector<bool>& right, bool head) {
  std::size_t height = 1;
  for (const auto& lines : cells) height = std::max(height, lines.size());
  for (std::size_t i = 0; i < height; ++i) {
    std::string line(margin_left, ' ');
    for (std::size_t c = 0; c < cells.size(); ++c) {
      const std::size_t above = head ? height - cells[c].size() : 0;
      const bool filled = i >= above && i - above < cells[c].size();
      line += padded(filled ? cells[c][i - above] : std::string(), widths[c], right[c]);
      if (c + 1 < cells.size()) line += std::string(gap, ' ');
    }
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + "\n";
  }
}

/// A bar in eighths of a cell, or in whole ones where the screen has no such signs; a mark stands
/// in its own cell, before whatever is there.
std::string bar(double length, std::optional<double> mark, double largest, std::size_t cells,
                const Screen& screen) {
  constexpr std::string_view eighths[] = {"", "▏", "▎", "▍", "▌", "▋", "▊", "▉"};
  const auto in_eighths = [&](double x) {
    return static_cast<std::size_t>(
        std::ceil(std::clamp(x / largest, 0.0, 1.0) * static_cast<double>(8 * cells) - 1e-9));
  };
  const std::size_t reach = length > 0.0 ? in_eighths(length) : 0;
  const std::size_t at = mark ? std::min(in_eighths(*mark) / 8, cells - 1) : cells;
  const std::size_t whole = screen.blocks ? reach / 8 : (reach + 7) / 8;
  std::string out;
  for (std::size_t i = 0; i < cells; ++i) {
    if (i == at) out += screen.blocks ? "│" : "|";
    else if (i < whole) out += screen.blocks ? "█" : "#";
    else if (i == whole && screen.blocks && reach % 8 > 0) out += eighths[reach % 8];
    else out += ' ';
  }
  return out;
}

/// Room for bars beside these widths, for which heads wrap; none where they would say little.
std::size_t room_for_bars(const TableBlock& t, PerColumn& widths, const PerColumn& heads_wrapped,
                          std::size_t room, Heights& heights) {
  const std::size_t least = gap + std::max(least_bar, widest_part(t.bars.head));
  if (t.bars.lengths.size() != t.rows.size()) return 0;
  PerColumn narrower = widths;
  shrink(narrower, heads_wrapped, room - std::min(room, gap + good_bar), heights);
  if (total(narrower) + least > room) return 0;
  widths = narrower;
  return std::min(most_bar, room - total(widths) - gap);
}

void append_part(std::string& out, const TableBlock& t, const PerColumn& columns,
                 const std::vector<Widths>& all, bool whole, const Screen& screen) {
  const auto room = static_cast<std::size_t>(std::max(screen.width, 1));
  PerColumn widths, heads_wrapped, least;
  std::vector<bool> right;
  for (const std::size_t c : columns) {
    // Words need not be tried wider than the screen, however long they are.
    widths.push_back(t.numbers[c] ? all[c].natural : std::min(all[c].natural, room));
    heads_wrapped.push_back(std::min(all[c].body, widths.back()));
    least.push_back(all[c].least), right.push_back(t.numbers[c]);
  }
  Heights heights(t, columns);
  shrink(widths, heads_wrapped, room, heights);
  shrink(widths, least, room, heights);
  // A column of words alone may still be too wide; its words break.
  PerColumn floors = least;
  for (std::size_t i = 0; i < columns.size(); ++i)
    if (!right[i]) floors[i] = std::min(least[i], least_words / 2);
  shrink(widths, floors, room, heights);
  const std::size_t cells = whole ? room_for_bars(t, widths, heads_wrapped, room, heights) : 0;
  double largest = 0.0;
  for (const double x : t.bars.lengths) largest = std::max(largest, x);
  for (const double x : t.bars.marks) largest = std::max(largest, x);
  const bool bars = cells > 0 && largest > 0.0;
  if (bars) widths.push_back(cells), right.push_back(false);

  std::vector<std::vector<std::string>> heads;
  for (std::size_t i = 0; i < columns.size(); ++i)
    heads.push_back(cell_lines(t.heads[columns[i]], widths[i]));
  if (bars) heads.push_back(cell_lines(t.bars.head, cells));
  append_row(out, heads, widths, right, true);
  for (std::size_t r = 0; r < t.rows.size(); ++r) {
    std::vector<std::vector<std::string>> row;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::string& text = t.rows[r][columns[i]];
      row.push_back(right[i] ? std::vector{shown(text)} : words_in(text, widths[i]));
    }
    if (bars)
      row.push_back({bar(t.bars.lengths[r],
                         r < t.bars.marks.size() ? std::optional(t.bars.marks[r]) : std::nullopt,
                         largest, cells, screen)});
    append_row(out, row, widths, right, false);
  }
}

}  // namespace

void append_table(std::string& out, const TableBlock& t, const Screen& screen) {
  if (t.rows.empty() || t.heads.empty()) return;
  std::string title = wrapped("", t.title, 0, line_width(screen));
  title.pop_back();
  out += "\n" + painted(title, "1", screen) + "\n";
  std::vector<Widths> all;
  for (std::size_t c = 0; c < t.heads.size(); ++c) all.push_back(widths_of(t, c));
  const auto parts = parts_of(t, all, static_cast<std::size_t>(std::max(screen.width, 1)));
  for (const PerColumn& columns : parts) {
    if (&columns != &parts.front()) out += "\n";
    append_part(out, t, columns, all, parts.size() == 1, screen);
  }
}

}  // namespace housepower::page

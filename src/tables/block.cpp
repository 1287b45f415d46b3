// SPDX-License-Identifier: Apache-2.0
// Takes a block of comma-separated text apart. Every error has file, line and column.
#include <algorithm>
#include <cmath>

#include "file.hpp"

namespace housepower::tables {
namespace {

std::string_view without_blanks(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r");
  if (first == text.npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

int width_of(std::string_view text) {
  int count = 0;
  for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
  return count;
}

std::string_view next_line(std::string_view& rest) {
  const auto end = std::min(rest.find('\n'), rest.size());
  const auto line = rest.substr(0, end);
  rest.remove_prefix(std::min(end + 1, rest.size()));
  return line;
}

/// Cuts what stands between `open` and `close` off the end.
std::string_view cut_off(std::string_view& text, char open, char close) {
  const auto from = text.ends_with(close) ? text.rfind(open) : text.npos;
  if (from == text.npos) return {};
  const auto inside = text.substr(from + 1, text.size() - from - 2);
  text = without_blanks(text.substr(0, from));
  return without_blanks(inside);
}

/// The cells of a line, one after the other, as written.
struct Cells {
  std::string_view rest;
  bool more = true;
  explicit Cells(std::string_view line) : rest(line) {}

  std::string_view next() {
    std::size_t end = 0;
    for (bool quoted = false; end < rest.size() && (quoted || rest[end] != ','); ++end)
      if (rest[end] == '"') quoted = !quoted;
    const auto cell = rest.substr(0, end);
    more = end < rest.size();
    rest = more ? rest.substr(end + 1) : std::string_view{};
    return without_blanks(cell);
  }
};

/// "rows" of a line `rows = """`; empty of any other.
std::string_view opened_by(std::string_view line) {
  line = without_blanks(line);
  if (!line.ends_with("\"\"\"")) return {};
  line = without_blanks(line.substr(0, line.size() - 3));
  if (!line.ends_with('=')) return {};
  return without_blanks(line.substr(0, line.size() - 1));
}

}  // namespace

std::string without_blocks(std::string_view text, std::vector<BlockText>& blocks) {
  std::string left;
  left.reserve(text.size());
  int number = 0;
  for (std::string_view rest = text; !rest.empty();) {
    const auto line = next_line(rest);
    ++number;
    const auto key = opened_by(line);
    const auto closing = key.empty() ? text.npos : rest.find("\n\"\"\"");
    if (closing == text.npos) {
      left.append(line).append("\n");
      continue;
    }
    blocks.push_back({key, rest.substr(0, closing + 1), number});
    rest.remove_prefix(closing + 1);
    next_line(rest);
    const auto lines = 2 + std::count(blocks.back().text.begin(), blocks.back().text.end(), '\n');
    left.append(static_cast<std::size_t>(lines), '\n');
    number += static_cast<int>(lines) - 1;
  }
  return left;
}

bool File::has(std::string_view key) const {
  return std::any_of(blocks.begin(), blocks.end(), [key](const auto& b) { return b.key == key; });
}

Block::Block(const File& file, std::string_view key, Diagnostics& diagnostics,
             std::string_view only)
    : file_(file), diagnostics_(diagnostics), key_(key) {
  for (const auto& block : file.blocks) {
    if (block.key != key) continue;
    Line line{block.line, {}};
    for (std::string_view rest = block.text; !rest.empty();) {
      line.text = next_line(rest);
      ++line.number;
      if (without_blanks(line.text).empty()) continue;
      if (columns_.empty()) read_header(line);
      else if (without_blanks(line.text).starts_with(only)) read_row(line);
    }
  }
}

Place Block::place_in(const Line& line, std::string_view part) const {
  Place place{file_.path, line.number, 1};
  if (part.data())
    place.column +=
        width_of(line.text.substr(0, static_cast<std::size_t>(part.data() - line.text.data())));
  place.width = std::max(width_of(part), 1);
  return place;
}

const Mark* Block::mark_named(std::string_view letter, const Line& line) {
  if (letter.empty()) return nullptr;
  const auto found = file_.marks.find(letter);
  if (found != file_.marks.end()) return &found->second;
  diagnostics_.error(place_in(line, letter), std::string(key_),
                     "no mark \"" + std::string(letter) + "\" is in this file",
                     "add a table [marks." + std::string(letter) + "]");
  return nullptr;
}

void Block::read_header(const Line& line) {
  header_ = line;
  for (Cells cells(line.text); cells.more;) {
    Column column;
    column.key = cells.next();
    column.mark = mark_named(cut_off(column.key, '{', '}'), line);
    column.unit = cut_off(column.key, '[', ']');
    columns_.push_back(column);
    units_.push_back(unit_named(column.unit));
  }
}

void Block::read_row(const Line& line) {
  const auto marks = column("mark");
  const std::size_t first = cells_.size();
  for (Cells cells(line.text); cells.more;) {
    Cell cell;
    cell.text = cells.next();
    cell.mark = mark_named(cut_off(cell.text, '{', '}'), line);
    if (cell.text.size() > 1 && cell.text.front() == '"' && cell.text.back() == '"')
      cell.text = cell.text.substr(1, cell.text.size() - 2);
    else if (cell.text == "-") cell.text = cell.text.substr(0, 0);
    if (cells_.size() - first == columns_.size()) {
      diagnostics_.error(place_in(line, cell.text), std::string(key_),
                         "more cells than the " + std::to_string(columns_.size()) + " columns",
                         "put a cell that contains a comma in quotes");
      break;
    }
    cells_.push_back(cell);
  }
  cells_.resize(first + columns_.size());
  lines_.push_back(line);
  const Mark* row = marks ? mark_named(cells_[first + *marks].text, line) : nullptr;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const Mark*& mark = cells_[first + i].mark;
    if (!mark) mark = row ? row : columns_[i].mark;
  }
}

std::optional<std::size_t> Block::column(std::string_view key) const {
  for (std::size_t i = 0; i < columns_.size(); ++i)
    if (columns_[i].key == key) return i;
  return std::nullopt;
}

std::optional<std::size_t> Block::needed(std::string_view key) {
  const auto found = column(key);
  if (!found)
    diagnostics_.error(place_in(header_, header_.text.substr(0, 0)), std::string(key_),
                       header_.number ? "has no column \"" + std::string(key) + "\""
                                      : "is missing");
  return found;
}

std::optional<std::size_t> Block::needed(std::string_view key, Kind kind) {
  const auto found = needed(key);
  if (!found || (units_[*found] && units_[*found]->kind == kind)) return found;
  diagnostics_.error(place_in(header_, columns_[*found].key), std::string(key_),
                     "column \"" + std::string(key) + "\" wants " + std::string(name_of(kind)),
                     "for example " + std::string(key) + " [" +
                         std::string(plain_unit(kind).symbol) + "]");
  return std::nullopt;
}

std::optional<double> Block::number(std::size_t row, std::size_t column) {
  const Cell& cell = this->cell(row, column);
  if (cell.text.empty()) return std::nullopt;
  const auto value = parse_double(cell.text);
  if (!value) {
    error(row, column, "wants a number, got \"" + std::string(cell.text) + "\"");
    return std::nullopt;
  }
  const auto& unit = units_[column];
  const double si = unit ? *value * unit->factor + unit->offset : *value;
  // Far from what any table holds; beyond it a product of two might be no number.
  constexpr double least = 1e-15, most = 1e15;
  if (*value == 0.0 || (std::abs(si) >= least && std::abs(si) <= most)) return si;
  error(row, column,
        std::string(cell.text) + " is too " + (std::abs(si) < 1.0 ? "small" : "large") +
            " to be meant");
  return std::nullopt;
}

double Block::stated(std::size_t row, std::size_t column) {
  if (cell(row, column).text.empty()) error(row, column, "is missing");
  return number(row, column).value_or(0.0);
}

Source Block::source(std::size_t row, std::size_t column) const {
  const Mark* mark = cell(row, column).mark;
  return mark ? mark->source : file_.source;
}

Place Block::place(std::size_t row, std::size_t column) const {
  return place_in(lines_[row], cell(row, column).text);
}

void Block::error(std::size_t row, std::size_t column, std::string message, std::string hint) {
  diagnostics_.error(place(row, column),
                     std::string(key_) + "/" + std::string(columns_[column].key),
                     std::move(message), std::move(hint));
}

}  // namespace housepower::tables

// SPDX-License-Identifier: Apache-2.0
// From bytes to cells: encoding, line ends, quotes, and which character parts the cells.
#include "housepower/reading/csv.hpp"

#include <algorithm>
#include <array>

#include "housepower/reading/shown.hpp"
#include "housepower/reading/text.hpp"

namespace housepower {
namespace {

constexpr std::size_t most_cells = 1'000'000;
constexpr std::array delimiters{',', ';', '\t'};
constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

bool begins_code_point(char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; }

/// Walks the text a cell at a time. Stops at the first thing amiss.
class CellScan {
public:
  CellScan(std::string_view text, std::string_view file, char delimiter)
      : text_(text), delimiter_(delimiter) {
    csv_.file = file;
    csv_.delimiter = delimiter;
  }

  std::optional<Csv> all(Diagnostics& diagnostics) {
    std::size_t cells = 0;
    while (at_ < text_.size() && problem_.empty()) {
      Csv::Row row = next_row();
      cells += row.size();
      if (cells > most_cells && problem_.empty()) {
        place_ = row.back();
        problem_ = "holds more than a million cells";
        hint_ = "divide the file";
      }
      const bool blank = std::all_of(row.begin(), row.end(), [](const Csv::Cell& cell) {
        return detail::trimmed(cell.text).empty();
      });
      if (blank) ++csv_.blank_rows;
      else csv_.rows.push_back(std::move(row));
    }
    if (problem_.empty()) return std::move(csv_);
    diagnostics.error(csv_.place_of(place_), {}, problem_, hint_);
    return std::nullopt;
  }

  [[nodiscard]] bool parts_head() const {
    return !csv_.rows.empty() && csv_.rows.front().size() > 1;
  }

private:
  [[nodiscard]] bool ended() const { return at_ == text_.size(); }
  [[nodiscard]] bool line_ends() const { return text_[at_] == '\n' || text_[at_] == '\r'; }

  void take_line_end() {
    const bool two = text_.substr(at_, 2) == "\r\n";
    at_ += two ? 2 : 1;
    ++line_;
    column_ = 1;
  }
  char take() {
    const char c = text_[at_++];
    if (at_ == text_.size() || begins_code_point(text_[at_])) ++column_;
    return c;
  }

  Csv::Row next_row() {
    Csv::Row row;
    while (problem_.empty()) {
      row.push_back(next_cell());
      if (ended() || !problem_.empty()) break;
      if (line_ends()) {
        take_line_end();
        break;
      }
      take();  // the delimiter
    }
    return row;
  }

  Csv::Cell next_cell() {
    Csv::Cell cell{{}, line_, column_, 1};
    const bool quoted = !ended() && text_[at_] == '"';
    if (quoted) take_quoted(cell);
    while (!ended() && problem_.empty() && !line_ends() && text_[at_] != delimiter_) {
      if (quoted && text_[at_] != ' ') {
        place_ = {{}, line_, column_, 1};
        problem_ = "has something after the closing quote of a cell";
        hint_ = "a quote inside a cell is written twice: \"\"";
      }
      const char c = take();
      if (!quoted) cell.text += c;
    }
    if (!quoted) cell.text = std::string(detail::trimmed(cell.text));
    cell.width = std::max(1, line_ == cell.line ? column_ - cell.column : 1);
    return cell;
  }

  void take_quoted(Csv::Cell& cell) {
    take();
    while (!ended()) {
      if (line_ends()) {
        take_line_end();
        cell.text += '\n';
        continue;
      }
      const char c = take();
      if (c != '"') cell.text += c;
      else if (!ended() && text_[at_] == '"') cell.text += take();
      else return;
    }
    place_ = cell;
    problem_ = "opens a quote that nothing closes";
    hint_ = "a quote inside a cell is written twice: \"\"";
  }

  std::string_view text_;
  char delimiter_;
  std::size_t at_ = 0;
  int line_ = 1, column_ = 1;
  Csv csv_;
  Csv::Cell place_;
  std::string problem_, hint_;
};

/// The first byte that is no UTF-8, or a nought; its place.
bool is_readable(std::string_view text, const std::string& file, Diagnostics& diagnostics) {
  constexpr std::string_view how =
      "save it again with the character set \"Unicode (UTF-8)\" (a spreadsheet asks for it where "
      "it saves as text CSV), or: iconv -f LATIN1 -t UTF-8";
  Place place{file, 1, 1, 1};
  if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF")) {
    diagnostics.error(place, {}, "is UTF-16, not UTF-8",
                      "save it again with the character set \"Unicode (UTF-8)\", or: iconv -f "
                      "UTF-16 -t UTF-8");
    return false;
  }
  for (std::size_t at = 0; at < text.size();) {
    const auto [value, bytes] = detail::first_code_point(text.substr(at));
    if (value == 0 || (value == 0xFFFD && bytes == 1)) {
      diagnostics.error(place, {},
                        value == 0 ? "contains a zero byte: it is not text in UTF-8"
                                   : "contains a byte that is not UTF-8",
                        std::string(how));
      return false;
    }
    const bool ends = text[at] == '\n' || (text[at] == '\r' && text.substr(at, 2) != "\r\n");
    place.line += ends ? 1 : 0;
    place.column = ends ? 1 : place.column + 1;
    at += bytes;
  }
  return true;
}

bool parts_all_alike(const Csv& csv) {
  return !csv.rows.empty() && csv.rows.front().size() > 1 &&
         std::all_of(csv.rows.begin(), csv.rows.end(),
                     [&](const Csv::Row& row) { return row.size() == csv.rows.front().size(); });
}
bool parts_any(const Csv& csv) {
  return std::any_of(csv.rows.begin(), csv.rows.end(),
                     [](const Csv::Row& row) { return row.size() > 1; });
}

/// With each delimiter: the only one that parts all rows alike, else the only one that parts any.
std::optional<Csv> with_found_delimiter(std::string_view text, std::string_view file,
                                        Diagnostics& diagnostics) {
  std::vector<Csv> alike, any;
  Diagnostics problems;
  bool parts_head = false;  // the delimiter under which those arose
  for (const char delimiter : delimiters) {
    Diagnostics its;
    CellScan scan(text, file, delimiter);
    auto csv = scan.all(its);
    if (csv && parts_all_alike(*csv)) alike.push_back(std::move(*csv));
    else if (csv && parts_any(*csv)) any.push_back(std::move(*csv));
    else if (!csv && (problems.all.empty() || (!parts_head && scan.parts_head()))) {
      problems = std::move(its);
      parts_head = scan.parts_head();
    }
  }
  auto& found = alike.empty() ? any : alike;
  if (alike.empty() && !problems.all.empty() && (any.empty() || parts_head)) {
    for (auto& d : problems.all) diagnostics.all.push_back(std::move(d));
    return std::nullopt;
  }
  if (found.empty()) return CellScan(text, file, ',').all(diagnostics);  // of one column
  if (found.size() == 1) return std::move(found.front());
  std::string names;
  for (const Csv& csv : found)
    names += (names.empty() ? "" : " or ") + std::string(name_of_delimiter(csv.delimiter));
  diagnostics.error({std::string(file), 1, 1, 1}, {},
                    "does not show what separates its cells: it can be " + names,
                    "say it with --delimiter \";\"");
  return std::nullopt;
}

bool is_formula(std::string_view text) {
  return !text.empty() && std::string_view("=+-@\t\r").find(text.front()) != text.npos;
}

}  // namespace

Place Csv::place_of(const Cell& cell) const { return {file, cell.line, cell.column, cell.width}; }

std::optional<Csv> parse_csv(std::string_view text, std::string_view file,
                             std::optional<char> delimiter, Diagnostics& diagnostics) {
  if (text.size() > largest_text) {
    diagnostics.error({std::string(file)}, {}, "is larger than 64 MB");
    return std::nullopt;
  }
  if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
  if (!is_readable(text, std::string(file), diagnostics)) return std::nullopt;
  return delimiter ? CellScan(text, file, *delimiter).all(diagnostics)
                   : with_found_delimiter(text, file, diagnostics);
}

std::string_view without_guard(std::string_view text) {
  const bool guarded =
      text.starts_with('\'') && (is_formula(text.substr(1)) || text.substr(1).starts_with('\''));
  return guarded ? text.substr(1) : text;
}

std::string csv_text(std::string_view text) {
  std::string plain = with_escapes(text, "\t\n");
  if (is_formula(plain) || without_guard(plain) != plain) plain.insert(plain.begin(), '\'');
  const bool ends_blank = detail::trimmed(plain) != plain;
  if (!ends_blank && plain.find_first_of("\",;\t\r\n") == plain.npos) return plain;
  std::string quoted = "\"";
  for (const char c : plain) quoted.append(c == '"' ? 2 : 1, c);
  return quoted + '"';
}

std::string_view name_of_delimiter(char delimiter) {
  return delimiter == ',' ? "comma" : delimiter == ';' ? "semicolon" : "tab";
}

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// A range in parts: each row of a part bears after its own cells which row it is, and of what.
#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <tuple>

#include "housepower/page/csv.hpp"
#include "housepower/report/range.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::report {
namespace {

using answers::Part;
using answers::rows_of;
using answers::RowsOfPart;

/// What stands behind the cells of a row.
struct OfPart {
  std::size_t row = 0, rows = 0, part = 0, parts = 0;  // row: from 1
  std::string question;
};
const Columns<OfPart>& part_columns() {
  static const Columns<OfPart> all{{"row", "row", &OfPart::row},
                                   {"rows", "of", &OfPart::rows},
                                   {"part", "part", &OfPart::part},
                                   {"parts", "of", &OfPart::parts},
                                   {"question", "question", &OfPart::question}};
  return all;
}

constexpr std::string_view line_end = "\r\n";

/// One line of cells before another.
std::string beside(std::string line, const std::string& more) {
  line.resize(line.size() - line_end.size());
  return line + "," + more;
}

std::string head_of_parts() {
  return beside(page::csv_head(range_columns().erased()), page::csv_head(part_columns().erased()));
}

/// The lines of a CSV, line breaks in quotes aside; the last one may lack its end.
std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> lines;
  bool quoted_now = false;
  std::size_t begin = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '"') quoted_now = !quoted_now;
    if (quoted_now || text[i] != '\n') continue;
    lines.push_back(text.substr(begin, i + 1 - begin));
    begin = i + 1;
  }
  if (begin < text.size()) lines.push_back(text.substr(begin));
  return lines;
}

/// The cells of a line without its end, as they stand there.
std::vector<std::string_view> cells_of(std::string_view line) {
  std::vector<std::string_view> cells;
  bool quoted_now = false;
  std::size_t begin = 0;
  for (std::size_t i = 0; i <= line.size(); ++i) {
    if (i < line.size() && line[i] == '"') quoted_now = !quoted_now;
    if (i < line.size() && (quoted_now || line[i] != ',')) continue;
    cells.push_back(line.substr(begin, i - begin));
    begin = i + 1;
  }
  return cells;
}

std::size_t place_of(std::string_view key) {
  const auto all = range_columns().erased();
  return std::size_t(
      std::find_if(all.begin(), all.end(), [&](const Column& c) { return c.key == key; }) -
      all.begin());
}

/// A row of a part: what stands in the whole, and what that part says of it.
struct Line {
  std::string_view own;  // without what is of the part, and without its end
  std::string_view verdict;
  OfPart of{};
};

std::optional<std::size_t> count_of(std::string_view cell) {
  const auto number = parse_double(cell);
  const bool whole =
      number && *number >= 0.0 && *number < 1e15 && *number == double(std::size_t(*number));
  return whole ? std::optional(std::size_t(*number)) : std::nullopt;
}

/// Nothing where the line is none of a part.
std::optional<Line> line_of_part(std::string_view text) {
  if (!text.ends_with(line_end)) return std::nullopt;
  text.remove_suffix(line_end.size());
  const auto cells = cells_of(text);
  const std::size_t own = range_columns().erased().size();
  if (cells.size() != own + part_columns().erased().size()) return std::nullopt;
  const auto row = count_of(cells[own]), rows = count_of(cells[own + 1]),
             part = count_of(cells[own + 2]), parts = count_of(cells[own + 3]);
  if (!row || !rows || !part || !parts || *part < 1 || *part > *parts) return std::nullopt;
  Line line;
  line.own = text.substr(0, std::size_t(cells[own].data() - text.data()) - 1);
  line.verdict = cells[place_of("verdict")];
  line.of = {*row, *rows, *part, *parts, std::string(cells[own + 4])};
  return line;
}

std::string name_of(const Part& part) {
  return "part " + std::to_string(part.number) + "/" + std::to_string(part.of);
}
std::string rows_named(const RowsOfPart& rows) {
  return rows.end - rows.first == 1
             ? "row " + std::to_string(rows.end)
             : "rows " + std::to_string(rows.first + 1) + " to " + std::to_string(rows.end);
}

/// What all parts of one range have in common.
using Whole = std::tuple<std::string, std::size_t, std::size_t>;  // question, rows, parts
Whole whole_of(const OfPart& of) { return {of.question, of.rows, of.parts}; }

/// The file of a part, as far as it is one.
struct PartFile {
  const PartText* file = nullptr;
  std::vector<Line> lines{};
  std::string problem{};
  [[nodiscard]] bool has_rows() const { return problem.empty() && !lines.empty(); }
  [[nodiscard]] Part part() const { return {lines.front().of.part, lines.front().of.parts}; }
};

PartFile read_part(const PartText& file) {
  PartFile read{&file};
  const auto lines = lines_of(file.text);
  const auto told = [&](std::string what) {
    read.problem = file.name + ": " + std::move(what);
    return read;
  };
  const std::string head = head_of_parts();
  if (lines.empty()) return told("it is empty: cut short");
  if (lines.front() != head)
    return told(std::string_view(head).starts_with(lines.front())
                    ? "it is cut short in its first line"
                    : "it is not a part of a range of this version: the columns are others");
  for (std::size_t i = 1; i < lines.size(); ++i) {
    auto line = line_of_part(lines[i]);
    const std::string at = std::to_string(i + 1);
    if (!line && i + 1 == lines.size()) return told("it is cut short in line " + at);
    if (!line) return told("line " + at + " is not a line of a part");
    const bool alike =
        read.lines.empty() || (whole_of(line->of) == whole_of(read.lines.front().of) &&
                               line->of.part == read.lines.front().of.part);
    if (!alike) return told("line " + at + " is of another part than those before it");
    read.lines.push_back(*std::move(line));
  }
  return read;
}

/// Whether it holds the rows that its part has, each once and in their order.
void hold_to_its_rows(PartFile& file) {
  const OfPart& of = file.lines.front().of;
  const RowsOfPart wanted = rows_of({of.part, of.parts}, of.rows);
  std::size_t next = wanted.first + 1;
  for (const Line& line : file.lines) {
    if (line.of.row != next) break;
    ++next;
  }
  if (next == wanted.end + 1 && file.lines.size() == wanted.end - wanted.first) return;
  const std::size_t kept = next - 1 - wanted.first;
  file.problem = file.file->name + ": " + name_of({of.part, of.parts}) + " has " +
                 rows_named(wanted) + " of " + std::to_string(of.rows) +
                 (kept == file.lines.size()
                      ? ", and it ends with row " + std::to_string(next - 1) + ": it is cut short"
                      : ", and where row " + std::to_string(next) + " belongs there is row " +
                            std::to_string(file.lines[kept].of.row));
}

/// What most of the files are of; of as many, what the first is of.
std::optional<Whole> common_whole(const std::vector<PartFile>& files) {
  std::map<Whole, int> count;
  std::optional<Whole> most;
  for (const PartFile& file : files)
    if (file.has_rows()) ++count[whole_of(file.lines.front().of)];
  for (const PartFile& file : files)
    if (file.has_rows())
      if (const Whole whole = whole_of(file.lines.front().of); !most || count[whole] > count[*most])
        most = whole;
  return most;
}

std::string why_foreign(const PartFile& file, const Whole& whole) {
  const OfPart& of = file.lines.front().of;
  const auto& [question, rows, parts] = whole;
  const std::string of_what =
      of.question != question ? "other designs, tables or options than the others"
      : of.parts != parts ? "a range in " + std::to_string(of.parts) + " parts, the others in " +
                                std::to_string(parts)
                          : "a range of " + std::to_string(of.rows) + " rows, the others of " +
                                std::to_string(rows);
  return file.file->name + ": " + name_of(file.part()) + " is foreign: it is of " + of_what;
}

/// By part: the file of each, those without rows aside.
using ByPart = std::map<std::size_t, const PartFile*>;

ByPart by_part(std::vector<PartFile>& files, const Whole& whole) {
  ByPart found;
  for (PartFile& file : files) {
    if (!file.has_rows()) continue;
    if (whole_of(file.lines.front().of) != whole) {
      file.problem = why_foreign(file, whole);
      continue;
    }
    const auto [before, is_new] = found.try_emplace(file.part().number, &file);
    if (!is_new)
      file.problem = file.file->name + ": " + name_of(file.part()) + " is there already, as " +
                     before->second->file->name;
    else hold_to_its_rows(file);
  }
  return found;
}

/// The parts that are wanting; one without rows has nothing to miss.
void add_missing(const ByPart& found, const Whole& whole, std::vector<std::string>& problems) {
  const auto& [question, rows, parts] = whole;
  for (std::size_t number = 1; number <= std::min(parts, rows); ++number)
    if (found.count(number) == 0)
      problems.push_back(name_of({number, parts}) +
                         " is missing: " + rows_named(rows_of({number, parts}, rows)) + " of " +
                         std::to_string(rows));
}

/// A file that has no rows may be a part that has none, where there are more parts than rows.
void hold_to_empty_parts(std::vector<PartFile>& files, const Whole& whole) {
  const auto& [question, rows, parts] = whole;
  std::size_t may_be = parts > rows ? parts - rows : 0;
  for (PartFile& file : files) {
    if (!file.problem.empty() || !file.lines.empty()) continue;
    if (may_be > 0) --may_be;
    else file.problem = file.file->name + ": it is cut short: it has no rows";
  }
}

}  // namespace

std::string range_csv_part(const RangeReport& report) {
  std::string text = head_of_parts();
  const auto& part = *report.part;
  OfPart of{part.holds.first, part.rows, part.part.number, part.part.of, part.question};
  for (const auto& row : report.rows) {
    ++of.row;
    text += beside(page::csv_line(range_columns().erased(), &row),
                   page::csv_line(part_columns().erased(), &of));
  }
  return text;
}

JoinedRange join_range(std::span<const PartText> texts) {
  std::vector<PartFile> files;
  for (const PartText& text : texts) files.push_back(read_part(text));
  JoinedRange joined;
  const auto whole = common_whole(files);
  ByPart found;
  if (whole) {
    found = by_part(files, *whole);
    hold_to_empty_parts(files, *whole);
  }
  for (const PartFile& file : files)
    if (!file.problem.empty()) joined.problems.push_back(file.problem);
  if (whole) add_missing(found, *whole, joined.problems);
  else if (joined.problems.empty()) joined.problems.emplace_back("no part has a row");
  if (!joined.problems.empty()) return joined;
  joined.csv = page::csv_head(range_columns().erased());
  for (const auto& [number, file] : found)
    for (const Line& line : file->lines) {
      joined.csv.append(line.own).append(line_end);
      joined.fails = joined.fails || line.verdict == word_of(Verdict::fail);
      joined.not_read = joined.not_read || line.verdict == range::not_read;
    }
  return joined;
}

}  // namespace housepower::report

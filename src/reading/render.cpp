// SPDX-License-Identifier: Apache-2.0
// Diagnostics as a person reads them: message, place, the line with a caret under the place, hint.
// What cannot be shown on a terminal (escapes, changes of direction) is replaced, never sent.
#include <algorithm>
#include <map>

#include "housepower/reading/diagnostic.hpp"
#include "text.hpp"

namespace housepower {
namespace {

constexpr int tab_stop = 4;
constexpr int window = 96;  // columns shown of a long line, the caret in its first half

struct Range {
  std::uint32_t first, last;
};
template <std::size_t N> bool within(std::uint32_t c, const Range (&ranges)[N]) {
  return std::any_of(ranges, ranges + N, [c](Range r) { return c >= r.first && c <= r.last; });
}

// Source: Unicode, C0 and C1 controls and the characters that change direction; from memory.
constexpr Range unshowable[] = {{0x00, 0x1F},     {0x7F, 0x9F},     {0x200E, 0x200F},
                                {0x2028, 0x202E}, {0x2066, 0x2069}, {0xFEFF, 0xFEFF}};
// Source: Unicode blocks of combining marks; from memory.
constexpr Range combining[] = {{0x300, 0x36F},   {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF},
                               {0x200B, 0x200D}, {0x20D0, 0x20FF}, {0xFE00, 0xFE0F},
                               {0xFE20, 0xFE2F}};
// Source: Unicode blocks of East Asian wide characters and pictographs; from memory.
constexpr Range wide[] = {{0x1100, 0x115F},   {0x2E80, 0x303E},  {0x3041, 0xA4CF}, {0xAC00, 0xD7A3},
                          {0xF900, 0xFAFF},   {0xFE30, 0xFE6F},  {0xFF00, 0xFF60}, {0xFFE0, 0xFFE6},
                          {0x1F300, 0x1FAFF}, {0x20000, 0x3FFFD}};

struct Cell {  // one code point as shown
  std::string text;
  int width = 1;
};

Cell cell_of(std::string_view bytes, std::uint32_t c, int column) {
  if (c == '\t') {
    const int width = tab_stop - column % tab_stop;
    return {std::string(static_cast<std::size_t>(width), ' '), width};
  }
  if (c == 0xFFFD || within(c, unshowable)) return {"\uFFFD", 1};
  return {std::string(bytes), within(c, combining) ? 0 : within(c, wide) ? 2 : 1};
}

// The first `most` code points, so that a hostile line of megabytes stays cheap.
std::vector<Cell> cells_of(std::string_view text, std::size_t most) {
  std::vector<Cell> cells;
  for (int column = 0; !text.empty();) {
    if (cells.size() == most) {
      cells.push_back({"…", 1});
      break;
    }
    const auto [value, bytes] = detail::first_code_point(text);
    cells.push_back(cell_of(text.substr(0, bytes), value, column));
    column += cells.back().width;
    text.remove_prefix(bytes);
  }
  return cells;
}

std::string shown(std::string_view text) {
  std::string out;
  for (const auto& cell : cells_of(text, 1000)) out += cell.text;
  return out;
}

// The source line and the line of carets below it, both cut to the window around the place.
struct Snippet {
  std::string line, carets;
};
Snippet snippet_of(std::string_view source, const Place& place) {
  auto from = static_cast<std::size_t>(std::max(place.column, 1) - 1);
  bool cut = false;
  for (; from > window && !source.empty(); --from, cut = true)
    source.remove_prefix(detail::first_code_point(source).bytes);
  const auto cells = cells_of(source, 2 * window);
  from = std::min(from, cells.size());

  int before = 0;  // columns between the start of the window and the caret
  for (std::size_t i = 0; i < from; ++i) before += cells[i].width;
  std::size_t start = 0;
  for (; before > window / 2; cut = true) before -= cells[start++].width;

  Snippet out{cut ? "…" : "", std::string(static_cast<std::size_t>(before + (cut ? 1 : 0)), ' ')};
  const std::size_t to = from + static_cast<std::size_t>(std::max(place.width, 1));
  int used = 0;
  for (std::size_t i = start; i < cells.size(); ++i) {
    if (used + cells[i].width > window) {
      out.line += "…";
      break;
    }
    out.line += cells[i].text;
    used += cells[i].width;
    if (i >= from && i < to) out.carets.append(static_cast<std::size_t>(cells[i].width), '^');
  }
  if (out.carets.empty() || out.carets.back() != '^') out.carets += '^';
  return out;
}

// The lines of each file, read and split once.
class Sources {
public:
  explicit Sources(const FileReader& reader) : reader_(reader) {}
  std::optional<std::string_view> line(const Place& place) {
    auto [found, is_new] = files_.try_emplace(place.file);
    if (is_new) split(place.file, found->second);
    const auto index = static_cast<std::size_t>(place.line) - 1;
    if (place.line < 1 || index >= found->second.lines.size()) return std::nullopt;
    return found->second.lines[index];
  }

private:
  struct File {
    std::string text;
    std::vector<std::string_view> lines;
  };
  void split(const std::string& name, File& file) {
    auto text = reader_ ? reader_(name) : std::nullopt;
    if (!text) return;
    file.text = std::move(*text);
    std::string_view rest = file.text;
    if (rest.substr(0, 3) == "\xEF\xBB\xBF") rest.remove_prefix(3);
    do {
      auto line = detail::take_part(rest, '\n');
      if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
      file.lines.push_back(line);
    } while (!rest.empty());
  }
  const FileReader& reader_;
  std::map<std::string, File> files_;
};

std::string rendered(const Diagnostic& d, Sources& sources) {
  std::string out = d.severity == Severity::error ? "error: " : "warning: ";
  if (!d.key.empty()) out += "`" + shown(d.key) + "` ";
  out += shown(d.message) + "\n";

  const std::string number = d.place.line > 0 ? std::to_string(d.place.line) : " ";
  const std::string gutter(number.size(), ' ');
  if (!d.place.file.empty()) {
    out += gutter + "--> " + shown(d.place.file);
    if (d.place.line > 0) out += ":" + number + ":" + std::to_string(d.place.column);
    out += "\n";
  }
  if (const auto line = sources.line(d.place)) {
    const auto [text, carets] = snippet_of(*line, d.place);
    out += gutter + " |\n" + number + " | " + text + "\n" + gutter + " | " + carets + "\n";
  }
  if (!d.hint.empty()) out += gutter + " = help: " + shown(d.hint) + "\n";
  return out;
}

std::string counted(std::size_t count, const std::string& what) {
  return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
}

std::string summary(const std::vector<Diagnostic>& all) {
  std::size_t errors = 0;
  std::vector<std::string> files;
  for (const auto& d : all) {
    if (d.severity == Severity::error) ++errors;
    const bool known = std::find(files.begin(), files.end(), d.place.file) != files.end();
    if (!known && !d.place.file.empty()) files.push_back(d.place.file);
  }
  const std::size_t warnings = all.size() - errors;
  std::string out;
  if (errors > 0) out += counted(errors, "error");
  if (errors > 0 && warnings > 0) out += ", ";
  if (warnings > 0) out += counted(warnings, "warning");
  for (std::size_t i = 0; i < files.size(); ++i) out += (i == 0 ? " in " : ", ") + shown(files[i]);
  return out + "\n";
}

}  // namespace

std::string render(const Diagnostics& diagnostics, const FileReader& reader, std::size_t most) {
  if (diagnostics.all.empty()) return {};
  Diagnostics sorted = diagnostics;
  sorted.sort_by_place();
  Sources sources(reader);
  std::string out;
  const std::size_t shown_count = std::min(most, sorted.all.size());
  for (std::size_t i = 0; i < shown_count; ++i) out += rendered(sorted.all[i], sources) + "\n";
  if (shown_count < sorted.all.size())
    out += "and " + std::to_string(sorted.all.size() - shown_count) + " more\n";
  return out + summary(sorted.all);
}

}  // namespace housepower

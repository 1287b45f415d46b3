// SPDX-License-Identifier: Apache-2.0
// Diagnostics as a person reads them: message, place, the line with a caret under the place, hint.
#include <algorithm>
#include <map>

#include "housepower/reading/diagnostic.hpp"
#include "housepower/reading/filled.hpp"
#include "housepower/reading/shown.hpp"
#include "housepower/reading/text.hpp"

namespace housepower {
namespace {

constexpr int window = 96;  // columns shown of a long line, the caret in its first half
constexpr std::size_t most_shown = 1000;  // code points of a message

// The source line and the line of carets below it, both cut to the window around the place.
struct Snippet {
  std::string line, carets;
};
Snippet snippet_of(std::string_view source, const Place& place) {
  auto from = static_cast<std::size_t>(std::max(place.column, 1) - 1);
  bool cut = false;
  for (; from > window && !source.empty(); --from, cut = true)
    source.remove_prefix(detail::first_code_point(source).bytes);
  const auto cells = shown_cells(source, 2 * window);
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
    FileContent text = reader_ ? reader_(name) : std::nullopt;
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
  if (!d.key.empty()) out += "`" + shown(d.key, most_shown) + "` ";
  out += shown(d.message, most_shown) + "\n";

  const std::string number = d.place.line > 0 ? std::to_string(d.place.line) : " ";
  const std::string gutter(number.size(), ' ');
  if (!d.place.file.empty()) {
    out += gutter + "--> " + shown(d.place.file, most_shown);
    if (d.place.line > 0) out += ":" + number + ":" + std::to_string(d.place.column);
    out += "\n";
  }
  if (const auto line = sources.line(d.place)) {
    const auto [text, carets] = snippet_of(*line, d.place);
    out += gutter + " |\n" + number + " | " + text + "\n" + gutter + " | " + carets + "\n";
  }
  if (!d.hint.empty()) {
    const std::string head = gutter + " = help: ", below(head.size(), ' ');
    out += head + filled(shown(d.hint, most_shown), widest_line, head.size(), below) + "\n";
  }
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
  for (std::size_t i = 0; i < files.size(); ++i)
    out += (i == 0 ? " in " : ", ") + shown(files[i], most_shown);
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

// SPDX-License-Identifier: Apache-2.0
// What the entries of a record hold, and what was built under another design.
#include "housepower/answers/record.hpp"

#include <algorithm>
#include <chrono>

#include "housepower/design/open.hpp"
#include "housepower/reading/sha256.hpp"
#include "housepower/reading/write.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::answers {
namespace {

// The keys of the lines of entries, to write and to read them.
constexpr std::string_view serial_key = "serial: ", van_key = "van: ", design_key = "design: ",
                           digest_key = "design digest: ", file_key = "file: ",
                           built_key = "as built:", verdict_key = "verdict: ",
                           found_key = "found: ", release_key = "released by: ", inside_text = "  ";
constexpr std::string_view of_van = "new", of_readings = "readings", of_release = "released",
                           of_note = "note";

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const auto end = text.find('\n');
    lines.emplace_back(text.substr(0, end));
    if (!lines.back().empty() && lines.back().back() == '\r') lines.back().pop_back();
    text = end == text.npos ? std::string_view() : text.substr(end + 1);
  }
  return lines;
}

/// A text within an entry, each line set in.
void add_text(RecordEntry& e, std::string_view text) {
  for (const auto& line : lines_of(text)) e.lines.push_back(std::string(inside_text) + line);
}
/// The text that follows the first line with that key.
std::string text_after(const RecordEntry& e, std::string_view key) {
  std::string text;
  bool found = false;
  for (const auto& line : e.lines) {
    if (found && line.starts_with(inside_text)) text += line.substr(inside_text.size()) + "\n";
    else if (found) break;
    else found = line.starts_with(key);
  }
  return text;
}

RecordEntry entry_of(const Stamp& stamp, std::string_view what) {
  RecordEntry e;
  e.at = stamp.at;
  e.by = stamp.by;
  e.what = what;
  return e;
}
std::string line_of(std::string_view key, std::string_view value) {
  return std::string(key) + std::string(value);
}
/// The value of the first line with that key.
std::string value_of(const RecordEntry& e, std::string_view key) {
  for (const auto& line : e.lines)
    if (line.starts_with(key)) return line.substr(key.size());
  return {};
}

std::vector<std::string> found_in(const DiagnosedVan& van) {
  std::vector<std::string> lines;
  for (const auto& cause : van.diagnosis.causes)
    lines.push_back(line_of(found_key, wiring::label_of_point(van.design, cause.it.element) + ": " +
                                           cause.what + ", " + print(cause.it.value)));
  for (const auto& unread : van.diagnosis.unread)
    lines.push_back(line_of(found_key, wiring::label_of_point(van.design, unread.element) +
                                           " carried a current and was not read"));
  for (const auto& one : van.file.checked)
    if (!one.holds.value_or(true))
      lines.push_back(line_of(found_key, one.what + ": does not hold"));
  return lines;
}

// ---- What was built under what is asked ----

/// A leaf of a design as it is written.
std::string written(const Node& node) {
  Node alone;
  alone.value = Node::Table{{"value", {}, node}};
  std::string text = toml_of(alone);
  constexpr std::string_view head = "value = ";
  if (const auto at = text.find(head); at != text.npos) text.erase(0, at + head.size());
  while (!text.empty() && text.back() == '\n') text.pop_back();
  return text;
}

/// A list whose members are tables with a name.
const Node::List* named_list(const Node& node) {
  const auto* list = std::get_if<Node::List>(&node.value);
  const bool named = list && !list->empty() &&
                     std::all_of(list->begin(), list->end(),
                                 [](const Node& one) { return one.text_at("name").has_value(); });
  return named ? list : nullptr;
}
/// Its entries or, of a named list, its members by name.
std::vector<std::pair<std::string, const Node*>> members_of(const Node* node) {
  std::vector<std::pair<std::string, const Node*>> all;
  if (node == nullptr) return all;
  if (const auto* table = std::get_if<Node::Table>(&node->value))
    for (const auto& entry : *table) all.emplace_back(entry.key, &entry.value);
  if (const auto* list = named_list(*node))
    for (const Node& one : *list) all.emplace_back(*one.text_at("name"), &one);
  return all;
}
bool has_members(const Node* node) {
  return node && (std::holds_alternative<Node::Table>(node->value) || named_list(*node));
}
const Node* member(const std::vector<std::pair<std::string, const Node*>>& in,
                   const std::string& name) {
  const auto at =
      std::find_if(in.begin(), in.end(), [&](const auto& m) { return m.first == name; });
  return at == in.end() ? nullptr : at->second;
}

void compare(const std::string& path, const Node* built, const Node* now,
             std::vector<Difference>& to) {
  if (has_members(built) && has_members(now)) {
    const auto before = members_of(built), after = members_of(now);
    const std::string in = path.empty() ? "" : path + "/";
    for (const auto& [key, value] : before) compare(in + key, value, member(after, key), to);
    for (const auto& [key, value] : after)
      if (!member(before, key)) compare(in + key, nullptr, value, to);
    return;
  }
  const auto text = [](const Node* node) {
    return !node ? std::string() : has_members(node) ? std::string("there") : written(*node);
  };
  if (text(built) != text(now)) to.push_back({path, text(built), text(now)});
}

template <class Thing> const Thing* named(const std::vector<Thing>& list, const std::string& name) {
  const auto at =
      std::find_if(list.begin(), list.end(), [&](const Thing& t) { return t.name == name; });
  return at == list.end() ? nullptr : &*at;
}
/// Those that were built in the place of those that the design has.
template <class Thing> void take_built(std::vector<Thing>& now, const std::vector<Thing>& built) {
  for (Thing& one : now)
    if (const Thing* old = named(built, one.name)) one = *old;
}

/// The design with all that is copper, device or equipment as it was built.
design::Document with_built(design::Document now, const design::Document& built) {
  if (now.bank && built.bank) now.bank = built.bank;
  take_built(now.run, built.run);
  take_built(now.inverter, built.inverter);
  take_built(now.controller, built.controller);
  take_built(now.charger, built.charger);
  take_built(now.array, built.array);
  take_built(now.feed, built.feed);
  take_built(now.node, built.node);
  take_built(now.connector, built.connector);
  take_built(now.device, built.device);
  if (built.chassis) now.chassis = built.chassis;
  now.wiring = built.wiring;
  return now;
}

bool has(const std::vector<checks::Finding>& list, const checks::Finding& f) {
  return std::any_of(list.begin(), list.end(), [&](const checks::Finding& old) {
    return checks::is_same_question(old, f) && old.verdict >= f.verdict;
  });
}

}  // namespace

bool is_time(std::string_view text) {
  constexpr std::string_view form = "dddd-dd-dd dd:dd UTC";
  for (const std::size_t length : {10U, 16U, 20U}) {
    if (text.size() != length) continue;
    const auto number = [&](std::size_t at, std::size_t digits) {
      int value = 0;
      for (const char c : text.substr(at, digits)) value = 10 * value + (c - '0');
      return value;
    };
    for (std::size_t i = 0; i < length; ++i) {
      const bool digit = text[i] >= '0' && text[i] <= '9';
      if (form[i] == 'd' ? !digit : form[i] != text[i]) return false;
    }
    const std::chrono::year_month_day day(std::chrono::year(number(0, 4)),
                                          std::chrono::month(unsigned(number(5, 2))),
                                          std::chrono::day(unsigned(number(8, 2))));
    return day.ok() && (length == 10U || (number(11, 2) < 24 && number(14, 2) < 60));
  }
  return false;
}

RecordEntry entry_of_van(const Stamp& stamp, const std::string& serial, const std::string& file,
                         std::string_view text, const Opening& opening) {
  RecordEntry e = entry_of(stamp, of_van);
  e.lines = {line_of(serial_key, serial),
             line_of(van_key, (*opening.design)->name),
             line_of(design_key, file),
             line_of(digest_key, "sha256 " + sha256_of(text)),
             line_of("inputs digest: ", opening.digest),
             std::string(built_key)};
  add_text(e, toml_of(opening.node));
  return e;
}

RecordEntry entry_of_readings(const Stamp& stamp, const std::string& file, std::string_view text,
                              const std::optional<DiagnosedVan>& van, const std::string& why_not) {
  RecordEntry e = entry_of(stamp, of_readings);
  e.lines = {line_of(verdict_key,
                     van ? std::string(word_of(van->found.verdict)) : "not judged: " + why_not)};
  if (van)
    for (auto& line : found_in(*van)) e.lines.push_back(std::move(line));
  e.lines.push_back(line_of(file_key, file));
  add_text(e, text);
  return e;
}

RecordEntry entry_of_release(const Stamp& stamp, const std::string& who, const Record& record) {
  RecordEntry e = entry_of(stamp, of_release);
  const auto van = van_of(record);
  e.lines = {line_of(release_key, who),
             "readings then: " + (van.verdict.empty() ? std::string("none") : van.verdict)};
  return e;
}

RecordEntry entry_of_note(const Stamp& stamp, std::string_view text) {
  RecordEntry e = entry_of(stamp, of_note);
  e.lines = lines_of(text);
  return e;
}

VanOfRecord van_of(const Record& record) {
  VanOfRecord van;
  std::string failed_at;  // the first time that readings did
  for (const RecordEntry& e : record.entries) {
    if (e.what == of_van) {
      van.serial = value_of(e, serial_key);
      van.van = value_of(e, van_key);
      van.design_file = value_of(e, design_key);
      van.design_digest = value_of(e, digest_key);
      van.design = text_after(e, built_key);
    } else if (e.what == of_readings) {
      van.tested_at = e.at;
      van.tested_by = e.by;
      const std::string verdict = value_of(e, verdict_key);
      const std::string fail(word_of(checks::Verdict::fail));
      if (verdict == fail && failed_at.empty()) failed_at = e.at;
      // Later readings need not be of the same points: a fail is not taken back by them.
      van.verdict = verdict == fail || failed_at.empty()
                        ? verdict
                        : verdict + ", after " + fail + " at " + failed_at;
    } else if (e.what == of_release) {
      van.released_at = e.at;
      van.released_by = value_of(e, release_key);
    }
  }
  return van;
}

std::optional<Opening> as_built(const VanOfRecord& van, Shelf& shelf, const FileReader& files,
                                Diagnostics& diagnostics) {
  if (van.design.empty()) {
    diagnostics.error({van.design_file}, "record", "the record does not hold the design",
                      "begin it with: record new DESIGN --serial S -o RECORD");
    return std::nullopt;
  }
  const FileReader reader = [&](std::string_view name) -> FileContent {
    return name == van.design_file ? FileContent(std::optional(van.design)) : files(name);
  };
  Question question;
  question.file = van.design_file;
  return open_checked(question, shelf, reader, diagnostics);
}

VanAgainstDesign van_against(const VanOfRecord& van, const Opening& built, const Opening& design,
                             const std::string& design_file) {
  VanAgainstDesign out{van, design_file, {}, {}, checks::Verdict::pass, {}, {}, {}};
  compare("", &built.node, &design.node, out.differences);
  const auto document = with_built(*design.document, *built.document);
  Diagnostics problems;
  const auto van_now = design::resolve(document, *design.tables, Defaults::ordinary, problems);
  if (!van_now) {
    out.why_not = problems.all.empty() ? "it has mistakes" : problems.all.front().message;
    out.verdict = checks::Verdict::fail;
    return out;
  }
  const auto checked = checks::check(document, *van_now, checks::Workings::left_out);
  for (const auto& f : checked.findings)
    if (f.verdict >= checks::Verdict::caution && !has(built.checked.findings, f))
      out.findings.push_back(f);
  std::stable_sort(out.findings.begin(), out.findings.end(),
                   [](const auto& x, const auto& y) { return x.verdict > y.verdict; });
  for (const auto& f : out.findings) out.verdict = std::max(out.verdict, f.verdict);
  out.when_built = built.checked.verdicts.worse();
  out.verdict = std::max(out.verdict, out.when_built);
  for (const auto& run : design.document->run)
    if (!named(built.document->run, run.name)) out.not_built.push_back(run.name);
  if (!out.not_built.empty()) out.verdict = std::max(out.verdict, checks::Verdict::caution);
  return out;
}

}  // namespace housepower::answers

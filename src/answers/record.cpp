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
                           found_key = "found: ", release_key = "released by: ",
                           despite_key = "despite: ", design_verdict_key = "design verdict: ",
                           not_tested_key = "not tested: ", option_key = "option: ",
                           part_key = "part: ", inside_text = "  ";
constexpr std::string_view of_van = "new", of_readings = "readings", of_release = "released",
                           of_note = "note", of_fitted = "parts";
constexpr std::string_view after_a_fail = ", after fail at ";
constexpr std::string_view is_serial = " = ";  // between a part's path and its serial

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
/// The values of every line with that key.
std::vector<std::string> values_of(const RecordEntry& e, std::string_view key) {
  std::vector<std::string> values;
  for (const auto& line : e.lines)
    if (line.starts_with(key)) values.push_back(line.substr(key.size()));
  return values;
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

/// What readings leave open, a line each.
std::vector<std::string> not_tested_in(const DiagnosedVan& van) {
  std::vector<std::string> lines;
  const auto& open = van.coverage;
  std::vector<std::string> runs, never;
  for (const auto& one : open.runs)
    (one.is_settled() ? never : runs).push_back(van.design[one.run].label);
  const auto say = [&](const std::vector<std::string>& names, const std::string& how) {
    if (!names.empty())
      lines.push_back(std::to_string(names.size()) + (names.size() == 1 ? " run" : " runs") + how +
                      ": " + listed(names));
  };
  say(runs, "");
  say(never, " under load, checked dead");
  std::vector<std::string> dead;
  for (const auto& test : open.dead) dead.push_back(test.what);
  if (dead.size() == open.dead_tests && !dead.empty())
    lines.push_back("all " + std::to_string(dead.size()) + " dead tests");
  else if (!dead.empty())
    lines.push_back(std::to_string(dead.size()) + " of " + std::to_string(open.dead_tests) +
                    " dead tests: " + listed(dead, "; "));
  return lines;
}

void add_fitted(RecordEntry& e, const Fitted& fitted) {
  for (const auto& option : fitted.options) e.lines.push_back(line_of(option_key, option));
  for (const auto& part : fitted.parts)
    e.lines.push_back(line_of(part_key, part.path + std::string(is_serial) + part.serial));
}
/// With what an entry says; at each place the last part stays.
void take_fitted(Fitted& fitted, const RecordEntry& e) {
  for (auto& option : values_of(e, option_key))
    if (std::find(fitted.options.begin(), fitted.options.end(), option) == fitted.options.end())
      fitted.options.push_back(std::move(option));
  for (const auto& line : values_of(e, part_key)) {
    const auto at = line.find(is_serial);
    if (at == line.npos) continue;
    Fitted::Part part{line.substr(0, at), line.substr(at + is_serial.size())};
    const auto old = std::find_if(fitted.parts.begin(), fitted.parts.end(),
                                  [&](const auto& p) { return p.path == part.path; });
    if (old == fitted.parts.end()) fitted.parts.push_back(std::move(part));
    else *old = std::move(part);
  }
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
/// A run of the van that goes between the same ends as one of the design; of several of either nothing.
const design::Run* between_same_ends(const design::Document& built, const design::Document& now,
                                     const design::Run& run) {
  const auto is_alike = [&](const design::Run& other) {
    return other.from == run.from && other.to == run.to;
  };
  const design::Run* found = nullptr;
  for (const auto& old : built.run) {
    if (!is_alike(old) || named(now.run, old.name)) continue;
    if (found) return nullptr;
    found = &old;
  }
  const auto rivals = std::count_if(now.run.begin(), now.run.end(), [&](const design::Run& other) {
    return is_alike(other) && !named(built.run, other.name);
  });
  return rivals == 1 ? found : nullptr;
}

/// Each run of the design that the van has under another name.
std::vector<VanAgainstDesign::Renamed> renamed_in(const design::Document& built,
                                                  const design::Document& now) {
  std::vector<VanAgainstDesign::Renamed> all;
  for (const auto& run : now.run)
    if (!named(built.run, run.name))
      if (const auto* old = between_same_ends(built, now, run))
        all.push_back({old->name, run.name});
  return all;
}

/// Those that were built in the place of those that the design has.
template <class Thing> void take_built(std::vector<Thing>& now, const std::vector<Thing>& built) {
  for (Thing& one : now)
    if (const Thing* old = named(built, one.name)) one = *old;
}

/// The design with all that is copper, device or equipment as it was built.
design::Document with_built(design::Document now, const design::Document& built,
                            const std::vector<VanAgainstDesign::Renamed>& renamed) {
  if (now.bank && built.bank) now.bank = built.bank;
  take_built(now.run, built.run);
  for (const auto& one : renamed)
    for (auto& run : now.run)
      if (run.name == one.now) {
        run = *named(built.run, one.built);
        run.name = one.now;
      }
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

/// "drop appliance/Lights in dinner".
std::string failing(const checks::Finding& f) {
  return std::string(f.rule) + " " + f.subject.text() +
         (f.in_case.empty() ? "" : " in " + f.in_case);
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
                         std::string_view text, const Opening& opening, const Fitted& fitted) {
  RecordEntry e = entry_of(stamp, of_van);
  e.lines = {line_of(serial_key, serial),
             line_of(van_key, (*opening.design)->name),
             line_of(design_key, file),
             line_of(digest_key, "sha256 " + sha256_of(text)),
             line_of("inputs digest: ", opening.digest),
             line_of(design_verdict_key, verdicts_of(opening.checked))};
  for (const auto& f : opening.checked.findings)
    if (f.verdict == checks::Verdict::fail) e.lines.push_back(line_of("fails: ", failing(f)));
  add_fitted(e, fitted);
  e.lines.emplace_back(built_key);
  add_text(e, toml_of(opening.node));
  return e;
}

RecordEntry entry_of_readings(const Stamp& stamp, const std::string& file, std::string_view text,
                              const std::optional<DiagnosedVan>& van, const std::string& why_not) {
  RecordEntry e = entry_of(stamp, of_readings);
  e.lines = {line_of(verdict_key,
                     van ? std::string(word_of(van->found.verdict)) : "not judged: " + why_not)};
  if (van) {
    for (const auto& line : not_tested_in(*van)) e.lines.push_back(line_of(not_tested_key, line));
    for (auto& line : found_in(*van)) e.lines.push_back(std::move(line));
  }
  e.lines.push_back(line_of(file_key, file));
  add_text(e, text);
  return e;
}

RecordEntry entry_of_fitted(const Stamp& stamp, const Fitted& fitted) {
  RecordEntry e = entry_of(stamp, of_fitted);
  add_fitted(e, fitted);
  return e;
}

Release release_of(const std::string& who, const Record& record,
                   const std::optional<Opening>& built, const std::string& why_not) {
  const std::string fail(word_of(checks::Verdict::fail));
  const auto van = van_of(record);
  Release release{who, built ? verdicts_of(built->checked) : std::string(), {}};
  const auto add = [&](std::string why) { release.against.push_back(std::move(why)); };
  if (!built) {
    add("the design that it was built by cannot be judged: " + why_not);
  } else if (built->checked.verdicts.safety == checks::Verdict::fail) {
    std::vector<std::string> fails;
    for (const auto& f : built->checked.findings)
      if (f.of_safety && f.verdict == checks::Verdict::fail) fails.push_back(failing(f));
    add("the safety verdict of the design that it was built by is fail: " + listed(fails, "; "));
  }
  if (van.verdict == fail) add("its last readings, of " + van.tested_at + ", fail");
  else if (van.failed())
    add("its readings: " + van.verdict + "; later ones need not be of the same points");
  return release;
}

RecordEntry entry_of_release(const Stamp& stamp, const Release& release, const Record& record) {
  RecordEntry e = entry_of(stamp, of_release);
  const auto van = van_of(record);
  e.lines = {line_of(release_key, release.who),
             "readings then: " + (van.verdict.empty() ? std::string("none") : van.verdict),
             "design then: " + (release.design_verdicts.empty() ? std::string("not known")
                                                                : release.design_verdicts)};
  for (const auto& one : van.not_tested) e.lines.push_back(line_of(not_tested_key, one));
  for (const auto& one : release.against) e.lines.push_back("against it: " + one);
  if (release.despite) e.lines.push_back(line_of(despite_key, *release.despite));
  return e;
}

RecordEntry entry_of_note(const Stamp& stamp, std::string_view text) {
  RecordEntry e = entry_of(stamp, of_note);
  e.lines = lines_of(text);
  return e;
}

bool VanOfRecord::failed() const {
  return verdict == word_of(checks::Verdict::fail) ||
         verdict.find(after_a_fail) != std::string::npos;
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
      van.design_verdicts = value_of(e, design_verdict_key);
      van.design = text_after(e, built_key);
      take_fitted(van.fitted, e);
    } else if (e.what == of_fitted) {
      take_fitted(van.fitted, e);
    } else if (e.what == of_readings) {
      van.tested_at = e.at;
      van.tested_by = e.by;
      van.not_tested = values_of(e, not_tested_key);
      const std::string verdict = value_of(e, verdict_key);
      const std::string fail(word_of(checks::Verdict::fail));
      if (verdict == fail && failed_at.empty()) failed_at = e.at;
      // Later readings need not be of the same points: a fail is not taken back by them.
      van.verdict = verdict == fail || failed_at.empty()
                        ? verdict
                        : verdict + std::string(after_a_fail) + failed_at;
    } else if (e.what == of_release) {
      van.released_at = e.at;
      van.released_by = value_of(e, release_key);
      van.released_despite = value_of(e, despite_key);
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
  out.renamed = renamed_in(*built.document, *design.document);
  compare("", &built.node, &design.node, out.differences);
  const auto document = with_built(*design.document, *built.document, out.renamed);
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
  const auto is_renamed = [&](const std::string& name) {
    return std::any_of(out.renamed.begin(), out.renamed.end(),
                       [&](const auto& one) { return one.built == name || one.now == name; });
  };
  for (const auto& run : design.document->run)
    if (!named(built.document->run, run.name) && !is_renamed(run.name))
      out.not_built.push_back(run.name);
  for (const auto& run : built.document->run)
    if (!named(design.document->run, run.name) && !is_renamed(run.name))
      out.left_out.push_back(run.name);
  const auto places = part_paths(*design.design);
  for (const auto& part : van.fitted.parts)
    if (std::find(places.begin(), places.end(), part.path) == places.end())
      out.no_place.push_back(part);
  if (!out.not_built.empty() || !out.left_out.empty() || !out.no_place.empty())
    out.verdict = std::max(out.verdict, checks::Verdict::caution);
  return out;
}

}  // namespace housepower::answers

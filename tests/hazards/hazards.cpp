// SPDX-License-Identifier: Apache-2.0
// Vans that a good electrician signs (sound/) and the same vans with one dangerous change each
// (dangers/). A sound van passes both verdicts without a caution; each danger raises the rule that
// its list names, newly or harder, and no other than it says the same defect causes. What was
// written down in the lists comes from the trade, not from the program. docs/HAZARDS.md is the
// count; UPDATE_HAZARDS=1 writes it anew, and the difference is read before it is kept.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "housepower/checks/rule.hpp"
#include "housepower/design/open.hpp"

namespace hazards_hazards {
namespace {

using namespace housepower;
using checks::Finding;
using checks::Verdict;

const std::string folder = HOUSEPOWER_SOURCE_DIR "/tests/hazards/";
const std::string table_file = HOUSEPOWER_SOURCE_DIR "/docs/HAZARDS.md";

std::optional<std::string> from_disk(std::string_view path) {
  std::ifstream file{std::string(path), std::ios::binary};
  if (!file) return std::nullopt;
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// The files of a folder, by name.
std::vector<std::string> files_in(const std::string& name) {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder + name))
    if (entry.path().extension() == ".toml") files.push_back(entry.path().string());
  std::sort(files.begin(), files.end());
  return files;
}

std::string stem_of(const std::string& file) { return std::filesystem::path(file).stem().string(); }

const tables::Tables& shipped() {
  static const tables::Tables all = [] {
    Diagnostics problems;
    auto read = tables::read_tables(tables::embedded_tables(), {}, problems);
    REQUIRE(read.has_value());
    return *std::move(read);
  }();
  return all;
}

/// ---- What was written down ----

struct Danger {
  std::string family, group, van;     // of which file, which class, which sound van
  std::vector<std::string> sets;      // overrides, and
  std::string pack;                   // text laid over the van
  std::string raises, subject, word;  // the rule, a path that begins like this, the verdict
  std::set<std::string> also;         // rules that the same defect raises
  std::string why;
  std::string missed;  // why it is known to be missed; empty in the end
};

std::string text_of(const Node& one, std::string_view key) {
  const auto text = one.text_at(key);
  return text ? std::string(*text) : std::string();
}

std::vector<std::string> texts_of(const Node& one, std::string_view key) {
  std::vector<std::string> all;
  if (const auto* entry = one.find(key))
    for (const Node& each : std::get<Node::List>(entry->value.value))
      all.push_back(std::get<std::string>(each.value));
  return all;
}

Danger danger_of(const Node& one, const std::string& family) {
  Danger d;
  d.family = family;
  d.group = text_of(one, "class");
  d.van = text_of(one, "van");
  d.sets = texts_of(one, "set");
  d.pack = text_of(one, "pack");
  d.raises = text_of(one, "raises");
  d.subject = text_of(one, "subject");
  d.word = text_of(one, "verdict");
  const auto also = texts_of(one, "also");
  d.also = {also.begin(), also.end()};
  d.why = text_of(one, "why");
  d.missed = text_of(one, "missed");
  return d;
}

const std::vector<Danger>& dangers() {
  static const std::vector<Danger> all = [] {
    std::vector<Danger> list;
    for (const std::string& file : files_in("dangers")) {
      Diagnostics problems;
      const auto tree = parse_toml(*from_disk(file), file, problems);
      REQUIRE_MESSAGE((tree && problems.all.empty()), file);
      for (const Node& one : std::get<Node::List>(tree->find("danger")->value.value))
        list.push_back(danger_of(one, stem_of(file)));
    }
    return list;
  }();
  return all;
}

/// ---- What the check says ----

struct Answer {
  bool opened = false;
  std::string problems;
  std::string profile;
  Voltage nominal{};
  int batteries = 0;
  checks::Verdicts verdicts;
  std::vector<Finding> findings;
};

Answer answer_of(const std::string& file, const std::vector<std::string>& sets,
                 const FileReader& reader) {
  Answer answer;
  Diagnostics problems;
  const auto one = design::open_design(file, reader, sets, shipped(), Defaults::ordinary, problems);
  for (const auto& p : problems.all) answer.problems += "\n  " + p.key + ": " + p.message;
  if (!one) return answer;
  answer.opened = true;
  answer.profile = one->design->profile->name;
  answer.nominal = one->design->nominal;
  answer.batteries = one->design->bank->parallel * one->design->bank->in_series;
  auto checked = checks::check(one->document, one->design, checks::Workings::left_out);
  answer.verdicts = checked.verdicts;
  answer.findings = std::move(checked.findings);
  return answer;
}

/// The sound vans by name, checked once.
const std::map<std::string, Answer>& sound() {
  static const std::map<std::string, Answer> all = [] {
    std::map<std::string, Answer> vans;
    for (const std::string& file : files_in("sound"))
      vans[stem_of(file)] = answer_of(file, {}, from_disk);
    return vans;
  }();
  return all;
}

/// The van of a danger with its change.
Answer answer_of(const Danger& d) {
  const std::string file = folder + "sound/changed by a danger.toml";
  const std::string text = "extends = \"" + d.van + ".toml\"\nschema = 1\n" + d.pack;
  return answer_of(file, d.sets, [&](std::string_view path) {
    return path == file ? std::optional(text) : from_disk(path);
  });
}

using Worst = std::map<std::pair<std::string, std::string>, Verdict>;  // by rule and subject

Worst worst_of(const std::vector<Finding>& findings) {
  Worst worst;
  for (const Finding& f : findings) {
    auto& at = worst[{std::string(f.rule), f.subject.text()}];
    at = std::max(at, f.verdict);
  }
  return worst;
}

std::string line_of(const Finding& f) {
  return fmt::format("\n  {} {} on {}{}: {}", word_of(f.verdict), f.rule, f.subject.text(),
                     f.in_case.empty() ? "" : " [" + f.in_case + "]", f.message);
}

/// Findings beyond a limit that the sound van has not, or not so hard.
std::vector<const Finding*> risen(const std::vector<Finding>& findings, const Worst& before) {
  std::vector<const Finding*> all;
  for (const Finding& f : findings) {
    const auto was = before.find({std::string(f.rule), f.subject.text()});
    if (f.verdict > (was == before.end() ? Verdict::pass : was->second)) all.push_back(&f);
  }
  return all;
}

struct Outcome {
  bool caught = false;
  std::vector<std::string> alarms;  // rules that nothing explains
  std::string told;                 // what was found, for a person
};

bool is_raised(const Danger& d, const Finding& f) {
  return f.rule == d.raises && f.subject.text().rfind(d.subject, 0) == 0 &&
         word_of(f.verdict) == d.word;
}

Outcome outcome_of(const Danger& d) {
  const Answer now = answer_of(d);
  Outcome out;
  if (!now.opened) {
    out.caught = d.word == "refused" && now.problems.find(d.subject) != std::string::npos;
    out.told = now.problems;
    return out;
  }
  std::set<std::string> alarms;
  for (const Finding* f : risen(now.findings, worst_of(sound().at(d.van).findings))) {
    const bool held_back = !f->of_safety || now.verdicts.safety >= Verdict::caution;
    out.caught = out.caught || (is_raised(d, *f) && held_back);
    if (f->verdict >= Verdict::caution && f->rule != d.raises &&
        d.also.count(std::string(f->rule)) == 0)
      alarms.insert(std::string(f->rule));
    if (f->verdict >= Verdict::caution || f->rule == d.raises) out.told += line_of(*f);
  }
  out.alarms = {alarms.begin(), alarms.end()};
  return out;
}

const std::vector<Outcome>& outcomes() {
  static const std::vector<Outcome> all = [] {
    std::vector<Outcome> list;
    for (const Danger& d : dangers()) list.push_back(outcome_of(d));
    return list;
  }();
  return all;
}

std::string beyond_limits(const Answer& answer) {
  std::string told = answer.problems;
  for (const Finding& f : answer.findings)
    if (f.verdict >= Verdict::caution || (f.verdict == Verdict::not_checked && f.of_safety))
      told += line_of(f);
  return told;
}

bool passes(const Answer& answer) {
  return answer.opened && answer.verdicts.safety == Verdict::pass &&
         answer.verdicts.service == Verdict::pass;
}

/// ---- The table ----

struct Count {
  int vans = 0, caught = 0, missed = 0, alarms = 0;
};

std::string row_of(const std::string& name, const Count& c) {
  return fmt::format("| {} | {} | {} | {} | {} |\n", name, c.vans, c.caught, c.missed, c.alarms);
}

std::string table_of_dangers() {
  std::vector<std::pair<std::string, Count>> classes;
  Count all;
  std::string open;
  for (std::size_t i = 0; i < dangers().size(); ++i) {
    const Danger& d = dangers()[i];
    const Outcome& o = outcomes()[i];
    if (classes.empty() || classes.back().first != d.group) classes.push_back({d.group, {}});
    for (Count* c : {&classes.back().second, &all}) {
      ++c->vans;
      ++(o.caught ? c->caught : c->missed);
      c->alarms += !o.alarms.empty();
    }
    if (!o.caught) open += fmt::format("- {} on `{}`: {} {}\n", d.group, d.van, d.why, d.missed);
  }
  std::string text = "| danger | vans | caught | missed | false alarm |\n|---|---|---|---|---|\n";
  for (const auto& one : classes) text += row_of(one.first, one.second);
  text += row_of("**all**", all);
  return text + (open.empty() ? "\nNone is missed.\n" : "\nMissed:\n\n" + open);
}

std::string table_of_sound_vans() {
  std::string text = "| van | profile | voltage | batteries | safety | service |\n"
                     "|---|---|---|---|---|---|\n";
  int alarmed = 0;
  for (const auto& entry : sound()) {
    const Answer& a = entry.second;
    alarmed += !passes(a);
    text += fmt::format("| {} | {} | {:g} V | {} | {} | {} |\n", entry.first, a.profile,
                        a.nominal.value(), a.batteries, word_of(a.verdicts.safety),
                        word_of(a.verdicts.service));
  }
  return text + fmt::format("\n{} sound vans, {} with a false alarm.\n", sound().size(), alarmed);
}

std::string page() {
  return "# Hazards: what is caught, what is missed, what is a false alarm\n\n"
         "`tests/hazards/` holds vans that a good electrician signs, and the same vans with one\n"
         "dangerous change each. All are invented; what each change has to raise was written down\n"
         "from the trade before the program was asked. The test writes this page, and fails where "
         "a\n"
         "danger is missed or something is raised that nothing in the van causes.\n\n"
         "**Caught**: the named rule is raised newly or harder, at the verdict that was written\n"
         "down. **False alarm**: another rule is raised that the change does not cause.\n\n"
         "## Dangers\n\n" +
         table_of_dangers() + "\n## Sound vans\n\n" + table_of_sound_vans();
}

}  // namespace

TEST_CASE("a van that a good electrician signs passes, without a caution") {
  CHECK(sound().size() >= 40);
  std::map<std::string, int> by_profile;
  for (const auto& entry : sound()) {
    ++by_profile[entry.second.profile];
    CHECK_MESSAGE(passes(entry.second), entry.first << beyond_limits(entry.second));
  }
  CHECK(by_profile.size() == 4);
}

TEST_CASE("a danger raises the rule that it is for, and nothing that it does not cause") {
  CHECK(dangers().size() >= 120);
  for (std::size_t i = 0; i < dangers().size(); ++i) {
    const Danger& d = dangers()[i];
    const Outcome& o = outcomes()[i];
    const std::string who = fmt::format("{} on {} ({}): {} {} on {}", d.group, d.van, d.family,
                                        d.raises, d.word, d.subject);
    REQUIRE_MESSAGE(sound().count(d.van) == 1, who);
    CHECK_MESSAGE((checks::rule_named(d.raises) != nullptr || d.word == "refused"), who);
    CHECK_MESSAGE(!d.why.empty(), who);
    CHECK_MESSAGE(o.caught == d.missed.empty(), "caught? " << who << o.told);
    CHECK_MESSAGE(o.alarms.empty(),
                  fmt::format("alarm {} in {}{}", fmt::join(o.alarms, ", "), who, o.told));
  }
}

TEST_CASE("the page on hazards says what the check says") {
  const std::string now = page();
  if (std::getenv("UPDATE_HAZARDS") != nullptr) std::ofstream(table_file, std::ios::binary) << now;
  CHECK(now == from_disk(table_file).value_or(""));
}

}  // namespace hazards_hazards

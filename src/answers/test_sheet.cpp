// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/test_sheet.hpp"

#include <algorithm>

#include "housepower/energy/assessment.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::answers {
namespace {

using wiring::TestLoad;

/// Where a name stands in a list; -1, and told, where it does not.
template <class List>
int place_of(const List& list, const char* option, const char* what, const std::string& name,
             Diagnostics& diagnostics) {
  std::vector<std::string_view> names;
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (list[i].name == name) return int(i);
    names.push_back(list[i].name);
  }
  diagnostics.error({option}, option,
                    std::string("the design has no ") + what + " \"" + name + "\"",
                    did_you_mean(name, names));
  return -1;
}

TestLoad state_of(const TestAsked& asked) {
  TestLoad load;
  load.resting = asked.resting;
  load.charge = asked.charge;
  load.workshop = asked.workshop;
  return load;
}

std::optional<TestLoad> bench_of(const design::Design& d, const TestAsked& asked,
                                 Diagnostics& diagnostics) {
  TestLoad load = state_of(asked);
  const std::string where = asked.at.value_or("bank");
  const int post = place_of(d->posts, "--at", "node", where, diagnostics);
  if (post < 0) return std::nullopt;
  load.bench = TestLoad::Bench{{post}, *asked.current};
  load.name = print(*asked.current) + " at " + where;
  load.what = design::Subject(design::Subject::Kind::bench);
  return load;
}

std::optional<TestLoad> appliances_of(const design::Design& d, const TestAsked& asked,
                                      Diagnostics& diagnostics) {
  TestLoad load = state_of(asked);
  for (const auto& name : asked.running) {
    const int appliance = place_of(d->appliances, "--running", "appliance", name, diagnostics);
    if (appliance < 0) return std::nullopt;
    load.running.push_back({appliance});
    load.name += (load.name.empty() ? "" : ", ") + name;
  }
  return load;
}

std::optional<TestLoad> case_of(const design::Design& d, const TestAsked& asked,
                                Diagnostics& diagnostics) {
  TestLoad load = state_of(asked);
  int found = d->cases.empty() ? -1 : 0;
  if (asked.load_case) {
    found = place_of(d->cases, "--case", "case", *asked.load_case, diagnostics);
    if (found < 0) return std::nullopt;
  }
  if (found < 0) {
    const auto fullest = energy::fullest_hour(d);
    load.running = fullest.running;
    load.name = "what runs from " + std::to_string(fullest.hour) + ":00";
    return load;
  }
  const auto& one = d->cases[std::size_t(found)];
  load.running = one.running;
  load.name = one.name;
  load.what = {design::Subject::Kind::load_case, found, one.name};
  return load;
}

/// What a file of readings may name: what is asked, and what a plan switches on.
std::vector<TestLoad> known_loads(const Opening& opening, TestLoad asked) {
  auto all = wiring::possible_loads(*opening.design, opening.checked.wiring, asked);
  if (std::none_of(all.begin(), all.end(), [&](const TestLoad& l) { return l.name == asked.name; }))
    all.insert(all.begin(), std::move(asked));
  return all;
}

}  // namespace

std::optional<TestLoad> test_load(const design::Design& d, const TestAsked& asked,
                                  Diagnostics& diagnostics) {
  if (asked.current) return bench_of(d, asked, diagnostics);
  if (!asked.running.empty()) return appliances_of(d, asked, diagnostics);
  return case_of(d, asked, diagnostics);
}

std::variant<TestSheetReport, wiring::NoTestSheet> test_sheet(const CheckedDesign& checked,
                                                              const TestLoad& load, bool whole) {
  const design::Design& d = checked.design;
  const auto& wiring = checked.checked.wiring;
  auto sheet = wiring::test_sheet(d, wiring, load);
  if (auto* none = std::get_if<wiring::NoTestSheet>(&sheet)) {
    none->why = load.name + ": " + none->why;
    return *none;
  }
  return TestSheetReport{d,
                         load,
                         std::get<wiring::TestSheet>(std::move(sheet)),
                         whole,
                         whole && !d->appliances.empty() ? wiring::plan_tests(d, wiring, load)
                                                         : wiring::plan_of(d, wiring, load),
                         wiring::dead_tests(d),
                         wiring::resting_range(d, load),
                         checked.inputs_digest,
                         &checked.checked};
}

namespace {

/// No run had any current.
wiring::Diagnosis checked_by_hand_alone(const design::Design& d) {
  wiring::Diagnosis none;
  for (const auto id : d->runs.ids()) none.idle.push_back(id);
  return none;
}

/// A path's last part.
std::string_view file_of(std::string_view path) {
  const auto slash = path.find_last_of("/\\");
  return slash == path.npos ? path : path.substr(slash + 1);
}
/// Readings say which design their van was built to: one of another name is told.
void tell_other_design(const Opening& opening, const std::optional<std::string>& named,
                       std::string_view file, Diagnostics& diagnostics) {
  const std::string_view judged = file_of(opening.document->place.file);
  if (!named || judged.empty() || file_of(*named) == judged) return;
  diagnostics.warning({std::string(file)}, "van/design",
                      "these readings are of a van built to " + quoted(*named) +
                          "; they are judged by " + quoted(judged),
                      "is it the van's own design?");
}

}  // namespace

std::optional<std::variant<DiagnosedVan, wiring::NoDiagnosis>>
diagnose(const Opening& opening, const TestLoad& asked, std::string_view text,
         std::string_view file, Diagnostics& diagnostics) {
  const design::Design& d = *opening.design;
  auto readings = wiring::read_readings(text, file, d, opening.checked.wiring,
                                        known_loads(opening, asked), diagnostics);
  if (!readings) return std::nullopt;
  tell_other_design(opening, readings->design, file, diagnostics);
  auto answered = readings->cases.empty()
                      ? wiring::DiagnosisAnswer(checked_by_hand_alone(d))
                      : wiring::diagnose(d, opening.checked.wiring, readings->cases);
  if (auto* none = std::get_if<wiring::NoDiagnosis>(&answered)) return *none;
  auto& diagnosis = std::get<wiring::Diagnosis>(answered);
  auto coverage =
      wiring::coverage_of(d, opening.checked.wiring, diagnosis, readings->checked, asked);
  auto found = checks::judge_found(*opening.document, d, opening.checked, diagnosis,
                                   readings->checked, coverage);
  return DiagnosedVan{d,
                      *std::move(readings),
                      std::move(diagnosis),
                      std::move(found),
                      std::move(coverage),
                      diagnostics.all,
                      opening.digest,
                      &opening.checked};
}

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// Law of the sign table: a parameter moved in a rule's bad direction never turns what that rule
// finds beyond its limit into a pass; in its good direction never a pass into what is beyond.
#include <fmt/format.h>

#include <map>

#include "examples.hpp"

namespace housepower::checks {
namespace {

using design::Opened;

constexpr Parameter parameters[] = {Parameter::length,    Parameter::area,
                                    Parameter::ambient,   Parameter::circuits_together,
                                    Parameter::load,      Parameter::device_rating,
                                    Parameter::batteries, Parameter::bank_age,
                                    Parameter::reserve,   Parameter::array,
                                    Parameter::distance};
constexpr std::string_view names[] = {"length",  "area",          "ambient",   "circuits_together",
                                      "load",    "device_rating", "batteries", "bank_age",
                                      "reserve", "array",         "distance"};

/// The neighbour of a value in a rising series; the value itself at its end.
template <std::size_t N> double next_in(const double (&series)[N], double value, bool larger) {
  double found = value;
  for (const double one : series) {
    if (larger && one > 1.05 * value) return one;
    if (!larger && one < 0.95 * value) found = one;
  }
  return found;
}
constexpr double sizes_mm2[] = {0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70};
constexpr double ratings_a[] = {2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125};

/// The overrides of one run that move a parameter.
std::vector<std::string> moved(const Opened& one, const design::resolved::Run& run,
                               Parameter parameter, bool larger) {
  const std::string at = "run/" + run.name;
  const auto& section = run.sections.front();
  std::vector<std::string> sets;
  switch (parameter) {
  case Parameter::length:
    sets.push_back(
        fmt::format("{}/length={} m", at, run.length.value() * (larger ? 1.5 : 1 / 1.5)));
    break;
  case Parameter::area: {
    const auto other = [&](const tables::Conductor& conductor) {
      return next_in(sizes_mm2, conductor.copper / square_millimetre, larger);
    };
    sets.push_back(fmt::format("{}/conductor={} mm2", at, other(*run.conductor)));
    if (one.node.at(at + "/return/conductor"))
      sets.push_back(fmt::format("{}/return/conductor={} mm2", at, other(*run.back.conductor)));
    break;
  }
  case Parameter::ambient:
    sets.push_back(
        fmt::format("{}/ambient={} °C", at, in_celsius(section.ambient) + (larger ? 15 : -15)));
    break;
  case Parameter::circuits_together:
    sets.push_back(fmt::format("{}/circuits_together={}", at,
                               std::max(1, section.circuits_together + (larger ? 2 : -2))));
    break;
  case Parameter::device_rating:
    for (std::size_t i = 0; i < run.protection.size(); ++i)
      sets.push_back(fmt::format("{}/protection/{}/rating={} A", at, i,
                                 next_in(ratings_a, run.protection[i].rating.value(), larger)));
    break;
  case Parameter::distance:
    for (std::size_t i = 0; i < run.protection.size(); ++i)
      sets.push_back(fmt::format("{}/protection/{}/distance={} m", at, i,
                                 run.protection[i].distance->value() * (larger ? 1.5 : 1 / 1.5)));
    break;
  default: break;
  }
  return sets;
}

/// The overrides that move a parameter everywhere in the design.
std::vector<std::string> moved(const Opened& one, Parameter parameter, bool larger) {
  const auto& d = *one.design;
  std::vector<std::string> sets;
  if (parameter == Parameter::load)
    for (const auto& a : d.appliances) {
      const double by = larger ? 1.3 : 1 / 1.3;
      sets.push_back(fmt::format("appliance/{}/power={} W", a.name, a.power.value() * by));
      if (a.starting)
        sets.push_back(fmt::format("appliance/{}/starting/current={} A", a.name,
                                   a.starting->current.value() * by));
    }
  else if (parameter == Parameter::batteries)
    sets.push_back(
        fmt::format("bank/quantity={}", std::max(1, d.bank->parallel + (larger ? 1 : -1))));
  else if (parameter == Parameter::bank_age && one.node.at("promise"))
    sets.push_back(fmt::format("promise/bank_age={} y", larger ? 15 : 5));
  else if (parameter == Parameter::reserve && one.node.at("promise"))
    sets.push_back(fmt::format("promise/reserve={} %", larger ? 30 : 5));
  else if (parameter == Parameter::array)
    for (const auto& a : d.arrays)
      sets.push_back(
          fmt::format("array/{}/modules={}", a.name, std::max(1, a.modules + (larger ? 3 : -1))));
  for (const auto& run : d.runs)
    for (std::string& set : moved(one, run, parameter, larger)) sets.push_back(std::move(set));
  return sets;
}

/// The worst verdict of each rule on each subject.
using Verdicts = std::map<std::pair<std::string, std::string>, Verdict>;
Verdicts verdicts_of(const Checked& checked) {
  Verdicts worst;
  for (const Finding& f : checked.findings) {
    auto& at = worst[{std::string(f.rule), f.subject}];
    at = std::max(at, f.verdict);
  }
  return worst;
}

Effect effect_on(std::string_view rule, Parameter parameter) {
  for (const Sign& sign : rule_named(rule)->signs)
    if (sign.parameter == parameter) return sign.when_larger;
  return Effect::not_monotone;  // the table claims nothing
}

/// How often a sign had something to hold: beyond a limit and made worse, and so on.
struct Count {
  int worsened = 0, bettered = 0, untouched = 0;
};
using Held = std::map<std::pair<std::string, Parameter>, Count>;  // by rule and parameter

void hold(const Verdicts& before, const Verdicts& after, Parameter parameter, bool larger,
          Held& held) {
  for (const auto& entry_before : before) {
    const auto& subject = entry_before.first;
    const Verdict was = entry_before.second;
    const auto now = after.find(subject);
    const Effect effect = effect_on(subject.first, parameter);
    if (effect == Effect::not_monotone || now == after.end()) continue;
    CAPTURE(subject.first);
    CAPTURE(subject.second);
    CAPTURE(word_of(was));
    CAPTURE(word_of(now->second));
    Count& count = held[{subject.first, parameter}];
    if (effect == Effect::none) {
      CHECK(now->second == was);
      ++count.untouched;
    } else if ((effect == Effect::worse) == larger) {
      if (was < Verdict::caution) continue;
      CHECK(now->second != Verdict::pass);
      ++count.worsened;
    } else if (was == Verdict::pass) {
      CHECK(now->second < Verdict::caution);
      ++count.bettered;
    }
  }
}

TEST_CASE(
    "no parameter moved in a rule's bad direction makes that rule pass, nor the other way round") {
  Held held;
  for (const std::string& file : examples::all()) {
    if (file.find("/faulty/") == std::string::npos) continue;
    const Opened one = examples::opened(file);
    const Verdicts before = verdicts_of(examples::checked(one));
    for (const Parameter parameter : parameters)
      for (const bool larger : {false, true}) {
        const auto sets = moved(one, parameter, larger);
        if (sets.empty()) continue;
        CAPTURE(file);
        CAPTURE(names[std::size_t(parameter)]);
        CAPTURE(larger);
        hold(before, verdicts_of(examples::checked(file, sets)), parameter, larger, held);
      }
  }
  for (const Rule* rule : rules())  // each claim of the table was put to the test
    for (const Sign& sign : rule->signs) {
      CAPTURE(rule->name);
      CAPTURE(names[std::size_t(sign.parameter)]);
      const Count& h = held[{std::string(rule->name), sign.parameter}];
      if (sign.when_larger == Effect::none) CHECK(h.untouched > 0);
      else if (sign.when_larger != Effect::not_monotone) {
        CHECK(h.worsened > 0);
        CHECK(h.bettered > 0);
      }
    }
}

/// Of the sound base, where no verdict changes, the margins show the direction.
TEST_CASE("a parameter moved in a rule's bad direction leaves that rule no more room") {
  const std::string file = examples::faulty("base");
  const Opened one = examples::opened(file);
  const auto margins = [](const Checked& checked) {
    std::map<std::string, double> all;
    for (const Finding& f : checked.findings)
      if (f.measured)
        all[std::string(f.rule) + ": " + f.subject + " [" + f.in_case + "]"] = f.margin.value();
    return all;
  };
  const auto before = margins(examples::checked(one));
  for (const Parameter parameter : parameters)
    for (const bool larger : {false, true}) {
      const auto after = margins(examples::checked(file, moved(one, parameter, larger)));
      int changed = 0;
      for (const auto& entry_before : before) {
        const std::string& finding = entry_before.first;
        const double was = entry_before.second;
        const auto now = after.find(finding);
        const Effect effect = effect_on(finding.substr(0, finding.find(':')), parameter);
        if (now == after.end() || effect == Effect::not_monotone) continue;
        CAPTURE(finding);
        CAPTURE(names[std::size_t(parameter)]);
        CAPTURE(larger);
        CAPTURE(was);
        CAPTURE(now->second);
        const double hair = 1e-9 * (1.0 + std::abs(was));
        if (effect == Effect::none) CHECK(std::abs(now->second - was) <= hair);
        else if ((effect == Effect::worse) == larger) CHECK(now->second <= was + hair);
        else CHECK(now->second >= was - hair);
        changed += std::abs(now->second - was) > hair;
      }
      CAPTURE(names[std::size_t(parameter)]);
      // Fewer than one circuit, module or two batteries there cannot be.
      const bool at_its_end =
          !larger && (parameter == Parameter::circuits_together || parameter == Parameter::array);
      if (!at_its_end) CHECK(changed > 0);
    }
}

}  // namespace
}  // namespace housepower::checks

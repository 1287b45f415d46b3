// SPDX-License-Identifier: Apache-2.0
// A parameter moved throughout a design, and what its sign in a rule's table says of the verdicts
// before and after.
#pragma once

#include <fmt/format.h>

#include <map>

#include "examples.hpp"

namespace housepower::checks::test {

using design::Opened;

inline constexpr Parameter parameters[] = {Parameter::length,    Parameter::area,
                                           Parameter::ambient,   Parameter::circuits_together,
                                           Parameter::load,      Parameter::device_rating,
                                           Parameter::batteries, Parameter::bank_age,
                                           Parameter::reserve,   Parameter::array,
                                           Parameter::distance};
inline constexpr std::string_view names[] = {
    "length",   "area",    "ambient", "circuits_together", "load", "device_rating", "batteries",
    "bank_age", "reserve", "array",   "distance"};

/// The neighbour of a value in a rising series; the value itself at its end.
template <std::size_t N> double next_in(const double (&series)[N], double value, bool larger) {
  double found = value;
  for (const double one : series) {
    if (larger && one > 1.05 * value) return one;
    if (!larger && one < 0.95 * value) found = one;
  }
  return found;
}
inline constexpr double sizes_mm2[] = {0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70};
inline constexpr double ratings_a[] = {2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125};

/// The overrides of one run that move a parameter.
inline std::vector<std::string> moved(const Opened& one, const design::resolved::Run& run,
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
inline std::vector<std::string> moved(const Opened& one, Parameter parameter, bool larger) {
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
using WorstOfEach = std::map<std::pair<std::string, std::string>, Verdict>;
inline WorstOfEach verdicts_of(const Checked& checked) {
  WorstOfEach worst;
  for (const Finding& f : checked.findings) {
    auto& at = worst[{std::string(f.rule), f.subject}];
    at = std::max(at, f.verdict);
  }
  return worst;
}

inline Effect effect_on(std::string_view rule, Parameter parameter) {
  for (const Sign& sign : rule_named(rule)->signs)
    if (sign.parameter == parameter) return sign.when_larger;
  return Effect::not_monotone;  // the table claims nothing
}

/// How often a sign had something to hold: beyond a limit and made worse, and so on; and what broke.
struct Count {
  int worsened = 0, bettered = 0, untouched = 0;
};
struct Held {
  std::map<std::pair<std::string, Parameter>, Count> counts;  // by rule and parameter
  std::vector<std::string> broken;
};

inline void hold(const WorstOfEach& before, const WorstOfEach& after, Parameter parameter, bool larger,
                 Held& held) {
  for (const auto& entry_before : before) {
    const auto& [rule, subject] = entry_before.first;
    const Verdict was = entry_before.second;
    const auto now = after.find(entry_before.first);
    const Effect effect = effect_on(rule, parameter);
    if (effect == Effect::not_monotone || now == after.end()) continue;
    Count& count = held.counts[{rule, parameter}];
    bool good = true;
    if (effect == Effect::none) {
      good = now->second == was;
      ++count.untouched;
    } else if ((effect == Effect::worse) == larger) {
      if (was < Verdict::caution) continue;
      good = now->second != Verdict::pass;
      ++count.worsened;
    } else if (was == Verdict::pass) {
      good = now->second < Verdict::caution;
      ++count.bettered;
    }
    if (!good)
      held.broken.push_back(fmt::format(
          "{} on {}: {} becomes {} where {} is {}", rule, subject, word_of(was),
          word_of(now->second), names[std::size_t(parameter)], larger ? "larger" : "smaller"));
  }
}

}  // namespace housepower::checks::test

// SPDX-License-Identifier: Apache-2.0
// A parameter moved throughout a design, by a step or to the end of its range, and what its sign in
// a rule's table says of the verdicts before and after.
#pragma once

#include <fmt/format.h>

#include <map>

#include "examples.hpp"

namespace housepower::checks::test {

using design::Opened;

inline constexpr Parameter parameters[] = {Parameter::length,
                                           Parameter::area,
                                           Parameter::ambient,
                                           Parameter::circuits_together,
                                           Parameter::load,
                                           Parameter::device_rating,
                                           Parameter::batteries,
                                           Parameter::bank_age,
                                           Parameter::reserve,
                                           Parameter::array,
                                           Parameter::distance,
                                           Parameter::joints,
                                           Parameter::joint_resistance,
                                           Parameter::battery_resistance_low,
                                           Parameter::battery_resistance_high,
                                           Parameter::charge_limit,
                                           Parameter::discharge_limit,
                                           Parameter::record_low};
inline constexpr std::string_view names[] = {"length",
                                             "area",
                                             "ambient",
                                             "circuits_together",
                                             "load",
                                             "device_rating",
                                             "batteries",
                                             "bank_age",
                                             "reserve",
                                             "array",
                                             "distance",
                                             "joints",
                                             "joint_resistance",
                                             "battery_resistance_low",
                                             "battery_resistance_high",
                                             "charge_limit",
                                             "discharge_limit",
                                             "record_low"};

/// How far: to the next value that one would try, or as far as a design can state it.
enum class Reach { step, end };
struct Move {
  Parameter parameter;
  bool larger;
  Reach reach = Reach::step;
};
/// The end of a parameter's range in one direction.
struct Range {
  double least, most;
  [[nodiscard]] double end(bool larger) const { return larger ? most : least; }
};

/// The neighbour of a value in a rising series; the value itself at its end.
template <std::size_t N> double next_in(const double (&series)[N], double value, const Move& move) {
  if (move.reach == Reach::end) return move.larger ? series[N - 1] : series[0];
  double found = value;
  for (const double one : series) {
    if (move.larger && one > 1.05 * value) return one;
    if (!move.larger && one < 0.95 * value) found = one;
  }
  return found;
}
inline constexpr double sizes_mm2[] = {0.5, 0.75, 1,  1.5, 2.5, 4,  6,   10,
                                       16,  25,   35, 50,  70,  95, 120, 150};
inline constexpr double ratings_a[] = {2,  3,  5,   7.5, 10,  15,  20,  25,  30,  40,  50,
                                       60, 80, 100, 125, 150, 200, 250, 300, 400, 500, 600};

/// A value by a factor, or at the end of its range.
inline double scaled(double value, double by, const Move& move, Range range) {
  return move.reach == Reach::end ? range.end(move.larger) : value * (move.larger ? by : 1 / by);
}

/// A run ends no nearer than its devices sit.
inline double shortest(const design::resolved::Run& run) {
  double least = 0.05;
  for (const auto& device : run.protection)
    if (device.distance) least = std::max(least, device.distance->value());
  return least;
}

/// The overrides of one run that move a parameter.
inline std::vector<std::string> moved(const Opened& one, const design::resolved::Run& run,
                                      const Move& move) {
  const std::string at = "run/" + run.name;
  const auto& section = run.sections.front();
  const bool to_end = move.reach == Reach::end;
  std::vector<std::string> sets;
  switch (move.parameter) {
  case Parameter::length:
    sets.push_back(
        fmt::format("{}/length={} m", at,
                    std::max(shortest(run), scaled(run.length.value(), 1.5, move, {0.05, 1000}))));
    break;
  case Parameter::area: {
    const auto other = [&](const tables::Conductor& conductor) {
      return next_in(sizes_mm2, conductor.copper / square_millimetre, move);
    };
    sets.push_back(fmt::format("{}/conductor={} mm2", at, other(*run.conductor)));
    if (one.node.at(at + "/return/conductor"))
      sets.push_back(fmt::format("{}/return/conductor={} mm2", at, other(*run.back.conductor)));
    break;
  }
  case Parameter::ambient:
    sets.push_back(fmt::format("{}/ambient={} °C", at,
                               to_end ? (move.larger ? 200 : -60)
                                      : in_celsius(section.ambient) + (move.larger ? 15 : -15)));
    break;
  case Parameter::circuits_together:
    sets.push_back(
        fmt::format("{}/circuits_together={}", at,
                    to_end ? (move.larger ? 100 : 1)
                           : std::max(1, section.circuits_together + (move.larger ? 2 : -2))));
    break;
  case Parameter::joints:
    sets.push_back(fmt::format("{}/joints={}", at,
                               to_end ? (move.larger ? 1000 : 0)
                                      : std::max(0, run.joints + (move.larger ? 2 : -2))));
    break;
  case Parameter::joint_resistance:
    if (run.joint_resistance)
      sets.push_back(fmt::format("{}/joint_resistance={} ohm", at,
                                 scaled(run.joint_resistance->value(), 3, move, {0, 10})));
    break;
  case Parameter::device_rating:
    for (std::size_t i = 0; i < run.protection.size(); ++i)
      sets.push_back(fmt::format("{}/protection/{}/rating={} A", at, i,
                                 next_in(ratings_a, run.protection[i].rating.value(), move)));
    break;
  case Parameter::distance:
    for (std::size_t i = 0; i < run.protection.size(); ++i)
      sets.push_back(fmt::format(
          "{}/protection/{}/distance={} m", at, i,
          scaled(run.protection[i].distance->value(), 1.5, move, {0, run.length.value()})));
    break;
  default: break;
  }
  return sets;
}

inline std::vector<std::string> moved_loads(const design::Design& d, const Move& move) {
  std::vector<std::string> sets;
  for (const auto& a : d->appliances) {
    sets.push_back(fmt::format("appliance/{}/power={} W", a.name,
                               scaled(a.power.value(), 1.3, move, {0.01, 20e3})));
    if (a.starting)
      sets.push_back(fmt::format("appliance/{}/starting/current={} A", a.name,
                                 scaled(a.starting->current.value(), 1.3, move, {0.01, 2e3})));
  }
  return sets;
}

/// Of the batteries and of what is promised of them.
inline std::vector<std::string> moved_bank(const Opened& one, const Move& move) {
  const auto& bank = *one.design->bank;
  const bool to_end = move.reach == Reach::end, promised = one.node.at("promise") != nullptr;
  const double low = bank.low ? bank.low->value() : 2e-3,
               high = bank.high ? bank.high->value() : 5e-3;
  switch (move.parameter) {
  case Parameter::batteries:
    return {fmt::format("bank/quantity={}",
                        to_end ? (move.larger ? 64 : 1)
                               : std::max(1, bank.parallel + (move.larger ? 1 : -1)))};
  case Parameter::bank_age:
    if (!promised) return {};
    return {fmt::format("promise/bank_age={} y",
                        to_end ? (move.larger ? 30 : 0) : (move.larger ? 15 : 5))};
  case Parameter::reserve:
    if (!promised) return {};
    return {fmt::format("promise/reserve={} %",
                        to_end ? (move.larger ? 95 : 0) : (move.larger ? 30 : 5))};
  case Parameter::battery_resistance_low:
    return {fmt::format("bank/resistance/low={} ohm", scaled(low, 1.4, move, {1e-5, high}))};
  case Parameter::battery_resistance_high:
    return {fmt::format("bank/resistance/high={} ohm", scaled(high, 1.4, move, {low, 1}))};
  case Parameter::charge_limit:
    if (!bank.charge_limit) return {};
    return {fmt::format("bank/charge_limit={} A",
                        scaled(bank.charge_limit->value(), 1.4, move, {0.1, 5e3}))};
  case Parameter::discharge_limit:
    if (!bank.discharge_limit) return {};
    return {fmt::format("bank/discharge_limit={} A",
                        scaled(bank.discharge_limit->value(), 1.4, move, {0.1, 5e3}))};
  default: return {};
  }
}

/// Modules come and go by whole strings.
inline std::vector<std::string> moved_site(const Opened& one, const Move& move) {
  std::vector<std::string> sets;
  const auto& d = *one.design;
  const bool to_end = move.reach == Reach::end;
  if (move.parameter == Parameter::array)
    for (const auto& a : d.arrays) {
      const int least = std::max(1, a.in_series), most = 64 / least * least;
      const int step = std::max(1, a.modules + (move.larger ? 3 : -1));
      sets.push_back(
          fmt::format("array/{}/modules={}", a.name, to_end ? (move.larger ? most : least) : step));
    }
  if (move.parameter == Parameter::record_low && one.node.at("place/record_low"))
    sets.push_back(fmt::format("place/record_low={} °C",
                               to_end ? (move.larger ? 15 : -60) : (move.larger ? 0 : -20)));
  return sets;
}

/// The overrides that move a parameter everywhere in the design.
inline std::vector<std::string> moved(const Opened& one, const Move& move) {
  const auto& d = *one.design;
  std::vector<std::string> sets;
  const auto add = [&](std::vector<std::string> more) {
    for (std::string& set : more) sets.push_back(std::move(set));
  };
  if (move.parameter == Parameter::load) add(moved_loads(one.design, move));
  if (d.bank) add(moved_bank(one, move));
  add(moved_site(one, move));
  for (const auto& run : d.runs) add(moved(one, run, move));
  return sets;
}

/// Nothing where the design cannot be: a size or a rating that is not made.
inline std::optional<Opened> tried(const std::string& file, const std::vector<std::string>& sets) {
  Diagnostics problems;
  return design::open_design(file, examples::from_disk, sets, examples::shipped(),
                             Defaults::ordinary, problems);
}

/// The worst verdict of each rule on each subject.
using WorstOfEach = std::map<std::pair<std::string, std::string>, Verdict>;
inline WorstOfEach verdicts_of(const Checked& checked) {
  WorstOfEach worst;
  for (const Finding& f : checked.findings) {
    auto& at = worst[{std::string(f.rule), f.subject.text()}];
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

/// What is beyond a limit stays so when it is made worse: no pass; and a fail does not go unsaid,
/// though it may be said of another part of the van.
inline bool stays_beyond(const WorstOfEach& after, const std::string& rule, Verdict was,
                         const std::optional<Verdict>& now) {
  if (was < Verdict::fail || (now && *now >= Verdict::caution)) return now != Verdict::pass;
  return !now && std::any_of(after.begin(), after.end(), [&](const auto& one) {
    return one.first.first == rule && one.second == Verdict::fail;
  });
}

inline void hold(const WorstOfEach& before, const WorstOfEach& after, const Move& move,
                 Held& held) {
  for (const auto& entry_before : before) {
    const auto& [rule, subject] = entry_before.first;
    const Verdict was = entry_before.second;
    const auto found = after.find(entry_before.first);
    const std::optional<Verdict> now =
        found == after.end() ? std::nullopt : std::optional(found->second);
    const Effect effect = effect_on(rule, move.parameter);
    if (effect == Effect::not_monotone) continue;
    Count& count = held.counts[{rule, move.parameter}];
    bool good = true;
    if (effect == Effect::none) {
      if (!now) continue;
      // Where nothing works any more, what would not change is not known.
      const bool unknown =
          move.reach == Reach::end && was == Verdict::pass && *now == Verdict::not_checked;
      good = *now == was || unknown;
      ++count.untouched;
    } else if ((effect == Effect::worse) == move.larger) {
      if (was < Verdict::caution) continue;
      good = stays_beyond(after, rule, was, now);
      ++count.worsened;
    } else if (was == Verdict::pass && now) {
      good = *now < Verdict::caution;
      ++count.bettered;
    }
    if (!good)
      held.broken.push_back(
          fmt::format("{} on {}: {} {} where {} is {}", rule, subject, word_of(was),
                      now ? "becomes " + std::string(word_of(*now)) : std::string("vanishes"),
                      names[std::size_t(move.parameter)],
                      std::string(move.larger ? "larger" : "smaller") +
                          (move.reach == Reach::end ? ", to the end of its range" : "")));
  }
}

}  // namespace housepower::checks::test

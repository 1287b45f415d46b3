// SPDX-License-Identifier: Apache-2.0
// What the program supplied under a pass of safety: of the keys that a rule leans on, those that nobody
// stated and that reach the finding.
#pragma once

#include <array>
#include <map>
#include <utility>

#include "common.hpp"

namespace housepower::checks {

/// Asked of every finding of a design, so what is supplied is sorted once.
class Resting {
public:
  explicit Resting(const Evidence&);
  ~Resting();
  /// "insulation = 60 °C, lowest_voltage = 10.5 V of 3 appliances"; empty where it rests on none, and
  /// where the finding is no pass of safety.
  [[nodiscard]] std::string under(const Rule&, const Finding&) const;

private:
  /// A supplied key, and of which thing of its kind it is; -1: of a table.
  struct Value {
    Subject::Kind kind;
    int index;
    std::string key;  // numbers of lists within are left out
    const Assumption* supplied;
    std::string_view thing;  // "run/fridge"
  };
  /// A consumer in a case, with the runs through which it is fed, by their numbers.
  struct Fed;
  struct Reach;
  [[nodiscard]] const Reach& reach_of(const Finding&) const;
  [[nodiscard]] Reach reach_of_bank() const;
  [[nodiscard]] Reach reach_of_run(std::span<const Fed* const> through_it) const;
  void find_reaches();
  [[nodiscard]] static bool reaches(const Value&, const Leaning&, const Finding&, const Reach&);
  [[nodiscard]] static std::string told(const std::vector<const Value*>&, const Finding&);
  [[nodiscard]] std::string unstated_case(const Rule&, const Finding&) const;

  const Evidence& e_;
  std::vector<Subject> things_{};
  std::vector<Value> values_{};
  std::map<std::pair<Subject::Kind, std::string_view>, std::vector<const Value*>> by_key_{};
  std::vector<Reach> of_runs_;    // by run
  std::vector<Reach> of_others_;  // of the bank; of all else
};

/// The keys of a rule from lists that it shares with others.
template <std::size_t... n>
[[nodiscard]] constexpr auto leanings(const std::array<Leaning, n>&... lists) {
  std::array<Leaning, (n + ...)> all{};
  std::size_t at = 0;
  const auto add = [&](const auto& list) {
    for (const Leaning& one : list) all[at++] = one;
  };
  (add(lists), ...);
  return all;
}

/// The same, also of the runs and the bank through which a run is fed.
template <std::size_t n> [[nodiscard]] constexpr auto on_the_way(std::array<Leaning, n> list) {
  for (Leaning& one : list) one.on_the_way = true;
  return list;
}

using LeanKind = Subject::Kind;
/// How a run lies: its ampacity.
inline constexpr std::array lean_on_lie{Leaning{LeanKind::run, "insulation"},
                                        Leaning{LeanKind::run, "insulation_material"},
                                        Leaning{LeanKind::run, "laid"},
                                        Leaning{LeanKind::run, "ambient"},
                                        Leaning{LeanKind::run, "circuits_together"},
                                        Leaning{LeanKind::run, "conductor"},
                                        Leaning{LeanKind::run, "return/conductor"}};
/// The resistance on the way: joints, items, and how warm conductors get as they lie.
inline constexpr auto lean_on_way = on_the_way(leanings(
    std::array{Leaning{LeanKind::run, "joints"}, Leaning{LeanKind::run, "joint_resistance"},
               Leaning{LeanKind::run, "inline/resistance"}},
    lean_on_lie));
/// What draws, at the voltage at which it draws most.
inline constexpr std::array lean_on_loads{
    Leaning{LeanKind::appliance, "lowest_voltage"}, Leaning{LeanKind::inverter, "cut_out"},
    Leaning{LeanKind::inverter, "ripple"},          Leaning{LeanKind::inverter, "no_load"},
    Leaning{LeanKind::inverter, "loss/k"},          Leaning{LeanKind::charger, "efficiency"},
    Leaning{LeanKind::charger, "input_cut_out"},    Leaning{LeanKind::charger, "charge_voltage"}};
/// What loads draw at the voltage that the network gives them.
inline constexpr std::array lean_on_behaviour{Leaning{LeanKind::appliance, "behaves"}};
/// How the batteries share, and what links and leads carry of it.
inline constexpr std::array lean_on_sharing{Leaning{LeanKind::bank, "resistance/low"},
                                            Leaning{LeanKind::bank, "resistance/high"},
                                            Leaning{LeanKind::bank, "links/positive/resistance"},
                                            Leaning{LeanKind::bank, "links/negative/resistance"},
                                            Leaning{LeanKind::bank, "each_battery/lead/resistance"},
                                            Leaning{LeanKind::bank, "takeoff_from"}};
/// How old the batteries count as.
inline constexpr std::array lean_on_age{
    Leaning{LeanKind::promise, "bank_age"}, Leaning{LeanKind::bank, "cycles_per_year"},
    Leaning{LeanKind::bank, "cycle_depth"}, Leaning{LeanKind::bank, "storage/charge"},
    Leaning{LeanKind::bank, "storage/temperature"}};
/// How full and how warm the cells are when it is asked.
inline constexpr std::array lean_on_case{Leaning{LeanKind::load_case, "charge"},
                                         Leaning{LeanKind::load_case, "temperature"}};
/// What the links, leads and devices of single batteries lean on.
inline constexpr auto lean_on_bank_parts = leanings(lean_on_sharing, lean_on_age);
inline constexpr std::array lean_on_low_feed{Leaning{LeanKind::feed, "voltage/low"}};
inline constexpr std::array lean_on_high_feed{Leaning{LeanKind::feed, "voltage/high"}};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// The search: from the cheapest pick up, for each level of the promise.
//
// How it works. Every combination of the slots is a pick; those within the limits of mass and roof are
// ranked by cost. For each level the list is walked from the cheapest on, and each pick is asked what
// might refuse it, the cheap questions first: inverter, array voltages, tow line; then the chance that
// even a store without losses would have, one pass over the weather for all sizes of bank; then days
// without charging and the daily balance; the hourly simulation last. The first that keeps the level is
// fitted with conductors and judged by every rule. If a rule refuses it, the walk begins again, past
// it. So what is shown is the cheapest that stands, provided that the bound is never too low: such a
// bound would turn away what the simulation keeps. Answers are kept by pick, for the levels ask alike.
#pragma once

#include "judge.hpp"

namespace housepower::pack::inside {

/// What a case, or an appliance alone, asks of an inverter, volt-amperes; and its largest start.
struct InverterNeed {
  double steady_VA = 0.0, start_VA = 0.0, start_s = 0.0;
};
[[nodiscard]] InverterNeed need_of(const design::Design&, int inverter);

struct Ranked {
  double cost = 0.0;
  std::size_t number = 0;
};

class Finder {
public:
  Finder(const Space&, Judge&, const PackQuestion&, const std::vector<InverterNeed>&,
         double promise, const energy::Each&);

  /// The cheapest that reaches a level and has not been refused, up to a cost.
  [[nodiscard]] std::optional<Pick> cheapest(double level, double most_cost);
  /// What keeps a pick from a level, without its wiring; empty where nothing does.
  [[nodiscard]] std::string why_not(const Pick&, double level);
  /// Wires and judges those that were not yet; several at once. Refused ones are remembered.
  void judge(const std::vector<Pick>&);
  [[nodiscard]] bool is_refused(const Pick&, double level) const;
  /// Something else than energy keeps it from every level: its parts, or a rule.
  [[nodiscard]] bool is_unfit(const Pick&);
  [[nodiscard]] const PackChoice& choice(const Pick& pick) const { return choices_.at(pick); }
  [[nodiscard]] const std::vector<Ranked>& ranked() const { return ranked_; }

  Effort effort;
  static constexpr const char* by_bound = "even with no losses it falls short";
  static constexpr const char* short_of_it = "simulated, it falls short";

private:
  [[nodiscard]] std::string too_small_inverter(const Pick&) const;

  const Space& space_;
  Judge& judge_;
  const PackQuestion& question_;
  const std::vector<InverterNeed>& needs_;
  double promise_;
  const energy::Each& each_;
  std::vector<Ranked> ranked_;
  std::map<Pick, std::string> refused_;
  std::map<Pick, PackChoice> choices_;
};

/// The levels at which the least pack is shown, rising: the promise itself among them.
[[nodiscard]] std::vector<double> levels_for(const Asked&);

/// The least pick of each level: found by simulation, judged, and looked for again where a rule
/// refuses it, until all stand.
[[nodiscard]] std::vector<std::optional<Pick>> curve(Finder&, const std::vector<double>& levels,
                                                     std::size_t promised, const PackQuestion&,
                                                     const Space&);

}  // namespace housepower::pack::inside

// SPDX-License-Identifier: Apache-2.0
// What the steps of a diagnosis hand on: candidates for a cause, those that were fitted, and the search.
#pragma once

#include <cmath>

#include "diagnosis_fit.hpp"

namespace housepower::wiring::inside {

/// From here a cause is told.
inline const double log_least_odds = std::log(double(least_odds));

struct Candidate {
  Cause::Is is;
  design::Subject element;
  Unknown added;  // a wrong reading adds none
  std::optional<RunId> run{};
  design::Pole pole = design::Pole::outgoing;
  std::size_t read = 0;  // of a wrong or reversed reading
  double log_prior = 0;
};

[[nodiscard]] inline bool is_of_reading(const Candidate& c) {
  return c.is == Cause::Is::reading || c.is == Cause::Is::reversed;
}

/// All that a diagnosis works on.
struct Work {
  const design::Design& d;
  const Assessment& a;
  const std::vector<MeasuredCase>& given;
  std::vector<CaseModel> cases{};
  std::vector<Unknown> sound{};
  std::vector<Candidate> candidates{};
  Diagnosis out{};

  [[nodiscard]] const CaseModel& first() const { return cases.front(); }
  [[nodiscard]] bool live(std::size_t branch) const {
    return std::any_of(cases.begin(), cases.end(),
                       [&](const CaseModel& c) { return c.live(branch); });
  }
};

inline constexpr double joint_linear = 0.02;  // ohms, a joint among many that are looked at at once

// ---- diagnosis_candidates.cpp

/// Unknowns of a sound van and the candidates for a fault; poles without a current could hide any.
void add_unknowns(Work&);
/// Each reading may be wrong itself; then every candidate gets its weight.
void add_wrong_readings(Work&, const std::vector<Row>&);
/// What a reading is wrong by itself beforehand, among so many.
[[nodiscard]] double log_misread(std::size_t readings);
/// Within so much a wrong reading may lie.
[[nodiscard]] double anywhere(const Row&, const ReadPoint&);
/// Standard deviation of a reading, beside the gain of its range.
[[nodiscard]] double sd_of(const Meter&, const Spot&, double value);

// ---- diagnosis_search.cpp

/// A hypothesis that was fitted, with the candidates in it.
struct Tried {
  std::vector<std::size_t> candidates;
  Fitted fitted;
  Linear linear;  // where it ends
  double log_odds = 0;
};

/// The hypotheses that explain the readings best.
class Search {
public:
  Search(Work&, Fitting&);
  /// False: the sound van has no operating point.
  [[nodiscard]] bool run();
  [[nodiscard]] const Tried& sound() const { return sound_; }
  [[nodiscard]] const std::vector<Tried>& singles() const { return singles_; }  // likeliest first
  [[nodiscard]] const std::vector<Tried>& pairs() const { return pairs_; }      // likeliest first
  /// One candidate or two; it may still be less likely than nothing being wrong.
  [[nodiscard]] const std::optional<Tried>& best() const { return best_; }
  /// Columns of all candidates where a fit ends; those of wrong readings are empty.
  [[nodiscard]] std::vector<Values> columns_at(const Tried&);

private:
  struct Promise;
  [[nodiscard]] std::vector<Promise> promises(const Tried& beside);
  [[nodiscard]] Hypothesis with(Hypothesis, const Promise&) const;
  [[nodiscard]] std::optional<Tried> exactly(const Fitted&, std::vector<std::size_t> candidates);
  [[nodiscard]] double odds_of(const Tried&) const;
  [[nodiscard]] std::vector<Tried> tried(const std::vector<Promise>&, const Tried& beside,
                                         std::size_t most);
  void refine(std::vector<Tried>&);
  void look_for_pairs();

  Work& w_;
  Fitting& fitting_;
  std::vector<Unknown> unknowns_{};  // of the candidates
  Tried sound_{};
  std::vector<Tried> singles_{}, pairs_{};
  std::optional<Tried> best_{};
};

// ---- diagnosis_telling.cpp

/// What is told: causes, what they cannot be told from, what could hide, what to read next.
void tell(Work&, Fitting&, Search&);

}  // namespace housepower::wiring::inside

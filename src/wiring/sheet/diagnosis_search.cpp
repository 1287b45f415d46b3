// SPDX-License-Identifier: Apache-2.0
// Looks at every candidate along straight lines, and fits those that promise most.
#include <algorithm>

#include "diagnosis_work.hpp"

namespace housepower::wiring::inside {
namespace {

constexpr std::size_t most_fits = 8, most_exact = 4, most_beside = 4, most_first = 3;

}  // namespace

/// What a candidate would gain beside a fit, as far as straight lines tell; and how large it is.
struct Search::Promise {
  std::size_t candidate;
  double gain, estimate;
};

Search::Search(Work& w, Fitting& fitting) : w_(w), fitting_(fitting) {
  for (const Candidate& c : w_.candidates) unknowns_.push_back(c.added);
}

bool Search::run() {
  const Values start = fitting_.start_of({});
  const auto base = fitting_.linearised({}, start);
  const auto sound = base ? fitting_.fit({}, *base, start) : std::nullopt;
  auto exact = sound ? exactly(*sound, {}) : std::nullopt;
  if (!exact) return false;
  sound_ = std::move(*exact);
  sound_.log_odds = 0.0;
  // Where one thing alone is wrong the others are as expected: a sound van's fit is bent by it.
  const auto expected = fitting_.unfitted();
  if (!expected) return false;
  const Tried as_expected{{}, *expected, *base};
  singles_ = tried(promises(as_expected), as_expected, most_fits);
  refine(singles_);
  if (singles_.empty()) return true;
  best_ = singles_.front();
  if (best_->log_odds >= log_least_odds) look_for_pairs();
  return true;
}

std::vector<Values> Search::columns_at(const Tried& t) {
  std::vector<Values> columns(w_.candidates.size());
  const auto rows = fitting_.columns(t.fitted.hypothesis, t.fitted.values, unknowns_);
  if (!rows) return columns;
  for (std::size_t k = 0; k < columns.size(); ++k)
    if (!unknowns_[k].of.empty())
      for (const Values& row : *rows) columns[k].push_back(row[k]);
  return columns;
}

std::vector<Search::Promise> Search::promises(const Tried& beside) {
  const auto columns = columns_at(beside);
  const Fitted& fitted = beside.fitted;
  std::vector<Values> wide;
  for (std::size_t a = 0; a < fitted.columns.size(); ++a) {
    wide.push_back(fitted.columns[a]);
    for (double& x : wide.back()) x *= fitted.hypothesis.added[a].sd;
  }
  for (const auto& [reading, open] : fitted.hypothesis.opened)
    wide.emplace_back(fitting_.rows().size(), 0.0)[reading] = open;
  const Widened c(beside.linear.covariance, wide);
  const Values weighted = c.solved(fitted.innovation);
  const Values diagonal = beside.linear.covariance.inverse_diagonal();
  std::vector<Promise> all;
  for (std::size_t k = 0; k < w_.candidates.size(); ++k) {
    const Candidate& one = w_.candidates[k];
    const bool joint = !one.added.of.empty() && one.added.is == Unknown::Is::extra;
    double info, along, sd;
    if (is_of_reading(one)) {
      const Row& row = fitting_.rows()[one.read];
      info = diagonal[one.read];
      along = weighted[one.read];
      sd = one.is == Cause::Is::reversed ? 2.0 * std::abs(row.measured)
                                         : anywhere(row, w_.out.readings[one.read]);
    } else {
      if (columns[k].empty()) continue;
      info = dot(columns[k], c.solved(columns[k]));
      along = dot(columns[k], weighted);
      sd = joint ? joint_linear : one.added.sd;
    }
    if (!(info > 0.0) || !(sd > 0.0)) continue;
    const double estimate = along / (info + 1.0 / (sd * sd));
    if (joint && estimate <= 0.0) continue;
    all.push_back(
        {k, 0.5 * along * estimate - 0.5 * std::log1p(sd * sd * info) + one.log_prior, estimate});
  }
  std::sort(all.begin(), all.end(),
            [](const Promise& x, const Promise& y) { return x.gain > y.gain; });
  return all;
}

Hypothesis Search::with(Hypothesis h, const Promise& promise) const {
  const Candidate& c = w_.candidates[promise.candidate];
  if (c.is == Cause::Is::reading) {
    h.opened.emplace_back(c.read, anywhere(fitting_.rows()[c.read], w_.out.readings[c.read]));
  } else if (c.is == Cause::Is::reversed) {
    h.reversed.push_back(c.read);
  } else {
    const double size = promise.estimate;
    h.added.push_back(c.added);
    h.start.push_back(c.added.is == Unknown::Is::extra  ? std::log(std::clamp(size, 3e-4, 0.3))
                      : c.added.is == Unknown::Is::open ? size
                                                        : std::log1p(std::clamp(size, -0.9, 3.0)));
  }
  return h;
}

/// With derivatives where it ends.
std::optional<Tried> Search::exactly(const Fitted& f, std::vector<std::size_t> candidates) {
  auto linear = fitting_.linearised(f.hypothesis, f.values);
  if (!linear) return std::nullopt;
  auto again = fitting_.fit(f.hypothesis, *linear, f.values);
  if (!again) return std::nullopt;
  Tried t{std::move(candidates), std::move(*again), std::move(*linear)};
  t.log_odds = odds_of(t);
  return t;
}

double Search::odds_of(const Tried& t) const {
  double odds = t.fitted.log_evidence - sound_.fitted.log_evidence;
  for (const std::size_t k : t.candidates) odds += w_.candidates[k].log_prior;
  return odds;
}

std::vector<Tried> Search::tried(const std::vector<Promise>& promises, const Tried& beside,
                                 std::size_t most) {
  constexpr double hopeless = -3.0;
  std::vector<Tried> all;
  const Hypothesis& before = beside.fitted.hypothesis;
  Linear chord = beside.linear;
  chord.added.clear();
  for (const Promise& p : promises) {
    if (all.size() == most || p.gain < hopeless) break;
    if (std::find(beside.candidates.begin(), beside.candidates.end(), p.candidate) !=
        beside.candidates.end())
      continue;
    const Hypothesis h = with(before, p);
    // Sound parts start as expected: the fit beside was bent by what this one may explain.
    Values start = fitting_.start_of({});
    start.insert(start.end(),
                 beside.fitted.values.begin() + std::ptrdiff_t(fitting_.sound().size()),
                 beside.fitted.values.end());
    if (h.added.size() > before.added.size()) start.push_back(h.start.back());
    auto fitted = fitting_.fit(h, chord, start);
    if (!fitted) continue;
    Tried one{beside.candidates, std::move(*fitted), {}};
    one.candidates.push_back(p.candidate);
    one.log_odds = odds_of(one);
    all.push_back(std::move(one));
  }
  return all;
}

/// The likeliest again with their own derivatives; the others go.
void Search::refine(std::vector<Tried>& all) {
  const auto likelier = [](const Tried& x, const Tried& y) { return x.log_odds > y.log_odds; };
  constexpr double may_rise = 5.0;
  std::sort(all.begin(), all.end(), likelier);
  for (std::size_t i = 0; i < all.size() && i < most_exact; ++i)
    if (all[i].log_odds > log_least_odds - may_rise)
      if (auto again = exactly(all[i].fitted, all[i].candidates)) all[i] = std::move(*again);
  std::erase_if(all, [](const Tried& t) { return t.linear.rows.empty(); });
  std::sort(all.begin(), all.end(), likelier);
}

/// Beside each of the likeliest.
void Search::look_for_pairs() {
  std::vector<Tried> pairs;
  for (std::size_t i = 0; i < singles_.size() && i < most_first; ++i) {
    const auto next = promises(singles_[i]);
    constexpr double may_rise = 3.0;
    if (next.empty() || next.front().gain < log_least_odds - may_rise) continue;
    auto found = tried(next, singles_[i], most_beside);
    pairs.insert(pairs.end(), found.begin(), found.end());
  }
  refine(pairs);
  pairs_ = std::move(pairs);
  if (!pairs_.empty() && pairs_.front().log_odds >= best_->log_odds + log_least_odds)
    best_ = pairs_.front();
}

}  // namespace housepower::wiring::inside

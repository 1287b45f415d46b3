// SPDX-License-Identifier: Apache-2.0
#include "nearest.hpp"

#include <algorithm>

namespace housepower::pack::inside {
namespace {

/// So many of the most promising are simulated whole.
constexpr std::size_t looked_at = 6;

/// Those that could keep most come first, of like ones the dearest.
std::vector<Pick> most_promising(const Space& space, Finder& finder, Judge& judge) {
  std::vector<std::pair<double, Pick>> picks;
  for (auto r = finder.ranked().rbegin(); r != finder.ranked().rend(); ++r) {
    const Pick pick = space.pick(r->number);
    if (!finder.is_unfit(pick)) picks.emplace_back(judge.at_best(pick), pick);
  }
  std::stable_sort(picks.begin(), picks.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Pick> first;
  const auto add_first = [&] {
    for (std::size_t i = 0; i < std::min(looked_at, picks.size()); ++i)
      first.push_back(picks[i].second);
  };
  add_first();
  // At its best an array may promise more than it pushes: also those that kept most where tried.
  std::erase_if(picks, [&](const auto& one) { return !judge.was_simulated(one.second); });
  for (auto& [value, pick] : picks) value = judge.measure(pick);
  std::stable_sort(picks.begin(), picks.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  add_first();
  return first;
}

std::vector<PromiseKept> promises_kept(const design::Design& own, const Asked& asked,
                                       const std::optional<Duration>& stay, Ratio chance,
                                       const std::optional<Duration>& autonomy) {
  std::vector<PromiseKept> list;
  if (asked.stay)
    list.push_back(
        {PromiseKept::What::stay, asked.length, stay.value_or(Duration{}), asked.chance, chance});
  if (const auto& without = own->promise.autonomy)
    list.push_back({PromiseKept::What::autonomy, *without, autonomy.value_or(Duration{})});
  return list;
}

/// Of a promise, at most the whole: of its length, and of the chance of that where one is promised.
double share_kept(const PromiseKept& one) {
  const double length = std::min(1.0, double(one.kept / one.asked));
  if (!one.chance || !(double(one.asked_chance) > 0.0)) return length;
  return (length + std::min(1.0, double(*one.chance / one.asked_chance))) / 2.0;
}

/// The share of the promise that is kept least.
double share_kept(const std::vector<PromiseKept>& promises) {
  double least = 1.0;
  for (const auto& one : promises) least = std::min(least, share_kept(one));
  return least;
}

bool all_kept(const std::vector<PromiseKept>& promises) {
  return std::none_of(promises.begin(), promises.end(),
                      [](const auto& one) { return one.is_broken(); });
}

std::vector<Addition> additions_to(const design::Design& own, Judge& judge, const Pick& pick,
                                   double share_now) {
  std::vector<std::pair<double, Addition>> helping;
  for (const Relief& relief : judge.reliefs_of(pick)) {
    auto tried = judge.with_relief(pick, relief);
    if (!tried) continue;
    const auto promises = promises_kept(own, judge.asked(), tried->stay,
                                        tried->chance.value_or(0.0), tried->autonomy);
    const double share = share_kept(promises);
    tried->suffices = all_kept(promises);
    if (share > share_now + 1e-9) helping.emplace_back(share, *std::move(tried));
  }
  std::stable_sort(helping.begin(), helping.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Addition> list;
  for (auto& one : helping) list.push_back(std::move(one.second));
  return list;
}

}  // namespace

std::optional<Nearest> nearest_of(const design::Design& own, const Space& space, Finder& finder,
                                  Judge& judge) {
  std::optional<Nearest> nearest;
  std::optional<Pick> its;
  double most = -1.0;
  for (const Pick& pick : most_promising(space, finder, judge)) {
    const Kept kept = judge.kept_whole(pick);
    if (kept.stay == Duration{} && !kept.autonomy) continue;  // it is no design
    auto promises = promises_kept(own, judge.asked(), kept.stay, kept.chance, kept.autonomy);
    const double share = share_kept(promises);
    if (share <= most) continue;
    most = share, its = pick;
    nearest = Nearest{pack_of(space, pick), kept, std::move(promises), {}};
  }
  if (nearest) nearest->additions = additions_to(own, judge, *its, most);
  return nearest;
}

}  // namespace housepower::pack::inside

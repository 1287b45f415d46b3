// SPDX-License-Identifier: Apache-2.0
// Ranks all picks, asks the cheap questions before the dear ones, and judges what is left.
#include "find.hpp"

#include <algorithm>
#include <utility>

#include "housepower/units/unit.hpp"
#include "housepower/wiring/starting.hpp"

namespace housepower::pack::inside {
namespace {

using What = Slot::What;

// Shares of stays, and of the promised autonomy, for which the least pack is shown beside the
// promise itself.
constexpr std::array levels_of_chance{0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 0.995};
constexpr std::array levels_of_autonomy{0.5, 0.75, 1.25, 1.5, 2.0};
// Beyond the best choice the curve goes on to so much of its mass or price.
constexpr double curve_ends = 1.5;

}  // namespace

InverterNeed need_of(const design::Design& d, int inverter) {
  using design::resolved::ApplianceId;
  const design::resolved::InverterId id{inverter};
  InverterNeed need;
  // As the rules ask it: of a start what runs beside it, without the starter's own running power.
  const auto add = [&](wiring::LoadCase c) {
    const auto starter = std::exchange(c.starting, std::nullopt);
    need.steady_VA = std::max(need.steady_VA, double(wiring::asked_together(d, c, id) / watt));
    if (!starter) return;
    const auto& a = d[*starter];
    if (!a.starting || !a.inverter || !(*a.inverter == id)) return;
    c.starting = starter;
    need.start_VA = std::max(need.start_VA, double(wiring::asked_at_start(d, c, id) / watt));
    need.start_s = std::max(need.start_s, double(a.starting->time / second));
  };
  for (const auto& c : d->cases) add({.name = {}, .running = c.running, .starting = c.starting});
  const auto fullest = energy::fullest_hour(d);
  if (d->cases.empty())
    add({.name = {}, .running = fullest.running, .starting = fullest.largest_starter});
  for (std::size_t i = 0; i < d->appliances.size(); ++i) {
    const ApplianceId own{int(i)};
    add({.name = {}, .running = {own}, .starting = own});
  }
  return need;
}

Finder::Finder(const Space& space, Judge& judge, const PackQuestion& question,
               const std::vector<InverterNeed>& needs, double promise, const energy::Each& each)
    : space_(space), judge_(judge), question_(question), needs_(needs), promise_(promise),
      each_(each) {
  const std::size_t all = space.size();
  effort.choices = all;
  for (std::size_t n = 0; n < all; ++n) {
    const Pick pick = space.pick(n);
    if (beyond_limit(space, pick).empty()) ranked_.push_back({space.cost(pick), n});
  }
  effort.within = ranked_.size();
  std::stable_sort(ranked_.begin(), ranked_.end(),
                   [](const Ranked& a, const Ranked& b) { return a.cost < b.cost; });
}

std::optional<Pick> Finder::cheapest(double level, double most_cost) {
  for (const Ranked& r : ranked_) {
    if (r.cost > most_cost) break;
    Pick pick = space_.pick(r.number);
    if (refused_.count(pick) == 0 && why_not(pick, level).empty()) return pick;
    if (judge_.simulated > question_.most_simulated) {
      effort.complete = false;
      break;
    }
  }
  return std::nullopt;
}

std::string Finder::why_not(const Pick& pick, double level) {
  if (const auto refused = refused_.find(pick); refused != refused_.end()) return refused->second;
  if (std::string why = too_small_inverter(pick); !why.empty()) return why;
  if (!judge_.electrically_sound(pick)) return "the controller is not rated for the array";
  if (!judge_.tow_line_sound(pick))
    return "the line from the tow vehicle cannot carry the charger's current";
  if (question_.bounded && judge_.at_best(pick) < level) return by_bound;
  if (std::string why = judge_.falls_short(pick); !why.empty()) return why;
  if (judge_.measure(pick) < level - 1e-12) return short_of_it;
  const auto made = choices_.find(pick);
  return made == choices_.end() || level < promise_ ? std::string() : made->second.falls_short;
}

void Finder::judge(const std::vector<Pick>& picks) {
  std::vector<Pick> open;
  for (const Pick& pick : picks)
    if (choices_.count(pick) == 0 && std::find(open.begin(), open.end(), pick) == open.end())
      open.push_back(pick);
  std::vector<PackChoice> made(open.size());
  each_(int(open.size()),
        [&](int i) { made[std::size_t(i)] = judge_.judged(open[std::size_t(i)]); });
  for (std::size_t i = 0; i < open.size(); ++i) {
    if (!made[i].against.empty()) refused_.emplace(open[i], made[i].against);
    choices_.emplace(open[i], std::move(made[i]));
  }
  effort.judged += open.size();
}

bool Finder::is_unfit(const Pick& pick) {
  return refused_.count(pick) > 0 || !too_small_inverter(pick).empty() ||
         !judge_.electrically_sound(pick) || !judge_.tow_line_sound(pick);
}

bool Finder::is_refused(const Pick& pick, double level) const {
  if (refused_.count(pick) > 0) return true;
  return level >= promise_ && !choices_.at(pick).falls_short.empty();
}

std::string Finder::too_small_inverter(const Pick& pick) const {
  for (std::size_t i = 0; i < pick.size(); ++i) {
    const Slot& slot = space_.slots[i];
    if (slot.what != What::inverter || !slot.options[pick[i]].part) continue;
    const auto& part = std::get<design::Inverter>(slot.options[pick[i]].part->is);
    const auto& list = space_.document.inverter;
    for (std::size_t k = 0; k < list.size(); ++k) {
      if (list[k].name != slot.name) continue;
      const bool long_enough = part.surge && part.surge->time / second >= needs_[k].start_s;
      const double most = long_enough ? part.surge->power / watt : part.rating / watt;
      if (part.rating / watt < needs_[k].steady_VA || most < needs_[k].start_VA)
        return "inverter: " + print(Number(part.rating)) + " is less than what runs on it";
    }
  }
  return {};
}

std::vector<double> levels_for(const Asked& asked) {
  std::vector<double> levels{asked.stay ? double(asked.chance) : 1.0};
  if (asked.stay) levels.insert(levels.end(), levels_of_chance.begin(), levels_of_chance.end());
  else levels.insert(levels.end(), levels_of_autonomy.begin(), levels_of_autonomy.end());
  std::sort(levels.begin(), levels.end());
  levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
  return levels;
}

/// The least pick of each level: found by simulation, judged, and looked for again where a rule
/// refuses it, until all stand.
std::vector<std::optional<Pick>> curve(Finder& finder, const std::vector<double>& levels,
                                       std::size_t promised, const PackQuestion& question,
                                       const Space& space) {
  std::vector<std::optional<Pick>> found(levels.size());
  for (bool again = true; again;) {
    again = false;
    std::vector<Pick> open;
    std::vector<double> at;
    double most = 1e300;
    for (std::size_t i = 0; i < levels.size(); ++i) {
      found[i] = finder.cheapest(levels[i], most);
      if (i == promised && !found[i]) break;  // nothing dearer is asked for more than that
      if (i == promised) most = curve_ends * space.cost(*found[i]);
      if (found[i]) open.push_back(*found[i]), at.push_back(levels[i]);
    }
    finder.judge(open);
    for (std::size_t i = 0; i < open.size(); ++i)
      again = again || finder.is_refused(open[i], at[i]);
    if (finder.effort.judged >= question.most_judged) finder.effort.complete = again = false;
  }
  for (std::size_t i = 0; i < found.size(); ++i)
    if (found[i] && finder.is_refused(*found[i], levels[i])) found[i].reset();
  return found;
}

}  // namespace housepower::pack::inside

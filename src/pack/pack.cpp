// SPDX-License-Identifier: Apache-2.0
// The answer: the least pick of each level, what one more or one less would do, what binds, or what
// stands in the way.
#include "housepower/pack/pack.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "find.hpp"
#include "housepower/units/unit.hpp"
#include "nearest.hpp"

namespace housepower::pack {
namespace inside {
namespace {

using What = Slot::What;

/// A pick with another option in a slot: the same part, so many more or fewer. The string length
/// as before where it divides, else any that the controller bears.
std::optional<Pick> moved(const Space& space, Judge& judge, const Pick& pick, std::size_t slot,
                          int count) {
  const auto& options = space.slots[slot].options;
  const Option& now = options[pick[slot]];
  std::optional<Pick> any;
  for (std::size_t i = 0; i < options.size(); ++i) {
    if (options[i].part != now.part || options[i].count != count) continue;
    Pick other = pick;
    other[slot] = std::uint16_t(i);
    if (!judge.electrically_sound(other)) continue;
    if (options[i].in_series == now.in_series) return other;
    if (!any) any = other;
  }
  return any;
}

std::string what_it_keeps(const Asked& asked, const Kept& k) {
  if (asked.stay)
    return print(Number(k.chance), 3) + " of stays last " + print(Number(asked.length)) + ", " +
           print(Number(asked.chance), 3) + " are promised";
  return "the bank lasts " + (k.autonomy ? print(Number(*k.autonomy)) : std::string("not at all")) +
         " without charging, " + print(Number(asked.length)) + " are promised";
}

/// Why a pick does not do, in words.
std::string why_not(const Space& space, Finder& finder, Judge& judge, const Pick& pick,
                    double level) {
  if (std::string limit = beyond_limit(space, pick); !limit.empty()) return limit;
  const std::string why = finder.why_not(pick, level);
  if (why == Finder::by_bound || why == Finder::short_of_it)
    return what_it_keeps(judge.asked(), judge.kept(pick));
  return why.empty() ? "it keeps the promise too" : why;
}

/// What is shown is of one month: of that searched in and the one that `check` found, which may be
/// another, where the chance is lower.
void complete(PackChoice& choice, Judge& judge, const Pick& pick) {
  const Kept& searched = judge.kept(pick);
  const Kept checked = choice.kept;
  const bool lower = choice.against.empty() && checked.chance < searched.chance;
  Kept found = searched;
  if (lower)
    found.chance = checked.chance, found.place = checked.place, found.month = checked.month;
  choice.kept = judge.kept_whole(pick, std::move(found));
}

struct PackStep {
  std::size_t slot;
  int by;
  const char *one, *many;
};
constexpr PackStep pack_steps[] = {{0, 1, "battery", "batteries"},
                                   {0, -1, "battery", "batteries"},
                                   {1, 1, "module", "modules"},
                                   {1, -1, "module", "modules"}};

/// The nearest larger or smaller number that can be arranged.
std::optional<Pick> next(const Space& space, Judge& judge, const Pick& best, const PackStep& s) {
  const int now = space.slots[s.slot].options[best[s.slot]].count;
  for (int by = 1; by <= 64 && now + s.by * by >= 1; ++by) {
    auto pick = moved(space, judge, best, s.slot, now + s.by * by);
    if (pick) return pick;
  }
  return std::nullopt;
}

std::string step_in_words(const Space& space, const Pick& best, const Pick& pick,
                          const PackStep& s) {
  const Option &now = space.slots[s.slot].options[best[s.slot]],
               &then = space.slots[s.slot].options[pick[s.slot]];
  const int by = std::abs(then.count - now.count) * (s.slot == 0 ? now.in_series : 1);
  return (by == 1 ? std::string("one ") + s.one : std::to_string(by) + " " + s.many) +
         (s.by > 0 ? " more" : " fewer");
}

void add_marginal(PackAnswer& a, const Space& space, Finder& finder, Judge& judge, const Pick& best,
                  double level) {
  std::vector<std::pair<const PackStep*, std::optional<Pick>>> picks;
  std::vector<Pick> open;
  for (const PackStep& s : pack_steps) {
    if (s.slot >= space.slots.size() || (s.slot == 1 && space.slots[1].what != What::array))
      continue;
    picks.emplace_back(&s, next(space, judge, best, s));
    const auto& pick = picks.back().second;
    if (pick && beyond_limit(space, *pick).empty()) open.push_back(*pick);
  }
  finder.judge(open);
  for (const auto& of_step : picks) {
    const PackStep& s = *of_step.first;
    const auto& pick = of_step.second;
    Marginal& m = a.marginal.emplace_back();
    if (!pick) {
      m.change = std::string(s.by > 0 ? "more " : "fewer ") + s.many;
      m.why_not = "none that can be arranged";
      continue;
    }
    m.change = step_in_words(space, best, *pick, s);
    m.why_not = beyond_limit(space, *pick);
    if (!m.why_not.empty()) continue;
    m.choice = finder.choice(*pick);
    complete(m.choice, judge, *pick);
    m.mass = m.choice.pack.mass - a.choices[*a.best].pack.mass;
    const auto &now = a.choices[*a.best].pack.price, &then = m.choice.pack.price;
    if (now && then) m.price = design::Money{then->amount - now->amount, now->currency};
    if (s.by < 0)
      a.binding.push_back(m.change + ": " + why_not(space, finder, judge, *pick, level));
  }
}

/// The nearest cheaper pick that was simulated, and what each limit has left.
void add_binding(PackAnswer& a, const Space& space, Finder& finder, Judge& judge, const Pick& best,
                 double level) {
  std::optional<Pick> nearest;
  for (const Ranked& r : finder.ranked()) {
    if (r.cost >= space.cost(best)) break;
    const Pick pick = space.pick(r.number);
    const std::string why = finder.why_not(pick, level);
    a.effort.by_bound += why == Finder::by_bound;
    a.effort.by_energy += why.starts_with("autonomy") || why.starts_with("balance");
    if (judge.was_simulated(pick) || why.starts_with("autonomy")) nearest = pick;
  }
  if (nearest) {
    const Pack pack = pack_of(space, *nearest);
    a.binding.push_back("the nearest below it, " + std::to_string(pack.batteries) + " × " +
                        pack.battery + " and " + std::to_string(pack.modules) + " × " +
                        pack.module + ": " + why_not(space, finder, judge, *nearest, level));
  }
  if (finder.ranked().front().cost >= space.cost(best))
    a.binding.push_back("nothing but what there is to choose from: no combination is less");
  const auto& allowed = space.document.vehicle.electrical_mass_allowance;
  const Mass mass = a.choices[*a.best].pack.mass;
  if (allowed)
    a.binding.push_back("mass: " + print(Number(mass)) + " of " + print(Number(*allowed)) +
                        ", before cable");
  double roof = space.kept_square_metres;
  for (std::size_t i = 0; i < best.size(); ++i)
    roof += space.slots[i].options[best[i]].square_metres;
  if (space.document.sizing && space.document.sizing->roof_area)
    a.binding.push_back("roof: " + print(Number(Area(roof * square_metre))) + " of " +
                        print(Number(*space.document.sizing->roof_area)));
}

/// Nothing keeps the promise: what comes nearest, and why the rest does not.
void add_why_none(PackAnswer& a, const Space& space, Finder& finder, Judge& judge, double level) {
  std::map<std::string, std::size_t> reasons;
  std::optional<Pick> nearest;
  double most = -1.0;
  for (const Ranked& r : finder.ranked()) {
    const Pick pick = space.pick(r.number);
    const std::string why = finder.why_not(pick, level);
    ++reasons[why.substr(0, why.find(':'))];
    a.effort.by_bound += why == Finder::by_bound;
    if (why == Finder::short_of_it && judge.measure(pick) > most)
      most = judge.measure(pick), nearest = pick;
  }
  a.binding.push_back("no choice keeps the promise");
  if (a.effort.choices > a.effort.within)
    a.binding.push_back(std::to_string(a.effort.choices - a.effort.within) + " of " +
                        std::to_string(a.effort.choices) + " are over the limits of mass or roof");
  for (const auto& [why, count] : reasons)
    a.binding.push_back(std::to_string(count) + (count == 1 ? " choice: " : " choices: ") + why);
  if (nearest) {
    const Pack pack = pack_of(space, *nearest);
    a.binding.push_back("nearest: " + std::to_string(pack.batteries) + " × " + pack.battery + ", " +
                        std::to_string(pack.modules) + " × " + pack.module + ": " +
                        what_it_keeps(judge.asked(), judge.kept(*nearest)));
  }
}

Surface surface_of(const Space& space, Judge& judge, const Pick& best) {
  Surface s;
  const auto counts = [&](std::size_t slot) {
    std::set<int> list;
    for (const Option& o : space.slots[slot].options)
      if (o.part == space.slots[slot].options[best[slot]].part) list.insert(o.count);
    return std::vector<int>(list.begin(), list.end());
  };
  if (!judge.asked().stay || space.slots.size() < 2 || space.slots[1].what != What::array) return s;
  s.batteries = counts(0);
  s.modules = counts(1);
  s.chance.assign(s.batteries.size(), std::vector<std::optional<Ratio>>(s.modules.size()));
  for (std::size_t m = 0; m < s.modules.size(); ++m) {
    const auto column = moved(space, judge, best, 1, s.modules[m]);
    if (!column) continue;
    std::vector<std::uint16_t> banks;
    std::vector<std::size_t> rows;
    for (std::size_t b = 0; b < s.batteries.size(); ++b) {
      const auto pick = moved(space, judge, *column, 0, s.batteries[b]);
      if (!pick) continue;
      if (judge.at_best(*pick) <= 0.0) s.chance[b][m] = Ratio(0.0);
      else banks.push_back((*pick)[0]), rows.push_back(b);
    }
    const auto chances = judge.chances(*column, banks);
    for (std::size_t i = 0; i < chances.size(); ++i) s.chance[rows[i]][m] = Ratio(chances[i]);
  }
  for (int& n : s.batteries) n *= space.slots[0].options[best[0]].in_series;
  return s;
}

}  // namespace
}  // namespace inside

using namespace inside;

std::optional<PackAnswer> size_pack(const design::Document& given,
                                    const std::vector<design::Part>& catalogue,
                                    const tables::Tables& tables, const PackQuestion& question,
                                    const energy::Each& each, Diagnostics& diagnostics) {
  // The one place that is asked for is the design's place, for the pack that is written, too.
  const bool one_place = given.sizing && given.sizing->places.size() == 1;
  const design::Document document =
      moved_to(given, one_place ? given.sizing->places.front() : std::string());
  if (!document.bank) {
    diagnostics.error(document.place, "bank", "a pack needs a bank to start from",
                      "describe it under [bank]");
    return std::nullopt;
  }
  const auto own = design::resolve(document, tables, Defaults::ordinary, diagnostics);
  if (!own) return std::nullopt;
  const auto asked = asked_of(*own, diagnostics);
  const auto space = space_of(document, catalogue, question, diagnostics);
  if (!asked || !space) return std::nullopt;
  auto sites = sites_of(document, *own, tables, *asked, each, diagnostics);
  if (!sites) return std::nullopt;
  if (space->size() > question.most_choices) {
    diagnostics.error(document.place, "sizing",
                      "there are more than " + std::to_string(question.most_choices) +
                          " combinations to choose from",
                      "fewer parts, `keep`, or less of `most_batteries` and `most_modules`");
    return std::nullopt;
  }
  std::vector<InverterNeed> needs;
  for (std::size_t i = 0; i < (*own)->inverters.size(); ++i) needs.push_back(need_of(*own, int(i)));

  Judge judge(*space, tables, question, *asked, std::move(*sites), each);
  const double promise = asked->stay ? double(asked->chance) : 1.0;
  Finder finder(*space, judge, question, needs, promise, each);
  const auto levels = levels_for(*asked);
  const auto promised =
      std::size_t(std::find(levels.begin(), levels.end(), promise) - levels.begin());
  const auto found = curve(finder, levels, promised, question, *space);

  PackAnswer a;
  a.measure = asked->stay ? "chance" : "autonomy";
  a.asked = asked->length;
  a.notes = space->notes;
  if (asked->stay)
    a.notes.insert(a.notes.begin(),
                   asked->without_end
                       ? "each chance is the share of all starts, with less sun and more use"
                       : "each chance is the lower end of its 95 % sampling interval, as `check` "
                         "judges it");
  std::vector<Pick> shown_picks;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (!found[i]) continue;
    if (shown_picks.empty() || shown_picks.back() != *found[i]) {
      shown_picks.push_back(*found[i]);
      a.choices.push_back(finder.choice(*found[i]));
      complete(a.choices.back(), judge, *found[i]);
    }
    if (i == promised) a.best = a.choices.size() - 1;
  }
  a.effort = finder.effort;
  if (a.best) {
    const Pick best = shown_picks[*a.best];
    add_marginal(a, *space, finder, judge, best, promise);
    add_binding(a, *space, finder, judge, best, promise);
    a.surface = surface_of(*space, judge, best);
  } else {
    add_why_none(a, *space, finder, judge, promise);
  }
  a.effort.judged = finder.effort.judged;
  a.effort.simulated = judge.simulated;
  if (!a.best) a.nearest = nearest_of(*own, *space, finder, judge);
  return a;
}

}  // namespace housepower::pack

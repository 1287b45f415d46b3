// SPDX-License-Identifier: Apache-2.0
// The search from the cheapest pick up, for each level of the promise; then what one more or one
// less would do, and what stands in the way.
#include "housepower/sizing/pack.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "housepower/energy/outlook.hpp"
#include "housepower/units/unit.hpp"
#include "pack_judge.hpp"

namespace housepower::sizing {
namespace inside {
namespace {

using design::Document;
using What = Slot::What;

// Shares of stays, and of the promised autonomy, for which the least pack is shown beside the
// promise itself.
constexpr std::array levels_of_chance{0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 0.995};
constexpr std::array levels_of_autonomy{0.5, 0.75, 1.25, 1.5, 2.0};
// Beyond the best choice the curve goes on to so much of its mass or price.
constexpr double curve_ends = 1.5;

/// What a case or the fullest hour asks of an inverter, volt-amperes; and its largest start.
struct InverterNeed {
  double steady_VA = 0.0, start_VA = 0.0;
};

InverterNeed need_of(const design::Design& d, int inverter) {
  using design::resolved::ApplianceId;
  const auto apparent = [&](ApplianceId id) {
    const auto& a = d[id];
    if (!a.inverter || a.inverter->index != inverter) return 0.0;
    return a.quantity * a.power.value() / double(a.power_factor);
  };
  const auto sum = [&](const std::vector<ApplianceId>& running) {
    double all = 0.0;
    for (const auto id : running) all += apparent(id);
    return all;
  };
  InverterNeed need;
  const auto add = [&](double beside, std::optional<ApplianceId> starter) {
    need.steady_VA = std::max(need.steady_VA, beside);
    if (!starter || !d[*starter].starting || apparent(*starter) == 0.0) return;
    const auto& a = d[*starter];
    const double start = Power(a.starting->current * a.rated_at) / watt;
    need.start_VA = std::max(need.start_VA, beside + start);
  };
  for (const auto& c : d->cases) add(sum(c.running), c.starting);
  const auto fullest = energy::fullest_hour(d);
  if (d->cases.empty()) add(sum(fullest.running), fullest.largest_starter);
  for (std::size_t i = 0; i < d->appliances.size(); ++i)
    add(apparent({int(i)}), ApplianceId{int(i)});
  return need;
}

struct Ranked {
  double cost = 0.0;
  std::size_t number = 0;
};

class Finder {
public:
  Finder(const Space& space, Judge& judge, const PackQuestion& question,
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

  /// The cheapest that reaches a level and has not been refused, up to a cost.
  std::optional<Pick> cheapest(double level, double most_cost) {
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

  /// What keeps a pick from a level, without its wiring; empty where nothing does.
  std::string why_not(const Pick& pick, double level) {
    if (const auto refused = refused_.find(pick); refused != refused_.end()) return refused->second;
    if (std::string why = too_small_inverter(pick); !why.empty()) return why;
    if (!judge_.electrically_sound(pick)) return "the controller does not bear the array";
    if (!judge_.tow_line_sound(pick))
      return "the line from the tow vehicle does not bear the charger";
    if (question_.bounded && judge_.at_best(pick) < level) return by_bound;
    if (std::string why = judge_.falls_short(pick); !why.empty()) return why;
    if (judge_.measure(pick) < level - 1e-12) return short_of_it;
    const auto made = choices_.find(pick);
    return made == choices_.end() || level < promise_ ? std::string() : made->second.falls_short;
  }

  /// Wires and judges those that were not yet; several at once. Refused ones are remembered.
  void judge(const std::vector<Pick>& picks) {
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

  [[nodiscard]] bool is_refused(const Pick& pick, double level) const {
    if (refused_.count(pick) > 0) return true;
    return level >= promise_ && !choices_.at(pick).falls_short.empty();
  }
  [[nodiscard]] const PackChoice& choice(const Pick& pick) const { return choices_.at(pick); }
  [[nodiscard]] const std::vector<Ranked>& ranked() const { return ranked_; }

  Effort effort;
  static constexpr const char* by_bound = "even a store without losses falls short";
  static constexpr const char* short_of_it = "simulated, it falls short";

private:
  std::string too_small_inverter(const Pick& pick) const {
    for (std::size_t i = 0; i < pick.size(); ++i) {
      const Slot& slot = space_.slots[i];
      if (slot.what != What::inverter || !slot.options[pick[i]].part) continue;
      const auto& part = std::get<design::Inverter>(slot.options[pick[i]].part->is);
      const auto& list = space_.document.inverter;
      for (std::size_t k = 0; k < list.size(); ++k) {
        if (list[k].name != slot.name) continue;
        const double most = part.surge ? part.surge->power / watt : part.rating / watt;
        if (part.rating / watt < needs_[k].steady_VA || most < needs_[k].start_VA)
          return "inverter: " + print(Number(part.rating)) + " is less than what runs on it";
      }
    }
    return {};
  }

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

std::optional<Asked> asked_of(const design::Design& d, Diagnostics& diagnostics) {
  const auto& promise = d->promise;
  if (promise.stay) return Asked{true, *promise.stay, promise.chance};
  if (promise.unlimited) return Asked{true, 30.0 * day, promise.chance};
  if (promise.autonomy) return Asked{false, *promise.autonomy, promise.chance};
  diagnostics.error({d->file}, "promise", "nothing is promised that a pack could be sized for",
                    "state `stay`, `autonomy` or `unlimited` under [promise]");
  return std::nullopt;
}

std::optional<std::vector<Site>> sites_of(const Document& document, const design::Design& own,
                                          const tables::Tables& tables, const Asked& asked,
                                          const energy::Each& each, Diagnostics& diagnostics) {
  std::vector<std::string> towns;
  if (document.sizing) towns = document.sizing->places;
  if (towns.empty()) towns.push_back("");
  std::vector<Site> sites;
  for (const auto& town : towns) {
    Document there = document;
    if (!town.empty()) {
      there.location = there.location.value_or(design::Location{});
      there.location->name = town;
      there.location->weather.reset();
    }
    Diagnostics found;
    const auto d = town.empty() ? std::optional(own)
                                : design::resolve(there, tables, Defaults::ordinary, found);
    if (!d || !(*d)->site.town) {
      diagnostics.error(document.place, town.empty() ? "place" : "sizing/places",
                        town.empty() ? std::string("a pack is sized for a place")
                                     : "\"" + town + "\" is no town of the climate table",
                        town.empty() ? "add `[place] name = …`"
                                     : "`housepower tables towns` lists them");
      continue;
    }
    auto weather = energy::weather_of(*d, energy::years_for_promise, energy::usual_seed);
    int month = (*d)->site.month.value_or(0);
    if (!(*d)->site.month && asked.stay) {
      energy::StayQuestion few;
      few.longest_days = std::max(1, int(std::ceil(double(asked.length / day) - 1e-9)));
      few.every = 5;
      few.until_empty = true;
      const auto coarse = energy::weather_of(*d, 20, energy::usual_seed);
      month = energy::shortest_month(*d, energy::Surroundings(*d, *coarse), few, each);
    } else if (!(*d)->site.month) {
      const auto energy = energy::assess(*d);
      month = energy.months[energy.judged].month;
    }
    sites.push_back({town, (*d)->site.town->title, std::move(*weather), month});
  }
  if (sites.size() != towns.size()) return std::nullopt;
  return sites;
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
      if (i == promised && found[i]) most = curve_ends * space.cost(*found[i]);
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

std::string shown(const Asked& asked, const Kept& k) {
  if (asked.stay)
    return print(Number(k.chance), 3) + " of stays last " + print(Number(asked.length)) + ", " +
           print(Number(asked.chance), 3) + " are promised";
  return "the bank lasts " + (k.autonomy ? print(Number(*k.autonomy)) : std::string("not at all")) +
         " without charging, " + print(Number(asked.length)) + " are promised";
}

/// Why a pick does not do, in words.
std::string words_of(const Space& space, Finder& finder, Judge& judge, const Pick& pick,
                     double level) {
  if (std::string limit = beyond_limit(space, pick); !limit.empty()) return limit;
  const std::string why = finder.why_not(pick, level);
  if (why == Finder::by_bound || why == Finder::short_of_it)
    return shown(judge.asked(), judge.kept(pick));
  return why.empty() ? "it keeps the promise too" : why;
}

struct Step {
  std::size_t slot;
  int by;
  const char *one, *many;
};
constexpr Step steps[] = {{0, 1, "battery", "batteries"},
                          {0, -1, "battery", "batteries"},
                          {1, 1, "module", "modules"},
                          {1, -1, "module", "modules"}};

/// The nearest larger or smaller number that can be arranged.
std::optional<Pick> next(const Space& space, Judge& judge, const Pick& best, const Step& s) {
  const int now = space.slots[s.slot].options[best[s.slot]].count;
  for (int by = 1; by <= 64 && now + s.by * by >= 1; ++by) {
    auto pick = moved(space, judge, best, s.slot, now + s.by * by);
    if (pick) return pick;
  }
  return std::nullopt;
}

std::string words_of(const Space& space, const Pick& best, const Pick& pick, const Step& s) {
  const Option &now = space.slots[s.slot].options[best[s.slot]],
               &then = space.slots[s.slot].options[pick[s.slot]];
  const int by = std::abs(then.count - now.count) * (s.slot == 0 ? now.in_series : 1);
  return (by == 1 ? std::string("one ") + s.one : std::to_string(by) + " " + s.many) +
         (s.by > 0 ? " more" : " fewer");
}

void add_marginal(PackAnswer& a, const Space& space, Finder& finder, Judge& judge, const Pick& best,
                  double level) {
  std::vector<std::pair<const Step*, std::optional<Pick>>> picks;
  std::vector<Pick> open;
  for (const Step& s : steps) {
    if (s.slot >= space.slots.size() || (s.slot == 1 && space.slots[1].what != What::array))
      continue;
    picks.emplace_back(&s, next(space, judge, best, s));
    const auto& pick = picks.back().second;
    if (pick && beyond_limit(space, *pick).empty()) open.push_back(*pick);
  }
  finder.judge(open);
  for (const auto& of_step : picks) {
    const Step& s = *of_step.first;
    const auto& pick = of_step.second;
    Marginal& m = a.marginal.emplace_back();
    if (!pick) {
      m.change = std::string(s.by > 0 ? "more " : "fewer ") + s.many;
      m.why_not = "none that can be arranged";
      continue;
    }
    m.change = words_of(space, best, *pick, s);
    m.why_not = beyond_limit(space, *pick);
    if (!m.why_not.empty()) continue;
    m.choice = finder.choice(*pick);
    m.choice.kept = judge.kept_whole(*pick);
    m.mass = m.choice.pack.mass - a.choices[*a.best].pack.mass;
    const auto &now = a.choices[*a.best].pack.price, &then = m.choice.pack.price;
    if (now && then) m.price = design::Money{then->amount - now->amount, now->currency};
    if (s.by < 0)
      a.binding.push_back(m.change + ": " + words_of(space, finder, judge, *pick, level));
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
                        pack.module + ": " + words_of(space, finder, judge, *nearest, level));
  }
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
                        std::to_string(a.effort.choices) +
                        " are beyond the limits of mass or roof");
  for (const auto& [why, count] : reasons) a.binding.push_back(std::to_string(count) + ": " + why);
  if (nearest) {
    const Pack pack = pack_of(space, *nearest);
    a.binding.push_back("nearest: " + std::to_string(pack.batteries) + " × " + pack.battery + ", " +
                        std::to_string(pack.modules) + " × " + pack.module + ": " +
                        shown(judge.asked(), judge.kept(*nearest)));
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

std::optional<PackAnswer> size_pack(const design::Document& document,
                                    const std::vector<design::Part>& catalogue,
                                    const tables::Tables& tables, const PackQuestion& question,
                                    const energy::Each& each, Diagnostics& diagnostics) {
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
  std::vector<Pick> shown_picks;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (!found[i]) continue;
    if (shown_picks.empty() || shown_picks.back() != *found[i]) {
      shown_picks.push_back(*found[i]);
      a.choices.push_back(finder.choice(*found[i]));
      a.choices.back().kept = judge.kept_whole(*found[i]);
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
  return a;
}

}  // namespace housepower::sizing

// SPDX-License-Identifier: Apache-2.0
// Bound, energy, simulation and rules of a pick.
#include "judge.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/checks/delivered.hpp"
#include "housepower/checks/masses.hpp"
#include "housepower/design/catalogue.hpp"
#include "housepower/energy/months.hpp"
#include "housepower/energy/outlook.hpp"
#include "housepower/energy/questions.hpp"
#include "housepower/energy/without_charging.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::pack::inside {
namespace {

using design::Document;
using What = Slot::What;

int whole_days(Duration d) { return std::max(1, int(std::ceil(double(d / day) - 1e-9))); }

Standing standing_of(const Document& document, const tables::Tables& tables) {
  const auto energy = energy_of(document, tables);
  const auto trial = energy ? try_out(document, tables, *energy) : std::nullopt;
  return Standing(trial ? trial->findings : std::vector<Finding>{});
}

/// A run between a feed and a charger's input.
bool leads_to_a_charger(const Trial& trial, const std::string& run) {
  const auto& d = trial.design;
  const auto is_in = [&](const std::vector<wiring::Way::Part>& parts) {
    return std::any_of(parts.begin(), parts.end(),
                       [&](const auto& part) { return d[part.run].name == run; });
  };
  return std::any_of(d->chargers.begin(), d->chargers.end(), [&](const auto& charger) {
    if (!charger.in) return false;
    const auto& way = trial.wiring.ways[*charger.in];
    return is_in(way.outgoing) || is_in(way.back);
  });
}

/// The options of a slot's equipment at their best in everything that the hours ask.
void at_its_best(design::Controller& c, const std::vector<const design::Controller*>& options) {
  c.kind = design::ControllerKind::step_up;  // no window of voltage
  c.efficiency = Ratio(0.0);
  c.own_draw = 1e9 * watt;
  c.max_charge_current = 0.0 * ampere;
  for (const auto* o : options) {
    c.efficiency = std::max(*c.efficiency, o->efficiency.value_or(Ratio(0.95)));
    c.own_draw = std::min(*c.own_draw, o->own_draw.value_or(1.0 * watt));
    c.max_charge_current = std::max(c.max_charge_current, o->max_charge_current);
    c.charge_voltage = std::nullopt;  // as usual, which is above any bank at rest
  }
}
void at_its_best(design::Charger& c, const std::vector<const design::Charger*>& options) {
  for (const auto* o : options) c.current = std::max(c.current, o->current);
}
void at_its_best(design::Inverter& i, const std::vector<const design::Inverter*>&) {
  i.no_load = 0.0 * watt;
  i.loss.reset();
  i.efficiency = Ratio(1.0);
}

void keep_least(std::optional<Duration>& kept, std::optional<Duration> one) {
  if (one && (!kept || *one < *kept)) kept = one;
}

void keep_least_autonomy(Kept& kept, const energy::Assessment& e) {
  if (!e.autonomy || (kept.autonomy && *kept.autonomy <= *e.autonomy)) return;
  kept.autonomy = e.autonomy;
  kept.month_of_autonomy = e.months[e.judged].month;
}

energy::Lasting travelled(const energy::StayAnswer& a) {
  return {a.met, a.first_percentile, a.sampling, a.doubt, a.unlimited};
}
/// What a stay is told to last, before it is rounded: the lower end of a wide interval.
Duration end_told(const energy::Lasting& l, const energy::StayAnswer& of) {
  return energy::told(l, of.longest, of.arrives).at_lower_end ? (*l.sampling)[0] : l.met;
}

template <class Equipment> void best_of(const Slot& slot, std::vector<Equipment>& list) {
  std::vector<const Equipment*> options;
  for (const Option& option : slot.options)
    if (option.part) options.push_back(&std::get<Equipment>(option.part->is));
  for (Equipment& one : list)
    if (one.name == slot.name) at_its_best(one, options);
}

}  // namespace

Judge::Judge(const Space& space, const tables::Tables& tables, const PackQuestion& question,
             const Asked& asked, std::vector<Site> sites, const energy::Each& each)
    : space_(space), tables_(tables), question_(question), asked_(asked), sites_(std::move(sites)),
      each_(each), before_(standing_of(space.document, tables)) {
  for (const Slot& slot : space.slots)
    for (const Option& option : slot.options)
      if (slot.what == What::controller && option.part)
        chooses_direct_ = chooses_direct_ || std::get<design::Controller>(option.part->is).kind ==
                                                 design::ControllerKind::direct;
}

std::optional<design::Design> Judge::design_of(Document document, const Site& site) const {
  Diagnostics unused;
  return design::resolve(moved_to(std::move(document), site.town), tables_, Defaults::ordinary,
                         unused);
}

const std::optional<design::Design>& Judge::design_of(const Pick& pick, const Site& site) {
  if (last_.site != &site || last_.pick != pick)
    last_ = {pick, &site, design_of(written(space_, pick), site)};
  return last_.design;
}

energy::Surroundings Judge::around(const design::Design& d, const Site& site, const Pick& pick) {
  return {d, site.weather, {}, tow_line(pick).delivered};
}

energy::StayQuestion Judge::question(const Site& site, int days) const {
  energy::StayQuestion q;
  q.month = site.month;
  q.longest_days = days;
  q.until_empty = true;
  return q;
}

/// The bank that has to keep the promise.
energy::kernel::Plant Judge::plant(const design::Design& d) const {
  const energy::Doubt doubt = asked_.without_end ? energy::at_the_lower_end(d) : energy::Doubt{};
  return *energy::plant_of(d, d->promise.bank_age, doubt);
}

/// The array of the pick with everything else at its best: one pass serves all banks.
Document Judge::at_best_with(const Pick& pick) const {
  Document d = written(space_, pick);
  d.bank->own_draw = 0.0 * ampere;
  for (const Slot& slot : space_.slots) {
    if (slot.what == What::controller) best_of(slot, d.controller);
    if (slot.what == What::charger) best_of(slot, d.charger);
    if (slot.what == What::inverter) best_of(slot, d.inverter);
  }
  // A controller that stays may still be asked for strings of another length: no window either.
  for (auto& c : d.controller)
    if (c.kind != design::ControllerKind::direct) c.kind = design::ControllerKind::step_up;
  return d;
}

const std::vector<energy::LeastStore>& Judge::least_stores(const Pick& pick) {
  const bool sized = pick.size() > 1 && space_.slots[1].what == What::array;
  const std::uint16_t key = sized ? pick[1] : std::uint16_t(0);
  const auto [at, is_new] = bounds_.try_emplace(key);
  if (!is_new) return at->second;
  const Document best = at_best_with(pick);
  for (const Site& site : sites_) {
    const auto d = design_of(best, site);
    if (!d) continue;
    at->second.push_back(energy::least_store(energy::Surroundings(*d, site.weather),
                                             question(site, whole_days(asked_.length)), each_));
  }
  return at->second;
}

double Judge::at_best(const Pick& pick) {
  const auto [at, is_new] = at_best_.try_emplace(pick);
  if (is_new) at->second = bound_of(pick);
  return at->second;
}

double Judge::bound_of(const Pick& pick) {
  if (!asked_.stay) return 1e9;
  if (chooses_direct_) return 1.0;  // its power does not fall with heat: not bounded by the others'
  auto& plants = plants_[pick[0]];
  if (plants.empty())
    for (const Site& site : sites_)
      if (const auto d = design_of(written(space_, pick), site)) plants.push_back(plant(*d));
  const auto& stores = least_stores(pick);
  double best = 1.0;
  for (std::size_t i = 0; i < std::min(stores.size(), plants.size()); ++i)
    best = std::min(best, double(energy::lasting_at_best(stores[i], plants[i])));
  return best;
}

const std::string& Judge::falls_short(const Pick& pick) {
  const auto [at, is_new] = falls_short_.try_emplace(pick);
  if (is_new) at->second = shortfall_of(pick);
  return at->second;
}

std::string Judge::shortfall_of(const Pick& pick) {
  for (const Site& site : sites_) {
    const auto& d = design_of(pick, site);
    if (!d) return "it fails other checks";
    const auto& promise = (*d)->promise;
    if (asked_.stay && promise.autonomy) {
      // The month in which the first pick lasts least; what is chosen is judged in all of them.
      auto& month = month_of_autonomy_[&site];
      if (!month) {
        const auto energy = energy::assess(*d);
        month = energy.months[energy.judged].month;
      }
      const auto lasts = autonomy_at(pick, site, *month);
      if (lasts && *lasts < *promise.autonomy)
        return "autonomy: " + print(Number(*lasts), 4) + " of " + print(Number(*promise.autonomy));
    }
    if (!promise.unlimited) continue;
    const auto energy = energy::assess_mean_days(*d);
    const Energy travel = energy::charged_by_travel(*d, tow_line(pick).delivered);
    for (const auto& m : energy.months)
      if (m.solar * (1.0 - double(energy.input_doubt)) + travel < m.load)
        return "balance: in " + std::string(energy::month_name(m.month)) + " the sun gives " +
               print(Number(m.solar)) + " a day, " + print(Number(m.load)) + " is used";
  }
  return {};
}

/// Rules of the array and its controller, on a design without anything else.
bool Judge::electrically_sound(const Pick& pick) {
  Pick key{0, 0};
  for (std::size_t i = 1; i < pick.size(); ++i)
    if (space_.slots[i].what == What::array || space_.slots[i].what == What::controller)
      key.push_back(pick[i]);
  const auto [at, is_new] = sound_.try_emplace(key, true);
  if (!is_new) return at->second;
  Document d = written(space_, pick);
  d.run.clear(), d.node.clear(), d.load_case.clear(), d.appliance.clear();
  d.charger.clear(), d.feed.clear(), d.inverter.clear();
  for (const Site& site : sites_) {
    const auto design = design_of(d, site);
    if (!design) continue;
    const energy::Assessment energy;
    const wiring::Assessment wiring;
    const energy::Outlook none;
    for (const checks::Rule* rule : checks::rules()) {
      if (rule->about != checks::About::array) continue;
      for (const Finding& f :
           rule->check(*rule, {*design, energy, wiring, none, checks::Workings::left_out}))
        at->second = at->second && f.verdict != Verdict::fail;
    }
  }
  return at->second;
}

/// The line of the tow vehicle hangs on its charger alone: asked once, on the design as it is.
const Judge::TowLine& Judge::tow_line(const Pick& pick) {
  Pick key;
  for (std::size_t i = 0; i < pick.size(); ++i)
    if (space_.slots[i].what == What::charger) key.push_back(pick[i]);
  const auto [at, is_new] = tow_line_.try_emplace(key);
  TowLine& line = at->second;
  if (!is_new) return line;
  Document d = space_.document;
  for (std::size_t i = 0; i < pick.size(); ++i)
    if (const Slot& slot = space_.slots[i]; slot.what == What::charger)
      design::put(*slot.options[pick[i]].part, d, slot.name);
  const auto energy = energy_of(d, tables_);
  const auto as_it_is = energy ? try_out(d, tables_, *energy) : std::nullopt;
  if (!as_it_is) return line;
  line.delivered = checks::delivered(as_it_is->design, as_it_is->wiring);
  const auto& findings = as_it_is->findings;
  if (std::any_of(findings.begin(), findings.end(), [](const Finding& f) {
        return checks::is_about(f, checks::About::tow_line) && f.verdict >= Verdict::caution;
      })) {
    const Fitted fit = fitted(std::move(d), tables_, before_);
    const auto* rule = fit.against_rule.empty() ? nullptr : checks::rule_named(fit.against_rule);
    line.sound = key.empty() || (!(rule && rule->about == checks::About::tow_line) &&
                                 !leads_to_a_charger(*as_it_is, fit.against_run));
    Diagnostics unused;
    const auto mended = design::resolve(fit.document, tables_, Defaults::ordinary, unused);
    // Where other rules stand in the way, the finished pack tells what arrives.
    if (!fit.against.empty()) line.delivered.clear();
    else if (mended) line.delivered = checks::delivered(*mended);
  }
  return line;
}

/// Without any source array and chargers change nothing: found once for each choice of the others.
std::optional<Duration> Judge::autonomy_at(const Pick& pick, const Site& site, int month) {
  Pick key = pick;
  for (std::size_t i = 0; i < key.size(); ++i)
    if (space_.slots[i].what == What::array || space_.slots[i].what == What::charger) key[i] = 0;
  const auto [at, is_new] = autonomy_.try_emplace({std::move(key), &site, month});
  if (!is_new) return at->second;
  const auto& d = design_of(pick, site);
  if (!d) return at->second;
  auto& weather = for_autonomy_[&site];
  if (!weather) weather = energy::weather_of(*d, energy::years_for_autonomy, energy::usual_seed);
  if (const auto lasts = energy::without_charging(*d, *weather, month)) at->second = lasts->lasts;
  return at->second;
}

/// As sure as can be told.
Ratio Judge::chance_of(const energy::kernel::Plant& plant, const energy::Surroundings& there,
                       const Site& site) const {
  const auto stays =
      energy::simulate(there, question(site, whole_days(asked_.length)), {&plant, 1}, each_);
  return energy::sure(energy::lasting(stays, 0, asked_.length));
}

const Kept& Judge::kept(const Pick& pick) {
  const auto [at, is_new] = kept_.try_emplace(pick);
  Kept& kept = at->second;
  if (!is_new) return kept;
  ++simulated;
  kept.chance = 2.0;
  for (const Site& site : sites_) {
    const auto& d = design_of(pick, site);
    if (!d) continue;
    if (!asked_.stay) {
      kept.chance = 1.0;
      const auto lasts = autonomy_at(pick, site, site.month);
      if (!kept.place.empty() && (!lasts || (kept.autonomy && *kept.autonomy <= *lasts))) continue;
      keep_least(kept.autonomy, lasts);
      kept.place = site.title;
      kept.month = kept.month_of_autonomy = site.month;
      continue;
    }
    const Ratio share = chance_of(plant(*d), around(*d, site, pick), site);
    if (share < kept.chance) {
      kept.chance = share;
      kept.place = site.title;
      kept.month = site.month;
    }
  }
  if (kept.chance > 1.0) kept.chance = 0.0;
  return kept;
}

Kept Judge::kept_whole(const Pick& pick, Kept whole) {
  for (const Site& site : sites_) {
    const auto& d = design_of(pick, site);
    if (!d) continue;
    if (asked_.stay) keep_least_autonomy(whole, energy::assess(*d));
    if (site.title != whole.place) continue;
    auto q = question(site, longest_days());
    q.month = whole.month;
    const auto lengths = energy::lengths(*d, around(*d, site, pick), q, each_);
    whole.parked = end_told(lengths.parked, lengths);
    whole.stay = end_told(travelled(lengths), lengths);
  }
  return whole;
}

int Judge::longest_days() const {
  return std::max(question_.longest_days, whole_days(asked_.length));
}

std::vector<Relief> Judge::reliefs_of(const Pick& pick) {
  for (const Site& site : sites_) {
    const auto& d = design_of(pick, site);
    if (d && site.title == kept(pick).place)
      return reliefs(written(space_, pick), *d, site.month, {});
  }
  return {};
}

std::optional<Addition> Judge::with_relief(const Pick& pick, const Relief& relief) {
  Addition a;
  a.change = relief.change;
  for (const Site& site : sites_) {
    const auto d = design_of(relief.document, site);
    if (!d) return std::nullopt;
    keep_least(a.autonomy, energy::assess(*d, relief.habit).autonomy);
    if (!asked_.stay) continue;
    const energy::Surroundings there(*d, site.weather, relief.habit, tow_line(pick).delivered);
    const auto lengths = energy::lengths(*d, there, question(site, longest_days()), each_);
    keep_least(a.stay, end_told(travelled(lengths), lengths));
    Ratio chance = chance_of(plant(*d), there, site);
    // What changes the van may change the month that is hardest: all twelve are asked.
    if (asked_.without_end && chance >= Ratio(1.0) && !(*d)->site.month) {
      Site hardest = site;
      hardest.month =
          energy::month_outlast_least(*d, there, question(site, whole_days(asked_.length)), each_);
      chance = chance_of(plant(*d), there, hardest);
    }
    a.chance = std::min(a.chance.value_or(1.0), chance);
  }
  return a;
}

double Judge::measure(const Pick& pick) {
  const Kept& k = kept(pick);
  if (asked_.stay) return double(k.chance);
  return k.autonomy ? double(*k.autonomy / asked_.length) : 0.0;
}

PackChoice Judge::judged(const Pick& pick) const {
  PackChoice choice;
  choice.pack = pack_of(space_, pick);
  Fitted w = fitted(written(space_, pick), tables_, before_);
  choice.document = std::move(w.document);
  choice.wiring = std::move(w.choices);
  choice.against = std::move(w.against);
  if (!choice.against.empty()) return choice;
  choice.verdict = Verdict::pass;
  choice.kept.chance = 1.0;
  for (const Site& site : sites_) {
    const Document there = moved_to(choice.document, site.town);
    Diagnostics unused;
    const auto d = design::resolve(there, tables_, Defaults::ordinary, unused);
    if (!d) {
      choice.verdict = Verdict::fail;
      choice.against = "it fails other checks";
      return choice;
    }
    const auto checked = checks::check(there, *d, checks::Workings::left_out);
    if (const auto& promised = checked.outlook.promised; promised && promised->promise)
      if (const Ratio sure = energy::sure(*promised->promise); sure < choice.kept.chance)
        choice.kept.chance = sure, choice.kept.place = site.title,
        choice.kept.month = promised->month;
    if (const auto& endless = checked.outlook.without_end)
      if (endless->outlast_with_less < choice.kept.chance)
        choice.kept.chance = endless->outlast_with_less, choice.kept.place = site.title,
        choice.kept.month = endless->month;
    choice.cable = checks::masses_of(*d, checked.wiring).cable;
    choice.verdict = std::max(choice.verdict, checked.verdicts.worse());
    for (const Finding& f : checked.findings) {
      if (f.verdict < Verdict::caution || (f.verdict == Verdict::caution && !before_.is_new(f)))
        continue;
      std::string& said =
          checks::is_about(f, checks::About::promise) ? choice.falls_short : choice.against;
      if (said.empty()) said = std::string(f.rule) + ": " + f.message;
    }
  }
  return choice;
}

std::vector<double> Judge::chances(const Pick& pick, const std::vector<std::uint16_t>& banks) {
  std::vector<double> least(banks.size(), 1.0);
  if (banks.empty()) return least;
  for (const Site& site : sites_) {
    std::vector<energy::kernel::Plant> plants;
    std::optional<design::Design> last;
    for (const auto bank : banks) {
      Pick one = pick;
      one[0] = bank;
      last = design_of(written(space_, one), site);
      if (!last) return {};
      plants.push_back(plant(*last));
    }
    // The load is that of the largest bank: its own draw is the most.
    const auto stays = energy::simulate(around(*last, site, pick),
                                        question(site, whole_days(asked_.length)), plants, each_);
    simulated += banks.size();
    for (std::size_t i = 0; i < banks.size(); ++i)
      least[i] =
          std::min(least[i], double(energy::sure(energy::lasting(stays, int(i), asked_.length))));
  }
  return least;
}

}  // namespace housepower::pack::inside

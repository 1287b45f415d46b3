// SPDX-License-Identifier: Apache-2.0
// From a state of changes to the least one beyond it in which a finding passes.
#include "mending.hpp"

#include <algorithm>
#include <cmath>
#include <queue>

#include "stock.hpp"

namespace housepower::choice::inside {
namespace {

using Of = Knob::Of;

constexpr int most_while_growing = 400;

std::map<Key, Verdict> verdicts_of(const std::vector<Finding>& findings) {
  std::map<Key, Verdict> worst;
  for (const Finding& f : findings) {
    Verdict& v = worst[key_of(f)];
    v = std::max(v, f.verdict);
  }
  return worst;
}

/// Some case that is judged has no operating point.
bool has_no_point(const Trial& trial) {
  const auto& cases = trial.wiring.cases;
  return std::any_of(cases.begin(), cases.end(),
                     [](const auto& in) { return in.load_case.judged && !in.solved(); });
}

/// A state that waits to be tried, and from which finding's margin it wants to come away.
struct Waiting {
  State state;
  double cost = 0.0;
  std::size_t order = 0;  // of two that cost the same, the first found
  std::optional<Key> wants{};
  std::optional<double> margin{};
  bool operator<(const Waiting& other) const {
    return cost != other.cost ? cost > other.cost : order > other.order;
  }
};

std::optional<double> margin_of(const Finding& f) {
  return f.measured ? std::optional(double(f.margin)) : std::nullopt;
}

bool is_unmoved(const Trial& trial, const Key& key, double was) {
  const Finding* now = worst_of(trial, key);
  const auto margin = now ? margin_of(*now) : std::nullopt;
  return margin && std::abs(*margin - was) <= 1e-9 * std::abs(was);
}
bool is_unmoved(const Trial& trial, const Waiting& w) {
  return w.wants && w.margin && is_unmoved(trial, *w.wants, *w.margin);
}
}  // namespace

const Finding* worst_of(const Trial& trial, const Key& key) {
  const Finding* worst = nullptr;
  for (const Finding& f : trial.findings)
    if (f.rule == key.first && f.subject == key.second && (!worst || f.verdict > worst->verdict))
      worst = &f;
  return worst;
}

void turn(State& state, const Move& move) {
  for (const auto& [knob, setting] : move) state[knob] = setting;
}

bool is_unmoved(const Trial& trial, const Finding& was) {
  return was.measured && is_unmoved(trial, key_of(was), double(was.margin));
}

Mender::Mender(const Document& document, const tables::Tables& tables, energy::Assessment energy,
               LeastChange least)
    : document_(document), tables_(tables), energy_(std::move(energy)), least_(least),
      base_(try_out(document, tables, energy_)), offers_(offers_for(document, tables)) {
  if (!base_) return;
  conductors_ = conductors_for(document, tables, base_->design->sizes);
  add_steps();
  before_ = verdicts_of(base_->findings);
  blind_ = has_no_point(*base_);
}

std::optional<Trial> Mender::tried(const State& state) {
  ++checks_;
  return try_out(with(document_, state), tables_, energy_);
}

/// A maker's device whose ratings nobody states is not made in one rating only: between a quarter of
/// the smallest and four times the largest that the design uses it may be had in the usual steps.
void Mender::add_steps() {
  const auto* steps = tables_.fuse("ul-248-class-t");
  if (!steps || devices_are_stocked(document_)) return;
  for (const auto& maker : document_.device) {
    if (!maker.ratings.empty()) continue;
    const auto is_of = [&](const Offer& offer) { return offer.type == maker.name; };
    const auto first = std::find_if(offers_.begin(), offers_.end(), is_of);
    if (first == offers_.end()) continue;
    auto last = first;
    while (last + 1 != offers_.end() && is_of(*(last + 1))) ++last;
    std::vector<Offer> more(first, last + 1);
    const Current least = 0.25 * first->rating, most = 4.0 * last->rating;
    for (const Current& step : steps->ratings) {
      if (step < least || step > most) continue;
      const bool known = std::any_of(more.begin(), more.end(), [&](const Offer& offer) {
        return std::abs(offer.rating / step - 1.0) < 1e-6;
      });
      if (!known) more.push_back({maker.name, step, first->breaking, steps->ratings_source});
    }
    std::sort(more.begin(), more.end(),
              [](const Offer& a, const Offer& b) { return a.rating < b.rating; });
    offers_.insert(offers_.erase(first, last + 1), more.begin(), more.end());
    without_ratings_.insert(maker.name);
  }
}

Verdict Mender::most_allowed(const Key& key) const {
  if (const auto cured = cured_.find(key); cured != cured_.end()) return cured->second;
  const auto stood = before_.find(key);
  // Where a case had no operating point, nothing was known of what hangs on it.
  const Verdict was = stood == before_.end() ? Verdict::not_checked : stood->second;
  return blind_ && was == Verdict::not_checked ? Verdict::caution : was;
}

std::vector<const Finding*> Mender::worse(const Trial& trial) const {
  std::vector<const Finding*> list;
  for (const Finding& f : trial.findings)
    if (f.verdict > most_allowed(key_of(f)) && !only_wants_measuring(f)) list.push_back(&f);
  return list;
}

/// Of a device that was added: a caution that asks for where it really stands, and is not about what
/// the design had.
bool Mender::only_wants_measuring(const Finding& f) const {
  return (has_placed_ || devices_to_be_measured_) && f.verdict == Verdict::caution &&
         !f.wants.empty() && before_.count(key_of(f)) == 0;
}

namespace {

/// The least margin at which a finding of that kind stands at that verdict or a worse one, in any case.
std::optional<double> least_margin(const Trial& trial, const Key& key, Verdict verdict) {
  std::optional<double> least;
  for (const Finding& f : trial.findings)
    if (const auto margin = margin_of(f);
        f.verdict >= verdict && margin && key_of(f) == key && (!least || *margin < *least))
      least = margin;
  return least;
}

}  // namespace

std::vector<const Finding*> Mender::deeper(const State& state, const Trial& trial) const {
  const auto changes = [&](const Subject& subject) {
    const auto run = own_run(subject);
    return run && std::any_of(state.begin(), state.end(), [&](const auto& one) {
             const Of of = one.first.of;
             return one.first.run == *run && of != Of::link_positive && of != Of::link_negative &&
                    of != Of::lead && of != Of::takeoff;
           });
  };
  std::vector<const Finding*> list;
  for (const Finding& f : trial.findings) {
    if (f.verdict < Verdict::caution || !f.of_safety) continue;
    if (f.verdict != Verdict::fail && !changes(f.subject)) continue;
    const auto before = least_margin(*base_, key_of(f), f.verdict), now = margin_of(f);
    if (before && now && *now < *before - 1e-6) list.push_back(&f);
  }
  return list;
}

std::optional<Trial> Mender::tried(const std::vector<std::string>& overrides) {
  Node changed = design::node_of(document_);
  Diagnostics problems;
  for (const auto& one : overrides)
    if (!set(changed, one, problems)) return std::nullopt;
  auto document = design::document_of(changed, problems);
  if (!document) return std::nullopt;
  ++checks_;
  return try_out(*std::move(document), tables_, energy_);
}

const Finding* Mender::revealed(const Trial& trial) const {
  for (const Finding& f : trial.findings) {
    if (f.verdict < Verdict::caution || cured_.count(key_of(f)) > 0) continue;
    const auto stood = before_.find(key_of(f));
    if (stood == before_.end() || stood->second == Verdict::not_checked) return &f;
  }
  return nullptr;
}

bool is_about_a_missing_device(const Key& key) {
  const checks::Rule* rule = checks::rule_named(key.first);
  return rule && rule->about == checks::About::missing_device;
}

bool Mender::is_cured(const Trial& trial, const Key& key) const {
  const Finding* worst = worst_of(trial, key);
  const bool of_device = is_about_a_missing_device(key);
  if (worst && of_device && devices_to_be_measured_) return is_placed(*worst);
  if (worst) return worst->verdict <= enough_;
  if (blind_ && !has_no_point(trial)) return true;
  return of_device;
}

/// A device is there where none was; where it really stands is measured later.
bool Mender::is_placed(const Finding& worst) const {
  if (worst.verdict == Verdict::pass) return true;
  const auto stood = before_.find(key_of(worst));
  return stood != before_.end() && stood->second == Verdict::fail &&
         worst.verdict != Verdict::fail && !worst.wants.empty();
}

double Mender::step_cost(const Knob& k, const Setting& s) const {
  // Copper decides; of what takes none the mildest: the next rating before another type.
  switch (k.of) {
  case Of::device:
  case Of::new_device: {
    if (k.of == Of::new_device) return 0.9e-4;  // rather than a change of another's
    const auto& was = document_.run[k.run].protection[k.number];
    return (was.type == s.type ? 1e-4 : 2e-4) +
           1e-6 * std::abs(std::log(double(s.rating / was.rating)));
  }
  case Of::takeoff: return 1.5e-4;
  case Of::device_place: return 1.5e-4;
  case Of::item: return 2e-4;
  default: return 1e-5;
  }
}

double Mender::cost(const State& state) const {
  double copper = 0.0, steps = 0.0, keys = 0.0;
  for (const auto& [knob, setting] : state) {
    if (setting.conductor)
      copper += std::max(0.0, copper_added(document_, tables_, {{knob, setting}}).value());
    steps += step_cost(knob, setting);
    keys += double(changes_of(document_, knob, setting).size());
  }
  if (least_ == LeastChange::copper) return copper + steps;
  if (least_ == LeastChange::changes) return keys + 1e-3 * (copper + steps);
  const auto price = price_of(document_, tables_, state);
  return price ? double(price->amount) + 1e-3 * (copper + steps) : 1e9 + copper + steps;
}

bool Mender::copper_may_help(const State& from, const Trial& trial, const Finding& f) {
  if (effect_of(f.rule, checks::Parameter::area) != checks::Effect::better || conductors_.empty())
    return true;
  State most = from;
  for (const Move& move : moves(from, trial, f))
    for (const auto& [knob, setting] : move)
      if (setting.conductor) most[knob].conductor = &conductors_.back();
  if (key_of(most) == key_of(from)) return true;
  const auto with_most = tried(most);
  if (!with_most || is_cured(*with_most, key_of(f))) return true;
  if (!effect_of(f.rule, checks::Parameter::device_rating)) return false;
  const Finding* then = worst_of(*with_most, key_of(f));
  return !then || margin_of(*then) != margin_of(f) || then->verdict < f.verdict;
}

std::optional<State> Mender::cure(const State& from, const Key& key, int most, bool& at_limit) {
  at_limit = false;
  const auto start = tried(from);
  const Finding* target = start ? worst_of(*start, key) : nullptr;
  if (!target) return std::nullopt;
  if (!copper_may_help(from, *start, *target)) not_by_copper_.insert(key);
  std::priority_queue<Waiting> waiting;
  std::set<std::string> seen{key_of(from)};
  std::size_t order = 0;
  waiting.push({from, cost(from), order++});
  int trials = 0;
  bool is_cut = false;
  std::optional<State> found;  // by a single change, where there were too many ways
  while (!waiting.empty()) {
    if (trials >= most) {
      // Too many ways there: straight to a state that is enough, and on from that.
      if (is_cut) break;
      is_cut = true;
      found = single(from, *start, *target);
      const auto far = grown(from, key, most_while_growing);
      if (!far) break;
      waiting = {};
      waiting.push({*far, cost(*far), order++});
      trials = 0;
    }
    if (found && waiting.top().cost >= cost(*found)) break;
    const Waiting w = waiting.top();
    waiting.pop();
    ++trials;
    const auto trial = tried(w.state);
    if (!trial || is_unmoved(*trial, w)) continue;
    auto list = worse(*trial);
    const bool cured = is_cured(*trial, key);
    if (cured && list.empty()) list = deeper(w.state, *trial);
    if (cured && list.empty()) return w.state;
    const Finding* next = cured ? list.front() : worst_of(*trial, key);
    if (!next) continue;  // the finding is gone, which is no pass
    for (const Move& move : moves(w.state, *trial, *next)) {
      State state = w.state;
      turn(state, move);
      if (!seen.insert(key_of(state)).second) continue;
      const double costs = cost(state);
      waiting.push({std::move(state), costs, order++, key_of(*next), margin_of(*next)});
    }
  }
  if (!found && !is_cut) found = single(from, *start, *target);
  at_limit = is_cut && !found;
  return found;
}

Outcome Mender::outcome_of(const State& state, const Key& key) {
  const auto trial = tried(state);
  if (!trial || !is_cured(*trial, key)) return Outcome::fails;
  return worse(*trial).empty() && deeper(state, *trial).empty() ? Outcome::passes : Outcome::breaks;
}

/// The cheapest of the ladders that begin here.
std::optional<State> Mender::single(const State& from, const Trial& start, const Finding& f) {
  std::optional<State> best;
  for (const Move& move : moves(from, start, f)) {
    auto state = mildest_of(
        ladder_of(from, start, f, move),
        [&](const State& one) { return outcome_of(one, key_of(f)); }, [] { return true; });
    if (state && (!best || cost(*state) < cost(*best))) best = std::move(state);
  }
  return best;
}

bool Mender::is_other_type(const State& from, const Move& move) const {
  const auto& [knob, setting] = move.front();
  return knob.of == Knob::Of::device && device_now(from, knob).type != setting.type;
}

std::vector<State> Mender::ladder_of(const State& from, const Trial& trial, const Finding& f,
                                     const Move& first) const {
  State one = from;
  turn(one, first);
  std::vector<State> ladder{one};
  const Knob knob = first.front().first;
  const Setting& setting = first.front().second;
  if (const tables::Conductor* next = setting.conductor) {
    const bool larger =
        copper_added(document_, tables_, one) > copper_added(document_, tables_, from);
    for (const tables::Conductor& size : conductors_) {
      if (larger ? size.copper <= next->copper : size.copper >= next->copper) continue;
      for (const auto& turned : first) one[turned.first] = {.conductor = &size};
      ladder.push_back(one);
    }
    if (!larger) std::reverse(ladder.begin() + 1, ladder.end());
    return ladder;
  }
  if (knob.of != Of::device || is_other_type(from, first)) return ladder;
  const bool up = setting.rating > device_now(from, knob).rating;
  while (true) {
    const Setting now = ladder.back().at(knob);
    const auto list = moves(ladder.back(), trial, f);
    const auto next = std::find_if(list.begin(), list.end(), [&](const Move& move) {
      const auto& [k, s] = move.front();
      return k == knob && s.type == now.type && (s.rating > now.rating) == up;
    });
    if (next == list.end()) return ladder;
    turn(one, *next);
    ladder.push_back(one);
  }
}

std::optional<State> mildest_of(const std::vector<State>& ladder,
                                const std::function<Outcome(const State&)>& tried,
                                const std::function<bool()>& may_try) {
  constexpr std::size_t most_beyond = 3;
  std::map<std::size_t, Outcome> known;
  const auto at = [&](std::size_t i) {
    const auto [outcome, is_new] = known.try_emplace(i, Outcome::fails);
    if (is_new) outcome->second = tried(ladder[i]);
    return outcome->second;
  };
  std::size_t low = 0, high = ladder.size() - 1;
  if (at(high) == Outcome::fails) return std::nullopt;
  while (low < high && may_try()) {
    const std::size_t middle = (low + high) / 2;
    if (at(middle) == Outcome::fails) low = middle + 1;
    else high = middle;
  }
  for (std::size_t i = high; i < ladder.size() && i < high + most_beyond; ++i) {
    if (known.count(i) == 0 && !may_try()) break;
    if (at(i) == Outcome::passes) return ladder[i];
  }
  return std::nullopt;
}

/// Size by size where it helps most for its copper, until the finding passes.
std::optional<State> Mender::grown(const State& from, const Key& key, int most) {
  State state = from;
  auto trial = tried(state);
  for (int trials = 0; trial && trials < most;) {
    if (is_cured(*trial, key)) return state;
    const Finding* f = worst_of(*trial, key);
    if (!f) return std::nullopt;
    const double here = cost(state);
    double best = 0.0;
    State next;
    for (const Move& move : moves(state, *trial, *f)) {
      if (!move.front().second.conductor) continue;
      State one = state;
      turn(one, move);
      const auto there = tried(one);
      ++trials;
      const Finding* then = there ? worst_of(*there, key) : nullptr;
      if (!then) continue;
      const double gain = is_cured(*there, key) ? 1.0 : double(then->margin) - double(f->margin);
      const double worth = gain / std::max(1e-6, cost(one) - here);
      if (worth > best) best = worth, next = std::move(one);
    }
    if (best <= 0.0) return std::nullopt;
    state = std::move(next);
    trial = tried(state);
  }
  return std::nullopt;
}

}  // namespace housepower::choice::inside

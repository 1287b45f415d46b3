// SPDX-License-Identifier: Apache-2.0
// The steps that may help a finding: read from its rule's sign table and its subject, from nothing
// that a rule calculates.
#include <algorithm>
#include <cmath>

#include "housepower/checks/run_end.hpp"
#include "mending.hpp"
#include "stock.hpp"

namespace housepower::choice::inside {
namespace {

using checks::Effect;
using checks::Parameter;
using Of = Knob::Of;
using Part = Subject::Part;

/// The device of that number on a run: one that the design has, or one of the state's own.
std::optional<Knob> device_knob(const Document& d, const State& state, std::size_t run,
                                std::size_t number) {
  const std::size_t stated = d.run[run].protection.size();
  if (number < stated) return Knob{Of::device, run, number};
  std::size_t beyond = number - stated;
  for (const auto& [knob, setting] : state)
    if (knob.of == Of::new_device && knob.run == run && beyond-- == 0) return knob;
  return std::nullopt;
}

std::string conductor_name(const Document& d, const State& state, const Knob& k) {
  if (const auto turned = state.find(k); turned != state.end())
    return turned->second.conductor->name;
  switch (k.of) {
  case Of::conductor: return d.run[k.run].conductor.value_or("");
  case Of::return_conductor: return d.run[k.run].return_->conductor.value_or("");
  case Of::link_positive: return d.bank->links->positive->conductor;
  case Of::link_negative: return d.bank->links->negative->conductor;
  default: return d.bank->each_battery->lead->conductor;
  }
}

bool has_own_return(const design::Run& run) { return run.return_ && run.return_->conductor; }

}  // namespace

std::optional<Move> Mender::sized(const State& state, const Knob& k, bool larger) const {
  const auto written = conductor_name(document_, state, k);
  const auto found = tables::conductor_named(tables_, written);
  const auto* now = std::get_if<tables::Conductor>(&found);
  if (!now) return std::nullopt;  // left open
  const tables::Conductor* next = nullptr;
  for (const tables::Conductor& one : conductors_) {
    const double ratio = double(one.copper / now->copper);
    if (larger && ratio > 1.0 + 1e-9 && !next) next = &one;
    if (!larger && ratio < 1.0 - 1e-9) next = &one;
  }
  if (!next) return std::nullopt;
  return Move{{k, {.conductor = next}}};
}

void Mender::conductor_moves(const State& state, const Trial& trial, const Finding& f,
                             std::vector<Move>& list) const {
  const auto effect = effect_of(f.rule, Parameter::area);
  if (!effect || *effect == Effect::none || not_by_copper_.count(key_of(f)) > 0) return;
  const auto own = own_run(f.subject);
  std::vector<std::size_t> runs = runs_of(trial, f.subject);
  if (own && *effect != Effect::worse) {
    runs = {*own};
    // What the device guards beyond its own run has to bear the fault, too.
    const auto number = device_number(f.subject);
    for (const auto& device : trial.wiring.devices)
      if (number && device.run && std::size_t(device.run->index) == *own &&
          device.number == *number)
        for (const auto& guarded : device.conductors)
          if (guarded.run &&
              std::find(runs.begin(), runs.end(), std::size_t(guarded.run->index)) == runs.end())
            runs.push_back(std::size_t(guarded.run->index));
  }
  const auto add = [&](const Knob& k) {
    for (const bool larger : {true, false}) {
      if (larger ? *effect == Effect::worse : *effect == Effect::better) continue;
      auto move = sized(state, k, larger);
      if (!move) continue;
      // A larger size may be the cheaper one.
      const tables::Conductor* const next = move->front().second.conductor;
      for (const tables::Conductor& one : conductors_)
        if (least_ == LeastChange::price && larger && one.copper > next->copper)
          list.push_back({{k, {.conductor = &one}}});
      list.push_back(*std::move(move));
    }
  };
  const bool of_return = f.subject.is(Subject::Part::back);
  for (const std::size_t run : runs) {
    const bool divided = has_own_return(document_.run[run]);
    if (!(of_return && divided && own == run)) add({Of::conductor, run});
    if (divided) add({Of::return_conductor, run});
  }
}

void Mender::link_moves(const State& state, const Finding& f, std::vector<Move>& list) const {
  if (!document_.bank || !f.subject.is(Subject::Kind::bank)) return;
  const design::Bank& bank = *document_.bank;
  const auto effect = effect_of(f.rule, Parameter::area);
  const bool larger = effect != Effect::worse;
  const bool positive = bank.links && bank.links->positive,
             negative = bank.links && bank.links->negative,
             lead = bank.each_battery && bank.each_battery->lead;
  const auto add = [&](std::initializer_list<Knob> knobs) {
    Move joint;
    for (const Knob& k : knobs)
      if (auto move = sized(state, k, larger))
        joint.insert(joint.end(), move->begin(), move->end());
    if (!joint.empty()) list.push_back(std::move(joint));
  };
  if (f.subject.is(Part::link_positive) && positive) return add({{Of::link_positive}});
  if (f.subject.is(Part::link_negative) && negative) return add({{Of::link_negative}});
  if (f.subject.is(Part::lead) && lead) return add({{Of::lead}});
  const checks::Rule* rule = checks::rule_named(f.rule);
  const bool of_joints = f.subject.is(Part::link_positive) || f.subject.is(Part::link_negative) ||
                         (rule && rule->needs == checks::Needs::bank);
  const int batteries = bank.quantity.value_or(1);
  if (!of_joints || batteries < 2) return;
  const std::vector<int> ends{1, batteries};
  const bool turned = state.count({Of::takeoff}) > 0 || bank.takeoff_from == ends;
  if (bank.links && !turned) list.push_back({{Knob{Of::takeoff}, {.takeoff = ends}}});
  if (positive && negative) add({{Of::link_positive}, {Of::link_negative}});
  if (lead) add({{Of::lead}});
}

std::vector<Current> Mender::ratings_of(std::string_view type) const {
  std::vector<Current> ratings;
  for (const Offer& offer : offers_)
    if (offer.type == type) ratings.push_back(offer.rating);
  if (ratings.empty() && devices_are_stocked(document_)) return stocked_ratings(document_, type);
  if (ratings.empty()) {
    for (const auto& maker : document_.device)
      if (maker.name == type) ratings = maker.ratings;
    if (const auto* fuse = tables_.fuse(type); ratings.empty() && fuse) ratings = fuse->ratings;
    if (ratings.empty())
      for (const auto& run : document_.run)
        for (const auto& p : run.protection)
          if (p.type == type) ratings.push_back(p.rating);
  }
  std::sort(ratings.begin(), ratings.end());
  return ratings;
}

Setting Mender::device_now(const State& state, const Knob& k) const {
  if (const auto turned = state.find(k); turned != state.end()) return turned->second;
  const auto& device = document_.run[k.run].protection[k.number];
  return {.type = device.type, .rating = device.rating};
}

void Mender::rating_moves(const State& state, const Trial& trial, const Finding& f,
                          std::vector<Move>& list) const {
  const auto effect = effect_of(f.rule, Parameter::device_rating);
  if (effect == Effect::none) return;
  const auto turn_one = [&](const Knob& k, bool larger) {
    const Setting now = device_now(state, k);
    std::optional<Current> next;
    for (const Current& rating : ratings_of(now.type)) {
      if (same_rating(rating, now.rating)) continue;
      if (larger && rating > now.rating && !next) next = rating;
      if (!larger && rating < now.rating) next = rating;
    }
    if (next) list.push_back({{k, {.type = now.type, .rating = *next}}});
  };
  const auto own = own_run(f.subject);
  if (const auto number = device_number(f.subject); own && number) {
    const auto knob = device_knob(document_, state, *own, *number);
    if (knob && effect != Effect::worse) turn_one(*knob, true);
    if (knob && effect != Effect::better) turn_one(*knob, false);
    if (effect) return;
    // Between two devices: the rule does not say which way, nor which of them.
    for (const std::size_t run : runs_of(trial, f.subject))
      for (std::size_t n = 0; run != *own && n < document_.run[run].protection.size(); ++n)
        turn_one({Of::device, run, n}, true);
    return;
  }
  if (!effect || effect == Effect::better) return;
  // A place behind devices: the nearest before it, smaller.
  for (const std::size_t run : runs_of(trial, f.subject)) {
    for (std::size_t n = 0; n < document_.run[run].protection.size(); ++n)
      turn_one({Of::device, run, n}, false);
    if (!document_.run[run].protection.empty()) break;
  }
}

void Mender::type_moves(const State& state, const Trial& trial, const Finding& f,
                        std::vector<Move>& list) const {
  const auto own = own_run(f.subject);
  const auto number = device_number(f.subject);
  const auto knob = own && number ? device_knob(document_, state, *own, *number) : std::nullopt;
  if (!knob) return;
  const auto effect = effect_of(f.rule, Parameter::device_rating);
  const Setting now = device_now(state, *knob);
  const auto end = knob->of == Of::new_device
                       ? (knob->number == 0 ? design::RunEnd::from : design::RunEnd::to)
                       : document_.run[*own].protection[knob->number].end;
  const DeviceNeed need = need_of(trial, *own, end);
  std::string done = now.type;
  for (const Offer& first : offers_) {
    if (first.type == done || first.type == now.type) continue;
    done = first.type;
    if (need.breaking && first.breaking < *need.breaking) continue;
    std::optional<Current> above, below, equal;
    for (const Offer& offer : offers_) {
      if (offer.type != first.type) continue;
      if (same_rating(offer.rating, now.rating)) equal = offer.rating;
      else if (offer.rating > now.rating && !above) above = offer.rating;
      else if (offer.rating < now.rating) below = offer.rating;
    }
    const auto add = [&](const std::optional<Current>& rating) {
      if (rating) list.push_back({{*knob, {.type = first.type, .rating = *rating}}});
    };
    if (effect != Effect::better && effect != Effect::worse && !equal) add(above), add(below);
    if (effect == Effect::better) add(above);
    if (effect == Effect::worse) add(below);
    add(equal);
  }
}

void Mender::device_moves(const State& state, const Trial& trial, const Finding& f,
                          std::vector<Move>& list) const {
  if (!checks::is_about(f, checks::About::missing_device)) return;
  const auto run = own_run(f.subject);
  if (!run) return;
  for (const design::RunEnd end : {design::RunEnd::from, design::RunEnd::to}) {
    const Knob knob{Of::new_device, *run, end == design::RunEnd::from ? 0u : 1u};
    if (f.in_case != checks::case_of(end) || state.count(knob) > 0) continue;
    const DeviceNeed need = need_of(trial, *run, end);
    std::string done;
    for (const Offer& offer : offers_) {
      const bool fits = offer.rating >= need.least && offer.rating <= need.most && need.breaking &&
                        offer.breaking >= *need.breaking;
      if (!fits || offer.type == done) continue;
      done = offer.type;
      list.push_back({{knob, {.type = offer.type, .rating = offer.rating}}});
    }
  }
}

void Mender::place_moves(const State& state, const Finding& f, std::vector<Move>& list) const {
  const auto own = own_run(f.subject);
  if (!own || !f.measured || !f.limit) return;
  const auto is = [&](Kind kind) { return f.measured->kind == kind && f.limit->kind == kind; };
  const auto number = device_number(f.subject);
  if (number && *number < document_.run[*own].protection.size() && is(kind_of<Length>) &&
      effect_of(f.rule, Parameter::distance) == Effect::worse) {
    const auto& stated = document_.run[*own].protection[*number].distance;
    const Knob knob{Of::device_place, *own, *number};
    const double beyond = f.measured->si - f.limit->si;
    const double place = stated ? stated->value() - beyond : -1.0;
    // In whole centimetres, as one measures in a van.
    if (place >= 0.0 && beyond > 0.0 && state.count(knob) == 0)
      list.push_back({{knob, {.distance = std::floor(100.0 * place + 1e-6) / 100.0 * metre}}});
  }
  const auto item =
      f.subject.is(Part::inline_item) ? std::optional(f.subject.number()) : std::nullopt;
  if (!item || *item >= document_.run[*own].inline_items.size() || !is(kind_of<Current>)) return;
  // What it has to be made for at least, in the steps of the trade.
  const auto* steps = tables_.fuse("ul-248-class-t");
  const Current needed = std::max(f.measured->si, f.limit->si) * ampere;
  for (const Current& step : steps ? steps->ratings : std::vector<Current>{}) {
    if (step < needed) continue;
    list.push_back({{Knob{Of::item, *own, *item}, {.rating = step}}});
    return;
  }
}

std::vector<Move> Mender::moves(const State& state, const Trial& trial, const Finding& f) const {
  std::vector<Move> list;
  device_moves(state, trial, f, list);
  rating_moves(state, trial, f, list);
  conductor_moves(state, trial, f, list);
  link_moves(state, f, list);
  place_moves(state, f, list);
  type_moves(state, trial, f, list);
  return list;
}

}  // namespace housepower::choice::inside

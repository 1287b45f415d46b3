// SPDX-License-Identifier: Apache-2.0
// Findings of one rule at several places: the same kind of step at each of them at once.
#include <algorithm>
#include <queue>
#include <tuple>

#include "mending.hpp"
#include "stock.hpp"

namespace housepower::choice::inside {

namespace {

/// The worst findings of those places that do not pass yet.
std::vector<const Finding*> uncured(const Mender& mender, const Trial& trial,
                                    const std::vector<Key>& keys) {
  std::vector<const Finding*> list;
  for (const Key& key : keys)
    if (const Finding* f = worst_of(trial, key); f && !mender.is_cured(trial, key))
      list.push_back(f);
  return list;
}

/// The first of them, with what the same rule says of other places.
std::vector<const Finding*> with_siblings(const std::vector<const Finding*>& all) {
  std::vector<const Finding*> list;
  std::set<Key> known;
  for (const Finding* f : all)
    if (f->rule == all.front()->rule && known.insert(key_of(*f)).second) list.push_back(f);
  return list;
}

/// How far a state is from one with nothing wrong: a caution counts once, a fail and what cannot be
/// said any more twice, and each by how much it is beyond its limit (from memory: judgement; it only
/// says where to look first).
double still_wrong(const std::vector<std::vector<const Finding*>>& wrong) {
  double sum = 0.0;
  for (const auto& list : wrong)
    for (const Finding* f : list)
      sum +=
          (f->verdict == Verdict::caution ? 1.0 : 2.0) + std::clamp(-double(f->margin), 0.0, 1.0);
  return sum;
}

/// A state that waits to be gone on from: the one with the least that is wrong, then the cheapest.
struct Nearness {
  State state;
  double wrong = 0.0, cost = 0.0;
  std::size_t order = 0;
  bool operator<(const Nearness& other) const {
    return std::tie(wrong, cost, order) > std::tie(other.wrong, other.cost, other.order);
  }
};

}  // namespace

bool Mender::is_same_kind(const State& state, const Move& move, const Finding& of,
                          const Move& other, const Finding& of_other) const {
  if (move.size() != other.size()) return false;
  for (std::size_t i = 0; i < move.size(); ++i) {
    const auto& [knob, setting] = move[i];
    const auto& [its_knob, its] = other[i];
    if (knob.of != its_knob.of) return false;
    const bool at_own = own_run(of.subject) == knob.run;
    if (at_own != (own_run(of_other.subject) == its_knob.run)) return false;
    if (!at_own && knob != its_knob) return false;
    const auto grows = [&](const Knob& k, const Setting& s) {
      if (s.conductor)
        return copper_added(document_, tables_, {{k, s}}) >
               copper_added(document_, tables_,
                            state.count(k) > 0 ? State{{k, state.at(k)}} : State{});
      return k.of == Knob::Of::device && s.rating > device_now(state, k).rating;
    };
    const bool other_type =
        knob.of == Knob::Of::device && device_now(state, knob).type != setting.type;
    if (setting.type != its.type) return false;
    if (!other_type && grows(knob, setting) != grows(its_knob, its)) return false;
  }
  return true;
}

std::vector<Move> Mender::moves_together(const State& state, const Trial& trial,
                                         const std::vector<const Finding*>& siblings) const {
  const Finding& first = *siblings.front();
  std::vector<std::vector<Move>> of_siblings;
  for (const Finding* f : siblings) of_siblings.push_back(moves(state, trial, *f));
  std::vector<Move> list;
  for (const Move& move : of_siblings.front()) {
    Move joint = move;
    for (std::size_t i = 1; i < siblings.size(); ++i)
      for (const Move& its : of_siblings[i]) {
        if (!is_same_kind(state, move, first, its, *siblings[i])) continue;
        joint.insert(joint.end(), its.begin(), its.end());
        break;
      }
    list.push_back(std::move(joint));
  }
  return list;
}

std::vector<std::vector<const Finding*>> Mender::wrong_in(const State& state, const Trial& trial,
                                                          const std::vector<Key>& keys) const {
  std::vector<std::vector<const Finding*>> all;
  for (auto list : {uncured(*this, trial, keys), worse(trial), deeper(state, trial)})
    if (!list.empty()) all.push_back(std::move(list));
  return all;
}

std::optional<State> Mender::cure_together(const State& from, const std::vector<Key>& keys,
                                           int most) {
  const auto is_lost = [&](const Trial& trial) {  // a finding that is gone, which is no pass
    return std::any_of(keys.begin(), keys.end(), [&](const Key& key) {
      return !worst_of(trial, key) && !is_cured(trial, key);
    });
  };
  std::priority_queue<Nearness> waiting;
  std::set<std::string> seen{key_of(from)};
  std::size_t order = 0;
  waiting.push({from, 0.0, cost(from), order++});
  for (int trials = 0; !waiting.empty();) {
    const State state = waiting.top().state;
    waiting.pop();
    const auto trial = tried(state);
    if (!trial) continue;
    const auto wrong = wrong_in(state, *trial, keys);
    if (wrong.empty()) return state;
    const auto next = with_siblings(wrong.front());
    for (const Move& move : moves_together(state, *trial, next)) {
      State one = state;
      turn(one, move);
      if (!seen.insert(key_of(one)).second) continue;
      if (trials++ >= most) return std::nullopt;
      const auto there = tried(one);
      if (!there || is_lost(*there) || is_unmoved(*there, *next.front())) continue;
      const double still = still_wrong(wrong_in(one, *there, keys));
      const double costs = cost(one);
      waiting.push({std::move(one), still, costs, order++});
    }
  }
  return std::nullopt;
}

}  // namespace housepower::choice::inside

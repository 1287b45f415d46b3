// SPDX-License-Identifier: Apache-2.0
// Finding by finding to the least state, then what is left of it when nothing superfluous stays.
#include "housepower/choice/mend.hpp"

#include <algorithm>

#include "housepower/choice/choose.hpp"
#include "mending.hpp"

namespace housepower::choice {
namespace inside {
namespace {

using Of = Knob::Of;

constexpr int most_for_a_fail = 250, most_for_a_caution = 100;

/// What `wiring` chooses for runs that are open: it stays, and is told with the rest.
State chosen_for_open(const Document& document, const tables::Tables& tables,
                      const std::vector<tables::Conductor>& conductors) {
  State state;
  const bool open = std::any_of(document.run.begin(), document.run.end(),
                                [](const design::Run& run) { return !run.conductor; });
  if (!open) return state;
  for (const Choice& choice : choose(document, tables).choices) {
    const auto run = std::find_if(document.run.begin(), document.run.end(),
                                  [&](const design::Run& r) { return r.name == choice.run; });
    if (!choice.why_none.empty() || run == document.run.end()) continue;
    const std::size_t number = std::size_t(run - document.run.begin());
    const auto size = std::find_if(conductors.begin(), conductors.end(),
                                   [&](const auto& c) { return c.name == choice.conductor; });
    if (choice.was_open && size != conductors.end())
      state[{Of::conductor, number}] = {.conductor = &*size};
    for (const ChosenDevice& device : choice.devices)
      state[{Of::new_device, number, device.end == design::RunEnd::from ? 0u : 1u}] = {
          .type = device.type, .rating = device.rating};
  }
  return state;
}

std::vector<Key> troubles_of(const Trial& trial) {
  std::vector<Key> keys;
  for (const Finding& f : trial.findings)
    if (f.verdict >= Verdict::caution &&
        std::find(keys.begin(), keys.end(), key_of(f)) == keys.end())
      keys.push_back(key_of(f));
  return keys;
}

/// Findings of one rule of safety that fail on several runs from the same place.
std::vector<std::vector<Key>> siblings_in(const Document& document, const Trial& trial) {
  std::map<std::pair<std::string_view, std::string>, std::vector<Key>> by_place;
  for (const Finding& f : trial.findings) {
    const auto run = own_run(f.subject);
    if (f.verdict != Verdict::fail || !f.of_safety || !run || is_about_a_missing_device(key_of(f)))
      continue;
    auto& keys = by_place[{f.rule, document.run[*run].from}];
    if (std::find(keys.begin(), keys.end(), key_of(f)) == keys.end()) keys.push_back(key_of(f));
  }
  std::vector<std::vector<Key>> groups;
  for (auto& [place, keys] : by_place)
    if (keys.size() > 1) groups.push_back(std::move(keys));
  return groups;
}

struct Mending {
  Mender& mender;
  const Document& document;
  State state;
  const State fixed;
  std::map<Knob, std::string> why{};
  bool complete = true;

  /// Where the same fails at several places alike, all of them at once.
  void cure_siblings() {
    const auto trial = mender.tried(state);
    if (!trial) return;
    for (const auto& keys : siblings_in(document, *trial)) {
      auto cured = mender.cure_together(state, keys, most_for_a_fail);
      if (!cured) continue;
      state = *std::move(cured);
      for (const Key& key : keys) mender.keep_cured(key);
    }
  }

  /// Every finding that a change can cure; again while one cure makes way for another.
  void cure_all() {
    for (bool again = true; again;) {
      again = false;
      const auto trial = mender.tried(state);
      if (!trial) return;
      for (const Key& key : troubles_of(*trial)) again = cure_one(key) || again;
    }
  }

  bool cure_one(const Key& key) {
    if (mender.has_cured(key)) return false;
    const auto now = mender.tried(state);
    if (!now) return false;
    if (mender.is_cured(*now, key)) {  // by what cured another
      mender.keep_cured(key);
      return false;
    }
    const bool fails = std::any_of(now->findings.begin(), now->findings.end(), [&](const auto& f) {
      return f.verdict == Verdict::fail && key_of(f) == key;
    });
    if (fails && is_about_a_missing_device(key)) return place_one(key);
    bool at_limit = false;
    auto cured = mender.cure(state, key, fails ? most_for_a_fail : most_for_a_caution, at_limit);
    complete = complete && !at_limit;
    if (!cured) return fails && soften(*now, key);
    state = *std::move(cured);
    mender.keep_cured(key);
    return true;
  }

  /// A fail of safety that nothing makes pass is a caution at best: of what is said of one place in
  /// two cases the one may be curable, the other not.
  bool soften(const Trial& now, const Key& key) {
    const bool of_safety =
        std::any_of(now.findings.begin(), now.findings.end(), [&](const auto& f) {
          return f.of_safety && f.verdict == Verdict::caution && key_of(f) == key;
        });
    if (!of_safety) return false;
    bool at_limit = false;
    mender.allow_copper(key, true);
    mender.take_caution_for_cured(true);
    auto softened = mender.cure(state, key, most_for_a_fail, at_limit);
    mender.take_caution_for_cured(false);
    if (!softened) return false;
    state = *std::move(softened);
    mender.keep_cured(key, Verdict::caution);
    return true;
  }

  /// A device where none is, though its place has yet to be measured; only where none of them does,
  /// a conductor that can bear it, or that needs none.
  bool place_one(const Key& key) {
    bool at_limit = false;
    mender.take_devices_to_be_measured(true);
    mender.allow_copper(key, false);
    auto placed = mender.cure(state, key, most_for_a_fail, at_limit);
    mender.allow_copper(key, true);
    if (!placed) placed = mender.cure(state, key, most_for_a_fail, at_limit);
    mender.take_devices_to_be_measured(false);
    complete = complete && !at_limit;
    if (!placed) return false;
    mender.keep_placed();
    state = *std::move(placed);
    mender.keep_cured(key, Verdict::caution);
    return true;
  }

  /// What would be beyond its limit in that state; empty where nothing is.
  std::string against(const State& other) {
    const auto trial = mender.tried(other);
    if (!trial) return "the design cannot be read without it";
    auto list = mender.worse(*trial);
    if (list.empty()) list = mender.deeper(other, *trial);
    if (list.empty()) return {};
    const Finding& f = *list.front();
    return "else " + std::string(word_of(f.verdict)) + ": " + std::string(f.rule) + ", " +
           f.subject.text();
  }

  bool leaves_out() {
    for (const auto& [knob, setting] : State(state)) {
      if (fixed.count(knob) > 0) continue;
      State without = state;
      without.erase(knob);
      why[knob] = against(without);
      if (!why[knob].empty()) continue;
      state = std::move(without);
      return true;
    }
    return false;
  }

  bool lowers(const std::vector<tables::Conductor>& conductors) {
    for (const auto& [knob, setting] : State(state)) {
      if (fixed.count(knob) > 0 || !setting.conductor || setting.conductor == &conductors.front())
        continue;
      State smaller = state;
      smaller[knob].conductor = setting.conductor - 1;
      if (mender.cost(smaller) >= mender.cost(state)) continue;
      const std::string objection = against(smaller);
      if (!objection.empty()) {
        why[knob] = objection;
        continue;
      }
      state = std::move(smaller);
      return true;
    }
    return false;
  }
};

std::string what_would(const Finding& f) {
  if (!f.cure.empty()) return f.cure;
  const checks::Rule* rule = checks::rule_named(f.rule);
  return rule ? std::string(rule->cure) : std::string();
}

}  // namespace
}  // namespace inside

using namespace inside;

std::optional<Mended> mend(const design::Document& document, const design::Design& design,
                           LeastChange least, Diagnostics& diagnostics) {
  const tables::Tables& tables = *design->tables;
  const bool priced =
      std::any_of(document.part.begin(), document.part.end(), [](const design::Part& part) {
        const auto* conductor = std::get_if<design::StockedConductor>(&part.is);
        const auto* device = std::get_if<design::StockedDevice>(&part.is);
        return (conductor && conductor->price) || (device && device->price);
      });
  if (least == LeastChange::price && !priced) {
    diagnostics.error(document.place, "part",
                      "no conductor or device states its price, so the least price cannot be found",
                      "[[part]] with is = \"conductor\", size and price, or --least copper");
    return std::nullopt;
  }
  Mended mended;
  mended.before = checks::check(document, design, checks::Workings::left_out);
  Mender mender(document, tables, mended.before.energy, least);
  if (!mender.base()) return std::nullopt;
  const State opened = chosen_for_open(document, tables, mender.conductors());
  Mending mending{mender, document, opened, opened};
  if (!mender.conductors().empty()) {
    mending.cure_siblings();
    mending.cure_all();
  }
  while (mending.leaves_out() || mending.lowers(mender.conductors())) {
  }
  mended.document = to_be_measured(document, mending.state);
  const auto is_moved = [](const auto& one) { return one.first.of == Of::device_place; };
  if (std::any_of(mending.state.begin(), mending.state.end(), is_moved))
    mended.notes.push_back("where a device is moved to stands as assumed until somebody has "
                           "measured it");
  for (const auto& [knob, setting] : mending.state)
    for (MendedPart change : changes_of(document, knob, setting)) {
      change.why = opened.count(knob) > 0 ? "left open" : mending.why[knob];
      mended.changes.push_back(std::move(change));
    }
  for (const std::string& type : mender.without_ratings()) {
    const auto takes = [&](const auto& one) {
      const Knob& k = one.first;
      return one.second.type == type &&
             (k.of == Of::new_device ||
              document.run[k.run].protection[k.number].rating != one.second.rating);
    };
    if (std::any_of(mending.state.begin(), mending.state.end(), takes))
      mended.notes.push_back("the ratings of \"" + type +
                             "\" are not stated (`ratings` of its [[device]]): the steps of NEC "
                             "240.6 were taken");
  }
  mended.copper = copper_added(document, tables, mending.state);
  if (auto price = price_of(document, tables, mending.state); price && !price->currency.empty())
    mended.price = std::move(price);  // else nothing of it states one
  mended.checks = mender.checks();
  mended.complete = mending.complete;
  Diagnostics again;
  const auto after = design::resolve(mended.document, tables, Defaults::ordinary, again);
  if (!after) return std::nullopt;
  mended.after = checks::check(mended.document, *after, checks::Workings::left_out);
  for (const Finding& f : mended.after.findings)
    if (f.verdict >= Verdict::caution) mended.left.push_back({f, what_would(f)});
  return mended;
}

}  // namespace housepower::choice

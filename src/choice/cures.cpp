// SPDX-License-Identifier: Apache-2.0
// Ladders of single changes first, each from its mildest step; then what repairs what the best of
// them breaks.
#include "housepower/choice/cures.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <tuple>
#include <utility>

#include "housepower/choice/choose.hpp"
#include "housepower/units/phrases.hpp"
#include "mending.hpp"

namespace housepower::choice {
namespace inside {
namespace {

using Of = Knob::Of;

constexpr std::string_view conductor_key = "conductor";

constexpr int most_for_a_finding = 12;
/// Runs that are judged within about a second on a machine of today, all trials of a check together.
constexpr int runs_judged = 6000;

/// A change that cures several findings may cost this many times what one of them would, more where
/// it is on the finding's own run, and so much more copper (kg); from memory: judgement.
constexpr double far_dearer = 1.5, far_dearer_on_its_run = 4.0, little_copper = 0.1;

constexpr std::string_view tried_and_holds = " (tried: this passes and nothing else gets worse";

constexpr std::string_view tried_to_be_measured =
    " (tried: nothing gets worse; measure where it really stands";

std::string in_words(const Document& document, const State& state) {
  std::string text;
  for (const auto& [knob, setting] : state)
    text += (text.empty() ? "" : " and ") + words_of(document, knob, setting);
  return text;
}

/// "ampacity of run/main fails", "by more" where it did before.
std::string said_of(const Finding& f, bool before = false) {
  return std::string(f.rule) + " of " + f.subject.text() + (before ? " gets worse: it" : "") +
         (f.verdict == Verdict::fail      ? " fails"
          : f.verdict == Verdict::caution ? " is a caution"
                                          : " is " + std::string(word_of(f.verdict)));
}

bool is_of_bank(const Knob& k) {
  return k.of == Of::link_positive || k.of == Of::link_negative || k.of == Of::lead ||
         k.of == Of::takeoff;
}

/// A state in which nothing is worse, and which of the findings pass in it.
struct Sound {
  State state;
  std::set<Key> cures;
  double cost = 0.0;
  std::string reveals{};           // what was not known before and is a caution then
  std::set<Key> to_be_measured{};  // cured as far as a device is there; its place is open yet

  /// Turns something of the subject's own run, or the very part of the bank that it is.
  [[nodiscard]] bool stands_at(const Subject& subject) const {
    const auto run = own_run(subject);
    const auto of = subject.is(Subject::Part::link_positive)   ? Of::link_positive
                    : subject.is(Subject::Part::link_negative) ? Of::link_negative
                                                               : Of::lead;
    return std::any_of(state.begin(), state.end(), [&](const auto& one) {
      const Knob& k = one.first;
      return run ? k.run == *run && !is_of_bank(k) : is_of_bank(k) && k.of == of;
    });
  }
};
struct Sounds {
  std::set<Key> wanted;
  std::set<Key> of_device{};  // cured by a device where none is, not by copper that bears any fault
  std::vector<Sound> all{};

  /// At its own place first, then the one that cures this and most others, so that findings of one
  /// run name one change; of those that are far dearer than need be none.
  [[nodiscard]] const Sound* best_for(const Key& key) const {
    const Sound *cheapest = nullptr, *best = nullptr;
    for (const Sound& one : all)
      if (one.cures.count(key) > 0 && (!cheapest || one.cost < cheapest->cost)) cheapest = &one;
    const auto rank = [&](const Sound& one) {
      return std::tuple(one.stands_at(key.second), one.cures.size(), -one.cost);
    };
    for (const Sound& one : all) {
      const double most = one.stands_at(key.second) ? far_dearer_on_its_run : far_dearer;
      if (one.cures.count(key) > 0 && one.cost <= most * cheapest->cost + little_copper &&
          (!best || rank(one) > rank(*best)))
        best = &one;
    }
    return best;
  }
  /// One was found on its own run already, so that no other need be looked for.
  [[nodiscard]] bool has_own_for(const Key& key) const {
    return std::any_of(all.begin(), all.end(), [&](const Sound& one) {
      return one.cures.count(key) > 0 && one.stands_at(key.second);
    });
  }
};

/// It holds a current against a limit.
bool is_of_a_load(const Finding& f) {
  return f.measured && f.limit && f.limit->kind == kind_of<Current>;
}

/// The trials of one finding.
class Cure {
public:
  Cure(Mender& mender, const Document& document, Sounds& sounds, const Key& key, int most)
      : mender_(mender), document_(document), sounds_(sounds), key_(key), left_(most) {}

  /// Looks for a state in which the finding passes and nothing is worse.
  std::optional<State> found(const Finding& f) {
    auto moves = mender_.moves({}, *mender_.base(), f);
    // One that is missing is to be put there; copper that bears any fault is no substitute. What
    // a source that limits itself can drive is a load, which copper may bear.
    if (sounds_.of_device.count(key_) > 0)
      std::erase_if(moves, [](const Move& move) { return move.front().second.conductor; });
    any_ = !moves.empty();
    std::stable_sort(moves.begin(), moves.end(), [&](const Move& a, const Move& b) {
      const bool other = mender_.is_other_type({}, b);
      if (mender_.is_other_type({}, a) != other) return other;
      return mender_.cost({a.begin(), a.end()}) < mender_.cost({b.begin(), b.end()});
    });
    for (const Move& move : moves) {
      if (left_ <= 0) return std::nullopt;
      if (auto state = climbed(mender_.ladder_of({}, *mender_.base(), f, move))) return state;
    }
    return repaired();
  }

  /// On from a change that cures other findings of the same device: one that cures this, too.
  bool joins(const Sound& other, const Finding& f) {
    const auto trial = mender_.tried(other.state);
    --left_;
    if (!trial) return false;
    for (const Finding& now : trial->findings) {
      if (key_of(now) != key_of(f) || now.verdict == Verdict::pass) continue;
      for (const Move& move : mender_.moves(other.state, *trial, now)) {
        State state = other.state;
        for (const auto& [knob, setting] : move) state[knob] = setting;
        if (left_ <= 0) return false;
        if (outcome_of(state) != Outcome::passes) continue;
        const auto& cures = passed_.back().cures;
        if (!std::includes(cures.begin(), cures.end(), other.cures.begin(), other.cures.end()))
          continue;
        offered(state);
        return true;
      }
      return false;
    }
    return false;
  }

  [[nodiscard]] bool any() const { return any_; }
  /// Something that was tried brought the finding nearer its limit, or farther from it.
  [[nodiscard]] bool has_moved() const { return has_moved_; }
  [[nodiscard]] bool spent() const { return left_ <= 0; }
  /// "4 mm2 for run "x" makes breaking-capacity fail at run/x/protection/0".
  [[nodiscard]] std::string conflict() const {
    if (!best_) return {};
    return in_words(document_, best_->state) + " would fix it, but then " + best_->breaks;
  }

private:
  struct Breaking {
    State state;
    std::size_t count = 0;
    std::string breaks;
    Trial trial;
  };

  Outcome outcome_of(const State& state) {
    --left_;
    auto trial = mender_.tried(state);
    has_moved_ = has_moved_ || !trial || !stands_as_before(*trial);
    if (!trial || !mender_.is_cured(*trial, key_)) return Outcome::fails;
    const auto worse = breaks_of(state, *trial);
    if (worse.empty()) {
      passed_.push_back(sound_of(state, *trial));
      return Outcome::passes;
    }
    // of two that break as much the later one, which is the milder
    if (!best_ || worse.size() <= best_->count) {
      const Finding& f = *worse.front();
      std::string breaks = said_of(f, mender_.worse(*trial).empty());
      const std::size_t count = worse.size();
      best_ = Breaking{state, count, std::move(breaks), *std::move(trial)};
    }
    return Outcome::breaks;
  }

  /// Measured as it was, in every case in which it stood.
  bool stands_as_before(const Trial& trial) const {
    const auto stands = [&](const Finding& was) {
      const Finding* now = checks::same_finding(trial.findings, was);
      return now && was.measured && now->measured &&
             std::abs(double(now->margin) - double(was.margin)) <=
                 1e-9 * std::abs(double(was.margin));
    };
    return std::all_of(mender_.base()->findings.begin(), mender_.base()->findings.end(),
                       [&](const Finding& was) { return key_of(was) != key_ || stands(was); });
  }

  /// What gets another verdict, and what fails by more on a run that is changed.
  std::vector<const Finding*> breaks_of(const State& state, const Trial& trial) const {
    auto all = mender_.worse(trial);
    for (const Finding* f : mender_.deeper(state, trial))
      if (key_of(*f) != key_) all.push_back(f);
    return all;
  }

  Sound sound_of(const State& state, const Trial& trial) const {
    Sound sound{state, {}, mender_.cost(state)};
    for (const Key& key : sounds_.wanted)
      if (sounds_.of_device.count(key) > 0 ? key == key_ : mender_.is_cured(trial, key))
        sound.cures.insert(key);
    if (is_about_a_missing_device(key_))
      for (const Finding& one : trial.findings)
        if (key_of(one) == key_ && one.verdict != Verdict::pass) sound.to_be_measured.insert(key_);
    if (const Finding* f = mender_.revealed(trial))
      sound.reveals = "; " + std::string(f->rule) + " of " + f->subject.text() +
                      " is then a caution, not known before";
    return sound;
  }

  /// Of all that passed on the way only the mildest is offered.
  State offered(const State& state) {
    for (const Sound& one : passed_)
      if (one.state == state) {
        sounds_.all.push_back(one);
        break;
      }
    return state;
  }

  /// The mildest step of a ladder with which the finding passes.
  std::optional<State> climbed(const std::vector<State>& ladder) {
    const auto state = mildest_of(
        ladder, [&](const State& one) { return outcome_of(one); }, [&] { return left_ > 0; });
    return state ? std::optional(offered(*state)) : std::nullopt;
  }

  /// The change that cures but breaks least, with one more that repairs what it breaks.
  std::optional<State> repaired() {
    if (!best_) return std::nullopt;
    const Breaking start = *best_;
    for (const Finding* f : breaks_of(start.state, start.trial))
      for (const Move& move : mender_.moves(start.state, start.trial, *f)) {
        State state = start.state;
        if (std::any_of(move.begin(), move.end(),
                        [&](const auto& one) { return state.count(one.first) > 0; }))
          continue;
        for (const auto& [knob, setting] : move) state[knob] = setting;
        if (left_ <= 0) return std::nullopt;
        if (outcome_of(state) == Outcome::passes) return offered(state);
      }
    return std::nullopt;
  }

  Mender& mender_;
  const Document& document_;
  Sounds& sounds_;
  const Key& key_;
  int left_;
  bool any_ = false, has_moved_ = false;
  std::optional<Breaking> best_{};
  std::vector<Sound> passed_{};
};

/// A figure, but for those in a name.
bool names_a_value(std::string_view text) {
  bool in_name = false;
  return std::any_of(text.begin(), text.end(), [&](unsigned char c) {
    if (c == '"') in_name = !in_name;
    return !in_name && std::isdigit(c) != 0;
  });
}

/// What the rule says in general, which names no value; or the finding's own words where they do
/// not either.
std::string in_general(const Finding& f) {
  if (!f.cure.empty() && !names_a_value(f.cure)) return f.cure;
  const checks::Rule* rule = checks::rule_named(f.rule);
  std::string text = rule ? std::string(rule->cure) : std::string();
  if (!text.empty()) text.front() = char(std::tolower(static_cast<unsigned char>(text.front())));
  while (text.ends_with('.')) text.pop_back();
  return text;
}

}  // namespace
}  // namespace inside

using namespace inside;

namespace {

bool wants_conductor(const Finding& f) {
  return f.verdict > Verdict::pass &&
         std::any_of(f.wants.begin(), f.wants.end(),
                     [](const Subject& key) { return own_run(key) && key.key() == conductor_key; });
}

/// Names what `wiring` chooses for the runs whose conductor a finding asks for.
int name_choices(const design::Document& document, const tables::Tables& tables, int most,
                 checks::Checked& checked) {
  const bool asked = std::any_of(checked.findings.begin(), checked.findings.end(), wants_conductor);
  const bool open = std::any_of(document.run.begin(), document.run.end(),
                                [](const design::Run& run) { return !run.conductor; });
  if (!asked || !open) return 0;
  const Chosen chosen = choose(document, tables, most);
  for (Finding& f : checked.findings) {
    if (!wants_conductor(f)) continue;
    std::string list;
    for (const Subject& key : f.wants)
      for (const Choice& choice : chosen.choices)
        if (const auto run = own_run(key); run && key.key() == conductor_key &&
                                           document.run[*run].name == choice.run &&
                                           choice.was_open && choice.why_none.empty())
          list += (list.empty() ? "" : ", ") + choice.conductor + " for run " + quoted(choice.run);
    if (!list.empty()) f.cure = "state the conductor; `wiring` chooses " + list;
  }
  return chosen.checks;
}

}  // namespace

bool asks_to_state(const Finding& f) { return f.verdict >= Verdict::caution && !f.wants.empty(); }

namespace {

/// Tries what a rule proposes: whether that settles what is said of it.
bool try_proposal(Mender& mender, Finding& f) {
  const auto proposed = std::exchange(f.cure_set, {});
  const auto trial = mender.tried(proposed);
  const bool cured = trial && mender.is_cured(*trial, key_of(f));
  auto worse = trial ? mender.worse(*trial) : std::vector<const Finding*>();
  if (trial && worse.empty()) worse = mender.deeper({}, *trial);
  if (cured && worse.empty()) {
    f.cure += std::string(tried_and_holds) + ")";
    f.cure_set = proposed;
    return true;
  }
  f.cure = cured ? f.cure + " would fix it, but then " + said_of(*worse.front()) +
                       "; otherwise: " + in_general(f)
                 : in_general(f);
  return false;
}

/// Findings of one device whose cures differ: one change that cures both, where there is one.
void join(Mender& mender, const Document& document, Sounds& sounds,
          const std::vector<Finding*>& list, std::size_t i, int& left) {
  if (!device_number(list[i]->subject)) return;
  const Sound* own = sounds.best_for(key_of(*list[i]));
  if (!own) return;
  const Sound from = *own;  // the list of them grows
  for (const Finding* f : list) {
    const Key key = key_of(*f);
    if (f->subject != list[i]->subject || from.cures.count(key) > 0 || left <= 0) continue;
    const int before = mender.checks();
    Cure cure(mender, document, sounds, key, std::min(most_for_a_finding, left));
    const bool joined = cure.joins(from, *f);
    left -= mender.checks() - before;
    if (joined) return;
  }
}

}  // namespace

void forget_untried(checks::Checked& checked) {
  for (Finding& f : checked.findings) f.cure_set.clear();
}

int try_cures(const design::Document& document, const design::Design& design,
              checks::Checked& checked) {
  int left = runs_judged / std::max(1, int(document.run.size()));
  left -= name_choices(document, *design->tables, left / 2, checked);
  std::vector<Finding*> list;
  Sounds sounds;
  for (Finding& f : checked.findings) {
    if (f.verdict < Verdict::caution || asks_to_state(f)) {
      f.cure_set.clear();
      continue;
    }
    list.push_back(&f);
    sounds.wanted.insert(key_of(f));
    if (is_about_a_missing_device(key_of(f)) && !is_of_a_load(f))
      sounds.of_device.insert(key_of(f));
  }
  if (list.empty()) return 0;
  Mender mender(document, *design->tables, checked.energy, LeastChange::copper);
  if (!mender.base()) return forget_untried(checked), 0;
  std::vector<Finding*> as_proposed;
  std::erase_if(list, [&](Finding* f) {
    if (f->cure_set.empty() || f->cures_elsewhere) return false;
    if (left-- <= 0) return f->cure_set.clear(), false;
    const bool holds = try_proposal(mender, *f);
    if (holds) as_proposed.push_back(f);
    return holds;
  });
  if (mender.conductors().empty()) return mender.checks();
  std::map<Key, std::string> why_none;  // empty: nothing that wiring cures
  for (const Finding* f : list) {
    const Key key = key_of(*f);
    if (why_none.count(key) > 0 || sounds.has_own_for(key)) continue;
    const int before = mender.checks();
    Cure cure(mender, document, sounds, key, std::min(most_for_a_finding, left));
    mender.take_devices_to_be_measured(is_about_a_missing_device(key));
    const bool found = cure.found(*f).has_value();
    mender.take_devices_to_be_measured(false);
    left -= mender.checks() - before;
    if (found || sounds.best_for(key)) continue;
    std::string& why = why_none[key];
    // a device that is missing is no change of one: the rule's own words say where it belongs
    if (!cure.any() || checks::is_about(*f, checks::About::missing_device)) continue;
    const std::string conflict = cure.conflict();
    if (cure.spent() && conflict.empty())
      why = "not tried to the end (`mend` does): " + in_general(*f);
    else
      why = "no single change of a conductor or a device fixes it" +
            (conflict.empty() ? "" : ": " + conflict) +
            (cure.has_moved() ? "; `mend` tries several together" : "") +
            "; otherwise: " + in_general(*f);
  }
  for (std::size_t i = 0; i < list.size(); ++i) join(mender, document, sounds, list, i, left);
  // Where a change that another finding needs anyway settles this one, too, it is the one to make.
  for (Finding* f : as_proposed)
    if (const Sound* best = sounds.best_for(key_of(*f)); best && best->cost < little_copper)
      list.push_back(f);
  for (Finding* f : list) {
    const Key key = key_of(*f);
    if (const Sound* best = sounds.best_for(key)) {
      f->cure = in_words(document, best->state) +
                std::string(best->to_be_measured.count(key) > 0 ? tried_to_be_measured
                                                                : tried_and_holds) +
                best->reveals + ")";
      f->cure_set = overrides_of(document, best->state);
      continue;
    }
    // What a rule proposes elsewhere, where no change of a conductor or a device does.
    if (!f->cure_set.empty() && left-- > 0 && try_proposal(mender, *f)) continue;
    f->cure_set.clear();
    if (const auto why = why_none.find(key); why != why_none.end() && !why->second.empty())
      f->cure = why->second;
  }
  return mender.checks();
}

}  // namespace housepower::choice

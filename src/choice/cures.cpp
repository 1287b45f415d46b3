// SPDX-License-Identifier: Apache-2.0
// Ladders of single changes first, each from its mildest step; then what repairs what the best of
// them breaks.
#include "housepower/choice/cures.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

#include "mending.hpp"

namespace housepower::choice {
namespace inside {
namespace {

constexpr int most_for_a_finding = 12;
/// Runs that are judged within about a second on a machine of today, all trials of a check together.
constexpr int runs_judged = 6000;

constexpr std::string_view tried_and_holds = " (tried: this passes and nothing else gets worse";

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

/// A state in which nothing is worse, and which of the findings pass in it.
struct Sound {
  State state;
  std::set<Key> cures;
  double cost = 0.0;
  std::string reveals{};  // what was not known before and is a caution then
};
struct Sounds {
  std::set<Key> wanted;
  std::vector<Sound> all{};

  /// The one that cures this and most others, so that findings of one run name one change.
  [[nodiscard]] const Sound* best_for(const Key& key) const {
    const Sound* best = nullptr;
    for (const Sound& one : all)
      if (one.cures.count(key) > 0 &&
          (!best || one.cures.size() > best->cures.size() ||
           (one.cures.size() == best->cures.size() && one.cost < best->cost)))
        best = &one;
    return best;
  }
};

/// The trials of one finding.
class Cure {
public:
  Cure(Mender& mender, const Document& document, const tables::Tables& tables, Sounds& sounds,
       const Key& key, int most)
      : mender_(mender), document_(document), tables_(tables), sounds_(sounds), key_(key),
        left_(most) {}

  /// Looks for a state in which the finding passes and nothing is worse.
  std::optional<State> found(const Finding& f) {
    auto moves = mender_.moves({}, *mender_.base(), f);
    any_ = !moves.empty();
    std::stable_sort(moves.begin(), moves.end(), [&](const Move& a, const Move& b) {
      if (is_other_type(a) != is_other_type(b)) return is_other_type(b);
      return mender_.cost({a.begin(), a.end()}) < mender_.cost({b.begin(), b.end()});
    });
    for (const Move& move : moves) {
      if (left_ <= 0) return std::nullopt;
      if (auto state = climbed(ladder_of(f, move))) return state;
    }
    return repaired();
  }

  [[nodiscard]] bool any() const { return any_; }
  [[nodiscard]] bool spent() const { return left_ <= 0; }
  /// "4 mm2 for run "x" makes breaking-capacity fail at run/x/protection/0".
  [[nodiscard]] std::string conflict() const {
    if (!best_) return {};
    return in_words(document_, best_->state) + " would fix it, but then " + best_->breaks;
  }

private:
  enum class Outcome { fails, passes, breaks };
  struct Breaking {
    State state;
    std::size_t count = 0;
    std::string breaks;
    Trial trial;
  };

  Outcome outcome_of(const State& state) {
    --left_;
    auto trial = mender_.tried(state);
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
      if (mender_.is_cured(trial, key)) sound.cures.insert(key);
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

  [[nodiscard]] bool is_other_type(const Move& move) const {
    const auto& [knob, setting] = move.front();
    return knob.of == Knob::Of::device &&
           document_.run[knob.run].protection[knob.number].type != setting.type;
  }

  State at_size(const Move& move, const tables::Conductor* size) const {
    State state;
    for (const auto& [knob, setting] : move) state[knob] = {.conductor = size};
    return state;
  }

  /// One step after another in the same direction, the mildest first.
  std::vector<State> ladder_of(const Finding& f, const Move& first) const {
    std::vector<State> ladder{State(first.begin(), first.end())};
    if (const tables::Conductor* next = first.front().second.conductor) {
      const bool larger = copper_added(document_, tables_, ladder.front()) > Mass{};
      for (const tables::Conductor& one : mender_.conductors())
        if (larger ? one.copper > next->copper : one.copper < next->copper)
          ladder.push_back(at_size(first, &one));
      if (!larger) std::reverse(ladder.begin() + 1, ladder.end());
      return ladder;
    }
    const Knob knob = first.front().first;
    while (knob.of == Knob::Of::device && !is_other_type(first)) {
      const State& state = ladder.back();
      const auto& now = state.at(knob);
      const auto moves = mender_.moves(state, *mender_.base(), f);
      const bool up = now.rating > document_.run[knob.run].protection[knob.number].rating;
      const auto next = std::find_if(moves.begin(), moves.end(), [&](const Move& move) {
        const auto& [k, setting] = move.front();
        return k == knob && setting.type == now.type && (setting.rating > now.rating) == up;
      });
      if (next == moves.end()) break;
      ladder.emplace_back(next->begin(), next->end());
    }
    return ladder;
  }

  /// The mildest step with which the finding passes: halving first, since more never harms a rule
  /// that asks for more, then on from there while something else breaks.
  std::optional<State> climbed(const std::vector<State>& ladder) {
    std::map<std::size_t, Outcome> known;
    const auto at = [&](std::size_t i) {
      const auto [outcome, is_new] = known.try_emplace(i, Outcome::fails);
      if (is_new) outcome->second = outcome_of(ladder[i]);
      return outcome->second;
    };
    std::size_t low = 0, high = ladder.size() - 1;
    if (at(high) == Outcome::fails) return std::nullopt;
    while (low < high && left_ > 0) {
      const std::size_t middle = (low + high) / 2;
      if (at(middle) == Outcome::fails) low = middle + 1;
      else high = middle;
    }
    for (std::size_t i = high; i < ladder.size() && i < high + 3; ++i) {
      if (known.count(i) == 0 && left_ <= 0) break;
      if (at(i) == Outcome::passes) return offered(ladder[i]);
    }
    return std::nullopt;
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
  const tables::Tables& tables_;
  Sounds& sounds_;
  const Key& key_;
  int left_;
  bool any_ = false;
  std::optional<Breaking> best_{};
  std::vector<Sound> passed_{};
};

bool names_a_value(std::string_view text) {
  return std::any_of(text.begin(), text.end(),
                     [](unsigned char c) { return std::isdigit(c) != 0; });
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

bool asks_to_state(const Finding& f) { return f.verdict >= Verdict::caution && !f.wants.empty(); }

namespace {

/// Tries what a rule proposes: whether that settles what is said of it.
bool try_proposal(Mender& mender, Finding& f) {
  const auto proposed = std::exchange(f.cure_set, {});
  const auto trial = mender.tried(proposed);
  const bool cured = trial && mender.is_cured(*trial, key_of(f));
  const auto worse = trial ? mender.worse(*trial) : std::vector<const Finding*>();
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

}  // namespace

void forget_untried(checks::Checked& checked) {
  for (Finding& f : checked.findings) f.cure_set.clear();
}

int try_cures(const design::Document& document, const design::Design& design,
              checks::Checked& checked) {
  std::vector<Finding*> list;
  Sounds sounds;
  for (Finding& f : checked.findings) {
    if (f.verdict < Verdict::caution || asks_to_state(f)) {
      f.cure_set.clear();
      continue;
    }
    list.push_back(&f);
    sounds.wanted.insert(key_of(f));
  }
  if (list.empty()) return 0;
  Mender mender(document, *design->tables, checked.energy, LeastChange::copper);
  if (!mender.base()) return forget_untried(checked), 0;
  int left = runs_judged / std::max(1, int(document.run.size()));
  std::erase_if(list, [&](Finding* f) {
    if (f->cure_set.empty()) return false;
    if (left-- > 0) return try_proposal(mender, *f);
    f->cure_set.clear();
    return false;
  });
  if (mender.conductors().empty()) return mender.checks();
  std::map<Key, std::string> why_none;  // empty: nothing that wiring cures
  for (const Finding* f : list) {
    const Key key = key_of(*f);
    if (why_none.count(key) > 0 || sounds.best_for(key)) continue;
    const int before = mender.checks();
    Cure cure(mender, document, *design->tables, sounds, key, std::min(most_for_a_finding, left));
    const bool found = cure.found(*f).has_value();
    left -= mender.checks() - before;
    if (found) continue;
    std::string& why = why_none[key];
    // a device that is missing is no change of one: the rule's own words say where it belongs
    if (!cure.any() || checks::is_about(*f, checks::About::missing_device)) continue;
    const std::string conflict = cure.conflict();
    if (cure.spent() && conflict.empty())
      why = "not tried to the end (`mend` does): " + in_general(*f);
    else
      why = "no single change of a conductor or a device fixes it" +
            (conflict.empty() ? "" : ": " + conflict) +
            "; `mend` tries several together; otherwise: " + in_general(*f);
  }
  for (Finding* f : list) {
    const Key key = key_of(*f);
    if (const Sound* best = sounds.best_for(key)) {
      f->cure =
          in_words(document, best->state) + std::string(tried_and_holds) + best->reveals + ")";
      f->cure_set = overrides_of(document, best->state);
    } else if (const auto why = why_none.find(key); why != why_none.end() && !why->second.empty()) {
      f->cure = why->second;
    }
  }
  return mender.checks();
}

}  // namespace housepower::choice

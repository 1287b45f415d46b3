// SPDX-License-Identifier: Apache-2.0
// The search behind `mend` and behind the cures of `check`: from a finding to the changes that may
// cure it, by its rule's sign table and its subject, and from there to the least state in which it
// passes and no other finding is worse than it was.
#pragma once

#include <functional>
#include <map>
#include <set>

#include "edits.hpp"

namespace housepower::choice::inside {

/// A finding as trials are compared: its rule and its subject. Which case is the worst may change.
using Key = std::pair<std::string_view, Subject>;
[[nodiscard]] inline Key key_of(const Finding& f) { return {f.rule, f.subject}; }

/// One step: knobs that are turned together.
using Move = std::vector<std::pair<Knob, Setting>>;

/// Of a place, by its rule; null where it is not there.
[[nodiscard]] const Finding* worst_of(const Trial&, const Key&);
/// By as much beyond its limit as it was.
[[nodiscard]] bool is_unmoved(const Trial&, const Finding& was);
void turn(State&, const Move&);

/// Its cure is a device where none is.
[[nodiscard]] bool is_about_a_missing_device(const Key&);

/// What a trial of a state says: the finding still stands, it passes, or it passes and others get worse.
enum class Outcome { fails, passes, breaks };

/// The mildest step of a ladder with which a finding passes: halving first, since more never harms a
/// rule that asks for more, then on from there while something else breaks.
[[nodiscard]] std::optional<State> mildest_of(const std::vector<State>& ladder,
                                              const std::function<Outcome(const State&)>& tried,
                                              const std::function<bool()>& may_try);

class Mender {
public:
  Mender(const Document&, const tables::Tables&, energy::Assessment, LeastChange);

  /// Of the design as it is; not there where it does not resolve.
  [[nodiscard]] const std::optional<Trial>& base() const { return base_; }
  [[nodiscard]] const std::vector<tables::Conductor>& conductors() const { return conductors_; }
  [[nodiscard]] int checks() const { return checks_; }
  /// Types of which no ratings are stated, so that the steps of the trade were taken.
  [[nodiscard]] const std::set<std::string>& without_ratings() const { return without_ratings_; }

  [[nodiscard]] std::optional<Trial> tried(const State&);
  /// What is worse than it was, or than it has been cured to. What was not there before may be
  /// left unchecked; where a case had no operating point, what was not known may turn out a caution.
  [[nodiscard]] std::vector<const Finding*> worse(const Trial&) const;
  [[nodiscard]] bool only_wants_measuring(const Finding&) const;
  /// What failed for safety before and does so by more, wherever it stands: a trunk changes the fault
  /// at every device behind it. On a run that the state changes cautions count, too.
  [[nodiscard]] std::vector<const Finding*> deeper(const State&, const Trial&) const;
  /// The design with keys set as `--set` takes them.
  [[nodiscard]] std::optional<Trial> tried(const std::vector<std::string>& overrides);
  /// A caution that was not known before; null where there is none.
  [[nodiscard]] const Finding* revealed(const Trial&) const;
  /// It passes; or is gone: of a missing device, and where every case has its operating point at last.
  [[nodiscard]] bool is_cured(const Trial&, const Key&) const;
  [[nodiscard]] bool is_placed(const Finding&) const;
  /// From now on it has to be no worse.
  void keep_cured(const Key& key, Verdict least = Verdict::pass) { cured_[key] = least; }
  /// A device that is put where none was counts though its place is to be measured yet.
  void take_devices_to_be_measured(bool may) { devices_to_be_measured_ = may; }
  /// A finding that cannot pass is no longer to fail.
  void take_caution_for_cured(bool may) { enough_ = may ? Verdict::caution : Verdict::pass; }
  /// One of them is in the state that is kept.
  void keep_placed() { has_placed_ = true; }
  /// Whether the finding may be cured by copper; a device is to stand where one is missing.
  void allow_copper(const Key& key, bool may) {
    if (may) not_by_copper_.erase(key);
    else not_by_copper_.insert(key);
  }
  [[nodiscard]] bool has_cured(const Key& key) const { return cured_.count(key) > 0; }

  /// The steps that may help a finding in that state.
  [[nodiscard]] std::vector<Move> moves(const State&, const Trial&, const Finding&) const;
  /// What is to be least, as one number.
  [[nodiscard]] double cost(const State&) const;
  /// One step after another in the same direction, the mildest first.
  [[nodiscard]] std::vector<State> ladder_of(const State& from, const Trial&, const Finding&,
                                             const Move& first) const;
  /// A device of another type in the place of the one there is.
  [[nodiscard]] bool is_other_type(const State& from, const Move&) const;

  /// The least state from here in which the finding passes and nothing is worse, within that many
  /// trials. Nothing: there is none, or `at_limit`. What a ladder of single changes cures is found
  /// whatever the limit.
  [[nodiscard]] std::optional<State> cure(const State& from, const Key&, int most, bool& at_limit);
  /// For findings of one rule at several places: the same kind of step at each of them at once, from
  /// where the least is wrong, until all pass and nothing is worse. What is superfluous in it is not
  /// taken away yet.
  [[nodiscard]] std::optional<State> cure_together(const State& from, const std::vector<Key>&,
                                                   int most);

private:
  void add_steps();
  [[nodiscard]] Verdict most_allowed(const Key&) const;
  [[nodiscard]] std::optional<State> grown(const State& from, const Key&, int most);
  /// What keeps a state from being a cure: those findings that do not pass, what is worse, what is
  /// deeper; only lists that are not empty.
  [[nodiscard]] std::vector<std::vector<const Finding*>> wrong_in(const State&, const Trial&,
                                                                  const std::vector<Key>&) const;
  [[nodiscard]] bool is_same_kind(const State&, const Move&, const Finding& of, const Move& other,
                                  const Finding& of_other) const;
  [[nodiscard]] std::vector<Move> moves_together(const State&, const Trial&,
                                                 const std::vector<const Finding*>&) const;
  [[nodiscard]] std::optional<State> single(const State& from, const Trial&, const Finding&);
  [[nodiscard]] Outcome outcome_of(const State&, const Key&);
  [[nodiscard]] bool copper_may_help(const State& from, const Trial&, const Finding&);
  [[nodiscard]] std::optional<Move> sized(const State&, const Knob&, bool larger) const;
  [[nodiscard]] double step_cost(const Knob&, const Setting&) const;

  void conductor_moves(const State&, const Trial&, const Finding&, std::vector<Move>&) const;
  void link_moves(const State&, const Finding&, std::vector<Move>&) const;
  void rating_moves(const State&, const Trial&, const Finding&, std::vector<Move>&) const;
  void type_moves(const State&, const Trial&, const Finding&, std::vector<Move>&) const;
  void device_moves(const State&, const Trial&, const Finding&, std::vector<Move>&) const;
  void place_moves(const State&, const Finding&, std::vector<Move>&) const;

  [[nodiscard]] std::vector<Current> ratings_of(std::string_view type) const;
  [[nodiscard]] Setting device_now(const State&, const Knob&) const;

  const Document& document_;
  const tables::Tables& tables_;
  energy::Assessment energy_;
  LeastChange least_;
  std::optional<Trial> base_;
  std::vector<tables::Conductor> conductors_;
  std::vector<Offer> offers_;
  std::map<Key, Verdict> before_;
  std::map<Key, Verdict> cured_;
  bool devices_to_be_measured_ = false, has_placed_ = false;
  Verdict enough_ = Verdict::pass;
  std::set<Key> not_by_copper_;
  std::set<std::string> without_ratings_;
  bool blind_ = false;  // some case has no operating point
  int checks_ = 0;
};

}  // namespace housepower::choice::inside

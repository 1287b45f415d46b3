// SPDX-License-Identifier: Apache-2.0
// From the promise to the pack: which batteries, modules, controllers, chargers and inverters, and
// how many, keep the promise with least mass or least price. The space of all choices is walked
// from the cheapest up; a choice is left out only where a bound proves that it cannot keep the
// promise (energy/least_store.hpp) or a stated limit or a rule forbids it. What is shown has been
// simulated in full, has its conductors and devices, and has been judged by every rule.
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "housepower/choice/choose.hpp"
#include "housepower/energy/stay.hpp"

namespace housepower::pack {

using choice::Choice;

/// What stands in the van, and what it weighs and costs: equipment only, without cable and devices.
struct Pack {
  std::string battery;  // name of the part; "as designed" where it is the design's own
  int batteries = 0;    // all of them, also in series
  std::string array, module;
  int modules = 0, in_series = 1;
  std::vector<std::array<std::string, 2>> equipment;  // name in the design, name of the part
  Mass mass{};
  std::optional<design::Money> price;  // nothing: some price is not stated
};

/// What a pack does.
struct Kept {
  Ratio chance = 0.0;  // of lasting as long as promised, at the worst of the places: the lower end
                       // of its sampling interval; of a stay without end with less sun and more use
  std::string place;   // where that is
  int month = 0;
  Duration stay{};    // reached by the promised chance there, as they travel; `longest` where it
                      // lasts that long
  Duration parked{};  // likewise on the sun alone
  std::optional<Duration> autonomy;
  int month_of_autonomy = 0;  // in which it is shortest
};

struct PackChoice {
  Pack pack;
  Kept kept;
  checks::Verdict verdict = checks::Verdict::fail;
  std::string against;          // what a rule has against it, but for the promise itself
  std::string falls_short;      // what `check` says of the promise; empty where it is kept
  std::vector<Choice> wiring;   // conductors and devices of the runs that were chosen for it
  Mass cable{};                 // all conductors with their sheaths
  design::Document document{};  // with all of it written in
};

/// One more, or one less, of the best choice.
struct Marginal {
  std::string change;   // "one more battery"
  std::string why_not;  // filled: no such choice; then the rest says nothing
  PackChoice choice;
  Mass mass{};                         // more than the best
  std::optional<design::Money> price;  // likewise; the amount may be below zero
};

/// The chance of every number of batteries and modules of the kinds of the best choice, all
/// simulated; wiring and rules are not asked.
struct Surface {
  std::vector<int> batteries, modules;
  std::vector<std::vector<std::optional<Ratio>>> chance;  // [batteries][modules]; nothing: no room
};

/// A promise of the design, and what a pack keeps of it.
struct PromiseKept {
  enum class What { stay, autonomy } what{};
  Duration asked{}, kept{};       // by the promised chance
  Ratio asked_chance = 0.0;       // of a stay; of one without end every start
  std::optional<Ratio> chance{};  // of a stay: of lasting as long as asked, at the lower end
  [[nodiscard]] bool is_broken() const {
    return kept < asked || (chance && *chance < asked_chance);
  }
};

/// One change of a pack or of its use, tried by itself.
struct Addition {
  std::string change;                      // "one more battery"
  std::optional<Duration> stay, autonomy;  // what it then keeps
  std::optional<Ratio> chance;             // of the promised stay, at its lower end
  bool suffices = false;                   // all that is promised
};

/// Where nothing keeps the promise: the pack that keeps most of it, and what would help it. Neither
/// wiring nor rules were asked.
struct Nearest {
  Pack pack;
  Kept kept;
  std::vector<PromiseKept> promises;
  std::vector<Addition> additions;  // the best first; none that does not help
};

/// What the search did: the promise that nothing better was missed rests on these.
struct Effort {
  std::size_t choices = 0;    // all combinations
  std::size_t within = 0;     // of these within the limits of mass, roof and box
  std::size_t by_bound = 0;   // left out: even a store without losses falls short
  std::size_t by_energy = 0;  // left out: autonomy or balance falls short
  std::size_t simulated = 0, judged = 0;
  bool complete = true;  // false: it ended at its limit of judged choices
};

struct PackAnswer {
  std::vector<PackChoice> choices;   // rising in mass or price, and in what they keep
  std::optional<std::size_t> best;   // the least that keeps the promise
  std::string measure;               // "chance" or "autonomy": what the choices rise in
  Duration asked{};                  // length of the stay, or days of autonomy
  std::optional<Nearest> nearest;    // where nothing does, and energy alone stands in the way
  std::vector<std::string> binding;  // in words
  std::vector<std::string> notes;    // what was assumed or left out
  std::vector<Marginal> marginal;
  Surface surface;
  Effort effort;
};

struct PackQuestion {
  design::Least least = design::Least::mass;
  int longest_days = 30;  // longer stays count as this
  bool bounded = true;  // false: every choice is simulated, to prove that the bound misses nothing
  // Ends to the search; said where one is met.
  std::size_t most_choices = 2000000, most_simulated = 4000, most_judged = 400;
};

/// Parts from the design's own [[part]] and from its catalogue. What is missing for the search (a
/// mass, a price, a size) is asked for in the diagnostics, each at its part; then nothing comes
/// back.
[[nodiscard]] std::optional<PackAnswer> size_pack(const design::Document&,
                                                  const std::vector<design::Part>& catalogue,
                                                  const tables::Tables&, const PackQuestion&,
                                                  const energy::Each&, Diagnostics&);

}  // namespace housepower::pack

// SPDX-License-Identifier: Apache-2.0
// How batteries in parallel share what is drawn: at one moment, over a discharge, and when one of
// them opens. The bank stands alone here, with what a case draws at its terminals.
//
// Each battery has its own state of charge, and from it its open-circuit voltage and resistance.
// Its resistance is the low one, new: the lower it is, the more the links decide who gives what.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::wiring {

struct Assessment;
struct CaseResult;

struct BatteryInCase {
  int number = 1;
  Current current{};  // drawn from it
  Ratio share{};      // of the bank's; nothing flows: 0
};

/// The current of the busiest battery against that which each would give if all gave alike.
inline constexpr Formula unevenness{
    "u",
    "busiest battery against an equal share",
    "n · I_b / I",
    {{"n", "batteries in parallel"},
     {"I_b", "current of the busiest battery"},
     {"I", "current of the bank"}},
    Source{SourceKind::common_practice, "an equal share is I / n", ""},
    [](Ratio n, Current busiest, Current all) -> Ratio { return double(n) * (busiest / all); }};

/// What flows from one battery into another when they are joined.
inline constexpr Formula equalising_current{
    "I_eq",
    "current between two batteries that are joined",
    "ΔU / (2 · R + R_l)",
    {{"ΔU", "difference of their open-circuit voltages"},
     {"R", "resistance of each"},
     {"R_l", "leads or links between them"}},
    Source{SourceKind::common_practice, "Ohm's law around the loop of both batteries", ""},
    [](Voltage apart, Resistance each, Resistance links) -> Current {
      return apart / (2.0 * each + links);
    }};

/// Batteries are joined within this, each charged full and rested for an hour before.
inline constexpr Voltage joined_within = Voltage::from_value(0.2);
inline constexpr Source joined_within_source{SourceKind::published, "a trade magazine",
                                             "issue 33 p. 62: within 0.2 V"};

/// The bank's state and what is drawn from it: a constant power at its terminals.
struct BankLoad {
  std::string in_case;
  Power power{};
  Temperature temperature{};
  Ratio from = 1.0, reserve = 0.1;  // states of charge: at the start; what is promised ends
  /// A consumer that gives up below its lowest voltage; so much of the bank's voltage is lost on
  /// the way to it for each ampere of the bank.
  struct Stop {
    std::string name;
    Resistance way{};
    Voltage lowest{};
  };
  std::vector<Stop> stops{};
};

/// One moment of a discharge.
struct SharingPoint {
  Ratio drawn{};  // of the bank's full charge, since the start
  Duration after{};
  Voltage bank{};     // at its terminals
  Current current{};  // of the bank
  struct Battery {
    int number = 1;
    Current current{};
    Ratio share{}, charge{};
  };
  std::vector<Battery> batteries{};
};

/// A discharge at constant power, until a consumer cuts out or a battery is empty.
struct Sharing {
  std::string in_case;
  std::vector<SharingPoint> points;  // the start first
  std::size_t worst = 0;             // where the busiest battery gives most …
  std::size_t worst_promised = 0;    // … and where it does so above the reserve
  int busiest = 1;                   // who, at `worst`
  std::string ended_by;              // "\"inverter\" cuts out at 10.5 V"
  /// Rested batteries of one charge still differ: by the gap between charging and discharging.
  struct AtRest {
    std::string in_case;  // the lightest
    Voltage apart{};
    Current current{};                 // of the bank
    std::vector<BatteryInCase> first;  // the first battery is that much higher
  };
  std::optional<AtRest> at_rest{};
};

/// The largest step of charge, as a share of the whole. A quarter of it moves no largest current
/// above the reserve by 1 %, and none at the steep end by 3 %.
inline constexpr Ratio usual_step = 0.01;

/// The heaviest judged case without a start that draws from the bank.
[[nodiscard]] const CaseResult* heaviest_case(const Assessment&);
[[nodiscard]] BankLoad load_of_case(const design::Design&, const CaseResult&);
[[nodiscard]] Sharing discharge(const design::Design&, const design::resolved::Bank&,
                                const BankLoad&, Ratio step = usual_step);

/// Currents of the batteries of a bank, all charged alike, that gives a current in all.
/// `open`: number of a battery that is disconnected; 0: none.
[[nodiscard]] std::vector<Current> shares_of(const design::Design&, const design::resolved::Bank&,
                                             Current all, const BankLoad&, int open = 0);

/// The bank as it is; nothing where it has one battery or no case draws from it.
[[nodiscard]] std::optional<Sharing> sharing_of(const design::Design&, const Assessment&);

/// Whether the design says how its batteries are joined.
[[nodiscard]] bool joined_as_stated(const design::resolved::Bank&);

/// A change of the joints between the batteries, and how they would share then.
struct BetterJoined {
  std::string edit;  // "takeoff_from = [1, 4]"
  Sharing sharing;
};
/// The least change that brings the busiest battery within both bounds: the take-off, then larger
/// links, then both, then equal leads to a common bar.
[[nodiscard]] std::optional<BetterJoined> better_joined(const design::Design&, const BankLoad&,
                                                        Ratio most_uneven,
                                                        std::optional<Current> limit);

// The same with their working, for the rules.
/// Current of the busiest battery at a moment of a discharge.
[[nodiscard]] Current busiest_at(const Sharing&, std::size_t point, Working* = nullptr);
/// How unevenly the batteries share at the start, when all are charged alike.
[[nodiscard]] Ratio unevenness_of(const Sharing&, Working* = nullptr);
/// What flows at first when two neighbours of the bank are joined that are so far apart.
[[nodiscard]] Current joining_current(const design::Design&, Voltage apart, Working* = nullptr);

/// The bank after the battery opened whose loss is worst for the others.
struct LosesOne {
  std::string in_case;
  bool at_start = false;  // of an appliance: the others' peak counts
  int lost = 0;
  Voltage before{}, after{};          // at the bank's terminals
  std::vector<BatteryInCase> others;  // none where the case collapses
  std::string collapsed;              // who asks more than can be carried then
  std::vector<std::string> starved;   // who gets less than its lowest voltage then, but not before
};
[[nodiscard]] Current busiest_of(const LosesOne&, Working* = nullptr);

}  // namespace housepower::wiring

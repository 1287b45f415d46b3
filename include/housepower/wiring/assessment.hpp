// SPDX-License-Identifier: Apache-2.0
// What the wiring of a design does: design currents, operating points case by case, devices and
// their faults. Typed results; rules judge them, reports print them.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/design/subject.hpp"
#include "housepower/wiring/ampacity.hpp"
#include "housepower/wiring/neighbours.hpp"
#include "housepower/wiring/network.hpp"
#include "housepower/wiring/reserve.hpp"
#include "housepower/wiring/sharing.hpp"
#include "housepower/wiring/source_ends.hpp"

namespace housepower::wiring {

/// What runs together, and the state of the bank meanwhile.
struct LoadCase {
  std::string name;  // "dinner", "worst hour 18:00, Water pump starting"
  std::vector<design::resolved::ApplianceId> running;
  std::optional<design::resolved::ApplianceId> starting{};  // and runs on at its power
  Ratio charge = 0.3;
  Temperature temperature{};
  std::vector<std::string> charging{};  // names of chargers and controllers that charge meanwhile
  bool judged = true;                   // false: for ampacity and devices only
  int battery_open = 0;                 // number of a battery that is disconnected; 0: none
  std::optional<std::size_t> charging_set{};  // of all that can charge at once, in their order
};

/// Something that draws from the network or charges into it.
struct Consumer {
  enum class Kind { appliance, inverter, charger_in, charger_out, controller_out, array } kind;
  int index;  // in its list of the design
};

/// The largest steady current of a run, for ampacity and devices: everything on, each load at the
/// least voltage at which it still works (linear, so it always exists), against everything that
/// can charge at once; the larger counts. An inverter counts r.m.s.: with what is listed on it, up to
/// its rating; on the runs that lead to nothing else with its whole rating, for anything may be
/// plugged in, unless only what is listed can be (`loads`). Shares of loops are those of the
/// conductors at 20 °C.
struct DesignCurrent {
  Current outgoing{}, back{};        // r.m.s.
  Current at_normal_voltage{};       // of loads over 30 min, for fuse loading; r.m.s.
  std::string in_case;               // "everything-on", "charging: sun", "inverter at its rating"
  std::vector<Term<Current>> parts;  // what adds up to `outgoing`, by name, where the run is radial
  std::vector<Consumer> consumers;   // of each of these parts
  std::string why_unknown;           // what it would need is not stated; then it is too small
  bool of_inverter = false;          // an inverter is in it, at its cut-out and by its ripple
  bool at_rating = false;            // `parts` is an inverter at its rating, whatever is listed
};

/// A conductor of one pole as it was used: the design's, or the one chosen for it.
struct UsedConductor {
  tables::Conductor conductor;
  bool chosen = false;
};

struct RunFacts {
  UsedConductor outgoing;
  std::optional<UsedConductor> back;  // absent: through the chassis
  AmpacityAnswer ampacity, ampacity_back;
  AmpacityAnswer heating, heating_back;  // by the profile's table: what the temperature rests on
  DesignCurrent current;
  Resistance joints{}, items{};  // in total, both poles
  // smallest of the series; absent: none suffices, or no limit applies
  std::optional<tables::Conductor> smallest_for_ampacity, smallest_for_drop, smallest;
};

/// Currents are positive from the run's `from` to its `to` in the outgoing conductor, and from its
/// `to` in the return. The drop is of both conductors, joints and items in it; never negative.
struct RunInCase {
  Current current{}, back{};
  Voltage drop{};
  Ratio drop_share{};  // of nominal voltage
  Temperature conductor{}, conductor_back{};
};
struct ConsumerInCase {
  std::string name;  // appliance or inverter, charger input
  design::Subject subject;
  design::resolved::PostId post;
  Voltage voltage{};    // at its terminals
  Voltage path_drop{};  // from the source's terminals to it and back
  Ratio path_share{};   // of nominal voltage
  std::size_t drop_class = 0;
  std::string unknown;  // why its figures cannot be relied on: no conductor reaches it (then all
                        // are zero), the chassis' or its source's resistance is not stated
};
struct CaseResult {
  LoadCase load_case;
  Solution solution;
  std::string collapsed;                    // of a Collapse: who
  design::resolved::PerPost<Voltage> post;  // plus against minus
  design::resolved::PerRun<RunInCase> runs;
  std::vector<ConsumerInCase> consumers;  // those that run
  std::vector<BatteryInCase> batteries;
  /// Of a Collapse: the operating point just before it, where what asks too much has no more than its
  /// way can carry. None or one. Its figures are the kindest that could be, not a pass.
  std::vector<CaseResult> brink;
  Voltage source{};                         // at the bank's terminals (its highest battery)
  Current bank_current{};                   // drawn from the bank; negative: charged
  SourceKind kind = SourceKind::published;  // the weakest value of the network
  [[nodiscard]] bool solved() const { return std::holds_alternative<OperatingPoint>(solution); }
  /// Itself, or where it collapses its brink; null where neither is known: currents and voltages are
  /// then unknown, never zero.
  [[nodiscard]] const CaseResult* borne() const {
    return solved() ? this : brink.empty() ? nullptr : &brink.front();
  }
};

/// What can feed a fault at a post, all at once.
struct FaultSources {
  std::optional<SeenFrom> unlimited{};   // batteries, feeds and jump posts, through cold conductors
  std::vector<Term<Current>> limited{};  // the largest set of chargers or arrays that can coincide
};

/// The least that one unlimited source by itself drives into a fault at a place.
struct SmallestFault {
  Current value{};
  std::string source;  // "one battery", "tow vehicle"
  std::string where;   // the post, or "a battery"
  SeenFrom seen;       // source and way to there
  Ratio share = 1.0;   // of it that flows in the device, where the way divides
  SourceKind kind = SourceKind::published;
  bool supplied = false;  // the source's figures are the program's own: nothing fails by them
  Resistance colder{};    // part of its resistance that comes of a cold that was not read
  /// What that source drives to the far end of the conductor at its strongest. Nothing: not known.
  std::optional<Current> strongest{};
};

/// A conductor that a device protects: that of its own run, and of what follows until another device
/// sits nearer.
struct ProtectedConductor {
  std::optional<design::resolved::RunId> run;  // nothing: the lead of a battery
  SmallestFault smallest;                      // of all faults that heat it
  std::vector<SmallestFault> sources{};        // the same of each unlimited source by itself
};

/// A device where it sits, against the faults there and beyond.
struct DeviceFacts {
  std::optional<design::resolved::RunId> run;  // nothing: at each battery of the bank, all alike
  std::size_t number = 0;                      // of the run's protection list
  std::optional<Current>
      largest;              // prospective; nothing where no source reaches it or it is unknown
  std::string why_unknown;  // a source's resistance or a conductor on the way is not stated
  SourceKind kind = SourceKind::published;  // the weakest value the fault rests on
  FaultSources sources;                     // at the run's end where it sits
  bool on_bank = false;                     // the bank is among them

  std::vector<ProtectedConductor> conductors;  // its own first; none where only limited sources are
  std::optional<SmallestFault> smallest;       // of all of them
  std::string why_no_smallest;
  std::optional<Duration> clearing{};  // at the smallest fault, at the latest
  std::optional<LetThrough>
      let_through{};                      // the most of all faults, and what the conductor that is
  std::optional<LetThrough> withstand{};  // worst off withstands
};

/// Prospective currents at a post.
struct PostFaults {
  std::optional<Current> largest{};
  std::optional<SmallestFault> smallest{};
};

/// The runs between a source and a post, source first; none for the source itself.
struct Way {
  std::optional<design::resolved::PostId> source;  // nothing: no source reaches it
  struct Part {
    design::resolved::RunId run;
    bool along = true;
  };                                 // from its `from` to its `to`
  std::vector<Part> outgoing, back;  // of the plus side, of the minus side
};

struct Assessment {
  design::resolved::PerRun<RunFacts> runs;
  std::vector<CaseResult> cases;     // "everything-on" first, then charging, then the given cases
  std::vector<DeviceFacts> devices;  // of all runs, in their order, and the one at each battery
  design::resolved::PerPost<PostFaults> faults;
  design::resolved::PerPost<Way> ways;
  std::optional<Sharing> sharing;   // of batteries in parallel that a case draws from
  std::vector<LosesOne> loses_one;  // the heaviest case, and the heaviest start
  design::List<InverterReserve, design::resolved::Inverter> reserves;
  design::resolved::PerRun<RunEnds> ends;
  Neighbours plus, minus;  // which runs end where

  // Their code is made once, not in every source that moves one.
  Assessment();
  Assessment(const Assessment&);
  Assessment(Assessment&&) noexcept;
  Assessment& operator=(const Assessment&);
  Assessment& operator=(Assessment&&) noexcept;
  ~Assessment();
};

[[nodiscard]] Assessment assess(const design::Design&, std::span<const LoadCase>);
/// Everything on at once as it behaves, for what the bank gives then; not judged. An inverter is asked
/// for what is listed on it, up to its rating.
[[nodiscard]] CaseResult everything_at_once(const design::Design&, const Assessment&);

// The same calculations with their working, for the rules. Each repeats one piece of `assess`
// through the same functions.
/// Voltage lost along one run in a case, from its conductor's own temperature.
[[nodiscard]] Voltage drop_of(const design::Design&, const Assessment&, const CaseResult&,
                              design::resolved::RunId, Working* = nullptr);
/// Voltage lost on the way to a consumer and back: the runs of its path added up.
[[nodiscard]] Voltage path_drop_of(const design::Design&, const Assessment&, const CaseResult&,
                                   const ConsumerInCase&, Working* = nullptr);
/// Largest prospective current at a device (full rested bank, low resistances, cold pure
/// copper, joints and devices nothing, every source that can coincide).
[[nodiscard]] std::optional<Current> largest_fault(const design::Design&, const DeviceFacts&,
                                                   Working* = nullptr);
/// Smallest fault as it was found: the source by itself, cold and low, through hot conductors.
[[nodiscard]] Current smallest_fault(const SmallestFault&, Working* = nullptr);

/// The device of a place in the list, its path and how a message names it.
[[nodiscard]] const design::resolved::Protection& device_of(const design::Design&,
                                                            const DeviceFacts&);
[[nodiscard]] design::Subject subject_of(const design::Design&, const DeviceFacts&);
[[nodiscard]] std::string name_of(const design::Design&, const DeviceFacts&);

/// Design current of a run with what adds up to it.
[[nodiscard]] Current design_current_of(const design::Design&, const Assessment&,
                                        design::resolved::RunId, design::Pole, Working* = nullptr);

}  // namespace housepower::wiring

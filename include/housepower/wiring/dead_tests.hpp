// SPDX-License-Identifier: Apache-2.0
// What is tested before anything is switched on, and what only a person sees: the bank against the
// chassis, plus and minus of each run, each device in its seat, the profile's inspection list.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/wiring/readings_file.hpp"
#include "housepower/wiring/test_plan.hpp"

namespace housepower::wiring {

struct DeadTest {
  enum class Is { resistance, polarity, seated, seen };
  Is is = Is::seen;
  std::string what;                   // as a file of readings calls it: "bank to chassis"
  std::string how;                    // where the leads go, what to look at
  design::resolved::RunId run;        // index −1: of none
  std::optional<Resistance> least{};  // of a resistance
  Source source;
};

/// In the order in which a person walks.
[[nodiscard]] std::vector<DeadTest> dead_tests(const design::Design&);

/// Whether it holds: by its result, a value by the limit of the test that it names. A result that is
/// neither yes nor no, a value that is no resistance where one is measured: told at its place.
void judge_by_hand(CheckedByHand&, const std::vector<DeadTest>&, Diagnostics&);

/// A run that no reading tested.
struct NotTested {
  design::resolved::RunId run;
  std::optional<Untested::Why> why{};  // no load sends a current through it; nothing: one does
  bool by_hand = false;                // its polarity was checked dead, and holds
  /// Whatever can be tested of it with the sheet was.
  [[nodiscard]] bool is_settled() const { return why && by_hand; }
};
/// What a file of readings leaves open.
struct Coverage {
  std::vector<NotTested> runs{};  // without a current in anything that was switched on
  std::vector<DeadTest> dead{};   // dead tests and inspections without a result
  std::size_t dead_tests = 0;     // how many there are
  [[nodiscard]] std::size_t open_runs() const;  // that are not settled
};
/// `state`: of bank and workshop.
[[nodiscard]] Coverage coverage_of(const design::Design&, const Assessment&, const Diagnosis&,
                                   const std::vector<CheckedByHand>&, const TestLoad& state);

}  // namespace housepower::wiring

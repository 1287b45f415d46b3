// SPDX-License-Identifier: Apache-2.0
// What is tested before anything is switched on, and what only a person sees: the bank against the
// chassis, plus and minus of each run, each device in its seat, the profile's inspection list.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/wiring/readings_file.hpp"

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

}  // namespace housepower::wiring

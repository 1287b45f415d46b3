// SPDX-License-Identifier: Apache-2.0
// How a van is tested with the fewest things switched on: which loads, one after the other, in which
// order a person walks, which runs each of them tests, and which runs nothing tests, with the reason.
#pragma once

#include <string>
#include <vector>

#include "housepower/wiring/diagnosis.hpp"

namespace housepower::wiring {

/// The posts and runs from the bank outwards, each branch to its end before the next is begun; what
/// the bank does not reach comes last, in the order of the file.
struct Walk {
  std::vector<design::resolved::PostId> posts;
  std::vector<design::resolved::RunId> runs;
};
[[nodiscard]] Walk walk_of(const design::Design&);

/// The load that has every appliance on, without the largest where bank, devices or inverters do not
/// bear them all.
inline constexpr std::string_view all_appliances = "all-appliances";

struct SwitchOn {
  TestLoad load;
  Current bank{};
  std::vector<design::resolved::RunId> tests;  // those that none before it tests
  std::vector<ReadPoint> points;  // of these runs with the posts at their ends, in walking order
};

struct Untested {
  enum class Why { array, charger, feed, no_load, too_little };
  design::resolved::RunId run;
  Why why = Why::no_load;
};

struct TestPlan {
  std::vector<SwitchOn> switch_ons;
  std::vector<Untested> untested;
};

/// The fewest of the design's cases, of everything at once, and of single appliances that together
/// send a current through every run that any of them does. `state`: bank and workshop.
[[nodiscard]] TestPlan plan_tests(const design::Design&, const Assessment&, const TestLoad& state);
/// Only the runs that nothing tests, without the plan.
[[nodiscard]] std::vector<Untested> untestable(const design::Design&, const Assessment&,
                                               const TestLoad& state);
/// One load alone with every point that it tests.
[[nodiscard]] TestPlan plan_of(const design::Design&, const Assessment&, const TestLoad&);
/// The loads that a plan may switch on, by the names that a file of readings calls them.
[[nodiscard]] std::vector<TestLoad> possible_loads(const design::Design&, const Assessment&,
                                                   const TestLoad& state);

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// The finished van on the line: what a meter should read, and from what it read back to the cause.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/answers/opening.hpp"
#include "housepower/checks/as_found.hpp"
#include "housepower/wiring/dead_tests.hpp"
#include "housepower/wiring/test_plan.hpp"

namespace housepower::answers {

/// What is switched on, at most one of a case, appliances and a load bench; nothing of them: the
/// fewest switch-ons that test every run. And in which state bank and workshop are.
struct TestAsked {
  std::optional<std::string> load_case{};
  std::vector<std::string> running{};  // appliances
  std::optional<Current> current{};    // of a load bench
  std::optional<std::string> at{};     // where that is clipped on; nothing: at the bank
  std::optional<Voltage> resting{};    // of the bank, as measured; nothing: by its charge
  Ratio charge = 0.8;
  Temperature workshop = celsius(20.0);
  [[nodiscard]] bool names_a_load() const { return load_case || current || !running.empty(); }
};

/// What is asked to be switched on, or the first case, or the fullest hour. Nothing, and told under
/// the option's name ("--case"), where a name is not the design's.
[[nodiscard]] std::optional<wiring::TestLoad> test_load(const design::Design&, const TestAsked&,
                                                        Diagnostics&);

/// The design outlives it.
struct TestSheetReport {
  const design::Design& design;
  wiring::TestLoad load;
  wiring::TestSheet sheet;                      // of that load by itself
  bool whole = false;                           // no load was asked for: the plan tests all it can
  wiring::TestPlan plan;                        // what is switched on, one after the other
  std::vector<wiring::DeadTest> dead;           // before that
  std::optional<wiring::RestingRange> resting;  // of the bank; nothing: there is none
  std::string inputs_digest;
  const checks::Checked* checked = nullptr;  // the design's own check, which outlives it too
};
/// `whole`: not that load alone, but the fewest that together test every run.
[[nodiscard]] std::variant<TestSheetReport, wiring::NoTestSheet>
test_sheet(const CheckedDesign&, const wiring::TestLoad&, bool whole);

/// A van with what was read in it; the design outlives it.
struct DiagnosedVan {
  const design::Design& design;
  wiring::ReadingsFile file;
  wiring::Diagnosis diagnosis;
  checks::AsFound found;
  wiring::Coverage coverage;         // what was not tested
  std::vector<Diagnostic> warnings;  // of readings that can be, and look like a slip
  std::string inputs_digest;
  const checks::Checked* checked = nullptr;  // the design's own check, which outlives it too
};
/// A file of readings, TOML or by its name CSV, under loads of the design or the one that is asked.
/// Nothing, and told at its place, where it cannot be so.
[[nodiscard]] std::optional<std::variant<DiagnosedVan, wiring::NoDiagnosis>>
diagnose(const Opening&, const wiring::TestLoad&, std::string_view text, std::string_view file,
         Diagnostics&);

}  // namespace housepower::answers

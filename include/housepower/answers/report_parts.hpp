// SPDX-License-Identifier: Apache-2.0
// All that a report of a design tells, for whoever reads it.
#pragma once

#include <optional>

#include "housepower/answers/build_plan.hpp"
#include "housepower/answers/stay.hpp"
#include "housepower/answers/test_sheet.hpp"
#include "housepower/checks/masses.hpp"

namespace housepower::answers {

/// Stays take by far the longest.
struct ReportAsked {
  bool stays = true;        // with their plots
  bool test_sheet = false;  // the fewest switch-ons that test every run
};
/// The opening outlives it.
struct ReportParts {
  BuildModel model;
  checks::Masses masses;
  std::optional<StayReport> stays;            // nothing: not asked, or without a bank or a place
  std::optional<TestSheetReport> test_sheet;  // nothing: not asked, or without an operating point
};
/// Tries the cures of the opening's findings first. `file`: beside which the design's weather is
/// looked for.
[[nodiscard]] ReportParts report_parts(Opening&, const std::string& file, const ReportAsked&,
                                       const energy::Each&);

}  // namespace housepower::answers

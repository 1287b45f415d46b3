// SPDX-License-Identifier: Apache-2.0
// Many designs, each as a row of one table.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <vector>

#include "housepower/answers/given_design.hpp"
#include "housepower/energy/stay.hpp"
#include "housepower/range/range.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

struct RangeFile {
  std::string name;
  bool asked_for = false;  // by its name: then it has to be a design
};

/// What became of a file.
struct RangeOutcome {
  std::string file;
  range::RangeRow row;
  std::string left_out;  // why it is no design, and no row
  Diagnostics diagnostics;
};

struct RangeReport {
  struct LeftOut {
    std::string file, why;
  };
  std::vector<range::RangeRow> rows;
  range::Simulate simulate = range::Simulate::promised;
  std::vector<LeftOut> left_out;       // files that are no design
  int designs = 0;                     // before the conditions
  std::vector<std::string> not_known;  // files of which it cannot be said whether they hold
};

/// A catalogue of parts, or a pack that stands on no design of its own; empty for a design.
[[nodiscard]] std::string why_no_design(const Node&);

/// Opens the design of a file and hands it on; without one the problems say why. Returns why a file
/// that nobody named is passed over (`why_no_design`). Called by several at once where Each does that.
using HandOn = std::function<void(const GivenDesign&)>;
using OpenInRange = std::function<std::string(const RangeFile&, Diagnostics&, const HandOn&)>;

/// In the order of the files. The row of one that cannot be read says so in one line, with its place.
[[nodiscard]] std::vector<RangeOutcome>
range_outcomes(std::span<const RangeFile>, const OpenInRange&, range::Simulate,
               const energy::Each& = energy::one_after_another);
/// All of them as one table.
[[nodiscard]] RangeReport range_of(std::span<const RangeOutcome>, range::Simulate);

}  // namespace housepower::answers

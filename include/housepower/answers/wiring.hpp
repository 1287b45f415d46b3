// SPDX-License-Identifier: Apache-2.0
// The wiring of a checked design: what is chosen for what it leaves open, and what each run still has
// to spare. Currents, voltages, drops, devices and faults stand in the checked design.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "housepower/answers/checked_design.hpp"
#include "housepower/answers/given_design.hpp"
#include "housepower/choice/choose.hpp"
#include "housepower/choice/headroom.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

/// The case that draws most from the bank, or without a bank through a run, of those that are judged
/// and have an operating point; null where there is none.
[[nodiscard]] const wiring::CaseResult* heaviest_case(const wiring::Assessment&);
/// Null where there is none of that name.
[[nodiscard]] const wiring::CaseResult* case_named(const wiring::Assessment&, std::string_view);

struct WiringAsked {
  bool headroom = true;  // and what a change would break: some hundred checks
};

/// The checked design outlives it.
struct WiringReport {
  CheckedDesign checked;
  choice::Chosen chosen{};  // its document has the design's own parts only
  // Where they were asked for, of the design with what was chosen for it.
  std::vector<choice::Headroom> headroom{};
  std::vector<choice::WhatIf> what_if{};
};

/// Nothing, and told at its place, where the catalogue that the design names cannot be read.
[[nodiscard]] std::optional<WiringReport> wiring_of(const GivenDesign&, const checks::Checked&,
                                                    const WiringAsked&, const FileReader&,
                                                    Diagnostics&);

}  // namespace housepower::answers

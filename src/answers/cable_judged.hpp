// SPDX-License-Identifier: Apache-2.0
// One cable in one set of conditions: with the conductor that is given, or the smallest that suffices.
#pragma once

#include "housepower/answers/cable.hpp"

namespace housepower::answers {

using MaybeConductor = std::optional<tables::Conductor>;

[[nodiscard]] const checks::Rule& rule_about(checks::About);

/// The smallest for the table's drop, or for the named method's.
[[nodiscard]] MaybeConductor for_drop_of(const CableJudged&);
/// For that and for the ampacity.
[[nodiscard]] MaybeConductor smallest_of(const CableJudged&);

/// Under the profile of that name. `conductor`: as was chosen before; else that of the question, else
/// the smallest. Nothing, and told, where the design that it becomes cannot be.
[[nodiscard]] std::optional<CableJudged> judged_in(const CableAsked&, const std::string& profile,
                                                   const tables::Tables&,
                                                   const std::optional<std::string>& conductor,
                                                   Diagnostics&);

}  // namespace housepower::answers

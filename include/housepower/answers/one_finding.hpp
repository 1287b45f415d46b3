// SPDX-License-Identifier: Apache-2.0
// One finding with the steps of its calculation, for who asks why.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "housepower/answers/opening.hpp"

namespace housepower::answers {

/// As a list of findings tells it: a rule, what it is about ("run/fridge") and in which case; the case
/// left out: the first in the order of the report.
struct FindingAsked {
  std::string rule, subject;
  std::optional<std::string> in_case{};
};

/// "drop appliance/Fridge", as a person asks it: the rule, a space, the subject.
[[nodiscard]] FindingAsked asked_in_words(std::string_view words);

/// The finding with its working, its place in the file and a cure that was tried. Nothing where there
/// is none such, and told, with the rules or the subjects that there are.
[[nodiscard]] std::optional<checks::Finding> one_finding(const Opening&, const FindingAsked&,
                                                         Diagnostics&);

}  // namespace housepower::answers

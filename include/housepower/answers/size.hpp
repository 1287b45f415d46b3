// SPDX-License-Identifier: Apache-2.0
// The least pack that keeps what a design promises.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/answers/given_design.hpp"
#include "housepower/pack/pack.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

/// What is asked beside the design.
struct SizeAsked {
  std::optional<std::string> catalogue{};  // a file of parts, instead of the one that it names
  std::optional<design::Least> least{};    // instead of what it says, or mass
  std::vector<std::string> places{};       // towns, instead of those that it names
  bool its_place_alone = false;            // the towns that it names do not count
  std::vector<std::string> keep{};         // equipment that stays, beside what it names
};

/// The design outlives it.
struct PackReport {
  const design::Design& design;
  pack::PackAnswer answer;  // the document of the best has the design's own parts only
  design::Least least = design::Least::mass;
  std::string inputs_digest;
  Diagnostics warnings{};  // all that was warned of for this question, once
};

/// Nothing, and told at its place, where the design or a part lacks what the search needs.
[[nodiscard]] std::optional<PackReport> size(const GivenDesign&, const SizeAsked&,
                                             const FileReader&, Diagnostics&,
                                             const energy::Each& = energy::one_after_another);

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// The least change of the wiring that cures what such a change can cure, of one design or of a range.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "housepower/answers/given_design.hpp"
#include "housepower/choice/mend.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

struct MendAsked {
  choice::LeastChange least = choice::LeastChange::copper;
  bool fewest_sizes = false;  // all designs together keep to as few sizes of conductor as do
};

/// A design with the parts that are in stock for it (`parts_for`).
struct ToMend {
  GivenDesign given;
  std::vector<design::Part> parts{};
};

/// The design outlives it.
struct MendReport {
  const design::Design& design;  // before
  choice::Mended mended;         // its document has the design's own parts only
  choice::LeastChange least;
  std::string inputs_digest;
};

/// In the order of the designs; nothing, and told, where the least price is asked for and no part
/// states one.
[[nodiscard]] std::optional<std::vector<MendReport>> mend(std::span<const ToMend>, const MendAsked&,
                                                          Diagnostics&);

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// What the program supplied under a finding that passes with the kindest defaults: which values, and
// which of them move it.
#pragma once

#include <functional>

#include "common.hpp"

namespace housepower::checks {

/// A value that the program supplied and that the kindest defaults supply otherwise.
struct Supplied {
  Subject key;
  std::string value, kindest;  // as a file would hold them
};
[[nodiscard]] std::vector<Supplied> supplied_otherwise(const design::Design& ordinary,
                                                       const design::Design& kindest);

/// A finding that those values decide.
struct Softened {
  Finding* finding;
  std::vector<const Supplied*> values;
};
/// Those of the finding's own run and of the bank, or of its way, or of its own table, or else all.
[[nodiscard]] std::vector<const Supplied*>
supplied_for(const Finding&, const std::vector<Supplied>&, const wiring::Assessment&);

/// What the rules that found something say of another design.
using AskAgain = std::function<std::vector<Finding>(const design::Design&)>;
/// Leaves to each finding the values that move it when they alone are at their kindest, by how far they
/// do; all of them where none does alone, or where to try them would take too long.
void keep_what_moves(std::vector<Softened>&, const design::Document&,
                     const design::Design& ordinary, const AskAgain&);

/// "state run/fridge/laid (in-insulation was assumed) as it is": the first five.
[[nodiscard]] std::string state_them(const std::vector<const Supplied*>&);

}  // namespace housepower::checks

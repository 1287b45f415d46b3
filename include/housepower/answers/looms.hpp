// SPDX-License-Identifier: Apache-2.0
// What each bench makes of a design: its looms, and what is joined on the line.
#pragma once

#include "housepower/range/looms.hpp"

namespace housepower::answers {

struct LoomReport {
  range::BuildList list;  // what it was divided from
  range::Looms looms;
};
/// Nothing is chosen or guessed: what the design does not state is absent.
[[nodiscard]] LoomReport looms(const design::Design&);

}  // namespace housepower::answers

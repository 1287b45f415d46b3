// SPDX-License-Identifier: Apache-2.0
// Where no pack keeps the promise: which one keeps most of it, by how much it falls short, and what to
// add first.
#pragma once

#include "find.hpp"

namespace housepower::pack::inside {

/// Nothing where something else than energy stands in the way of every pick.
[[nodiscard]] std::optional<Nearest> nearest_of(const design::Design& own, const Space&, Finder&,
                                                Judge&);

}  // namespace housepower::pack::inside

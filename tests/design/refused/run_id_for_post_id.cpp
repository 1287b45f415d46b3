// SPDX-License-Identifier: Apache-2.0
// The number of a run is no number of a post.
#include "housepower/design/design.hpp"

using namespace housepower::design;

const resolved::Post& post(const Design& design, resolved::RunId id) { return design[id]; }

// SPDX-License-Identifier: Apache-2.0
// In order, so that the files beside it fail only for what they are about.
#include "housepower/design/design.hpp"

using namespace housepower::design;

const resolved::Post& post(const Design& design, resolved::PostId id) { return design[id]; }
const resolved::Run& run(const Design& design, resolved::RunId id) { return design[id]; }
bool same(resolved::PostId a, resolved::PostId b) { return a == b; }

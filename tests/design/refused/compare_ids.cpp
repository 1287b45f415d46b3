// SPDX-License-Identifier: Apache-2.0
// A run is never the same as a post.
#include "housepower/design/design.hpp"

using namespace housepower::design;

bool same(resolved::RunId a, resolved::PostId b) { return a == b; }

// SPDX-License-Identifier: Apache-2.0
// Of unprotected-source-end, what is no end of a run: links, leads and devices of the batteries,
// strings of modules, jump posts.
#pragma once

#include "common.hpp"

namespace housepower::checks {

void check_source_posts(const Rule&, const Evidence&, std::vector<Finding>&);

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// A battery, fuse or charger replaced: one page for the workshop, and JSON.
#pragma once

#include "housepower/answers/replace.hpp"
#include "housepower/report/results.hpp"

namespace housepower::report {

using answers::ReplaceReport;

[[nodiscard]] Page replace_page(const ReplaceReport&);
[[nodiscard]] std::string replace_json(const ReplaceReport&);

}  // namespace housepower::report

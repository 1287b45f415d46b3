// SPDX-License-Identifier: Apache-2.0
// The answer of `compare`: findings first, then results, then the design itself.
#pragma once

#include <string>

#include "housepower/answers/compare.hpp"
#include "housepower/page/page.hpp"
#include "housepower/report/results.hpp"

namespace housepower::report {

using answers::CompareReport;
[[nodiscard]] Page compare_page(const CompareReport&);
/// `changes[]` with `part` (finding, result, design), `path`, `before`, `after`, `change`, `unit`.
[[nodiscard]] std::string compare_json(const CompareReport&);

}  // namespace housepower::report

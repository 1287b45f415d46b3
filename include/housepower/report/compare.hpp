// SPDX-License-Identifier: Apache-2.0
// The answer of `compare`: findings first, then results, then the design itself.
#pragma once

#include <string>

#include "housepower/page/page.hpp"
#include "housepower/report/results.hpp"
#include "housepower/range/compare.hpp"

namespace housepower::report {

struct CompareReport {
  CheckedDesign before, after;
  range::Comparison changes;
};
[[nodiscard]] Page compare_page(const CompareReport&);
/// `changes[]` with `part` (finding, result, design), `path`, `before`, `after`, `change`, `unit`.
[[nodiscard]] std::string compare_json(const CompareReport&);

}  // namespace housepower::report

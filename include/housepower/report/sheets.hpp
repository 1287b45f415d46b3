// SPDX-License-Identifier: Apache-2.0
// Sheets for the line, each with one subject, so that it fits a page where it can: what is cut, what
// is printed on sleeves, what a person looks at in the finished van, what each station does.
#pragma once

#include "housepower/report/build_list.hpp"

namespace housepower::report {

using namespace page;

enum class Sheet { cutting, labels, inspection, stations };
[[nodiscard]] Page sheet_page(const BuildPlan&, Sheet);
[[nodiscard]] std::string sheet_csv(const BuildPlan&, Sheet);

}  // namespace housepower::report

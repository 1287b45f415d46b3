// SPDX-License-Identifier: Apache-2.0
// What the line makes, for one van or for a week of several models, as a Page and as JSON.
#pragma once

#include <string>
#include <vector>

#include "housepower/answers/build_plan.hpp"
#include "housepower/report/results.hpp"

namespace housepower::report {

using answers::BuildModel;
using answers::BuildPlan;

[[nodiscard]] Page build_list_page(const BuildPlan&);
[[nodiscard]] std::string build_list_json(const BuildPlan&);
/// The lists of the JSON as one table; the first column names the list that a row is of.
[[nodiscard]] std::string build_list_csv(const BuildPlan&);
/// Whether a model may be built, what is open in it, and how its pieces are cut and coloured.
[[nodiscard]] std::string standing_of(const BuildModel&);

}  // namespace housepower::report

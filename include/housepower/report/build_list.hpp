// SPDX-License-Identifier: Apache-2.0
// What the line makes, for one van or for a week of several models, as a Page and as JSON.
#pragma once

#include <string>
#include <vector>

#include "housepower/range/build_list.hpp"
#include "housepower/report/results.hpp"

namespace housepower::report {

struct BuildModel {
  CheckedDesign of;
  range::BuildList list;
  int vans = 1;
};
struct BuildPlan {
  std::vector<BuildModel> models;
  bool planned = false;  // numbers of vans were asked for, or several models
  int days = 5;          // over which they are built
  bool days_stated = false;
};
[[nodiscard]] Page build_list_page(const BuildPlan&);
[[nodiscard]] std::string build_list_json(const BuildPlan&);
/// The lists of the JSON as one table; the first column names the list that a row is of.
[[nodiscard]] std::string build_list_csv(const BuildPlan&);
/// Whether a model may be built, what is open in it, and how its pieces are cut and coloured.
[[nodiscard]] std::string standing_of(const BuildModel&);

}  // namespace housepower::report

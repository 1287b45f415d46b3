// SPDX-License-Identifier: Apache-2.0
// What the line makes of one van, or of a week's plan of several models.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "housepower/answers/opening.hpp"
#include "housepower/range/build_list.hpp"

namespace housepower::answers {

/// A checked design, listed; the opening outlives it.
struct BuildModel {
  CheckedDesign of;
  range::BuildList list;
  int vans = 1;
};
[[nodiscard]] BuildModel build_model(const Opening&, int vans = 1);

struct BuildPlan {
  std::vector<BuildModel> models;
  bool planned = false;  // numbers of vans were asked for, or several models
  int days = 5;          // over which they are built
  bool days_stated = false;
  /// One of them fails its checks.
  [[nodiscard]] bool fails() const;
};

/// How many vans of a model, by the vehicle's name or by that of its file.
struct VansWanted {
  std::string name;
  int vans = 0;
};
/// A model to plan, and the name of its file without folder and ending.
struct ModelOfPlan {
  const Opening& opening;
  std::string stem;
};
/// Each model once where no numbers are asked for. Nothing, and told under "--build", where a name is
/// of none or of several, comes twice, or a model has no number.
[[nodiscard]] std::optional<BuildPlan> build_plan(std::span<const ModelOfPlan>,
                                                  std::span<const VansWanted>,
                                                  std::optional<int> days, Diagnostics&);

}  // namespace housepower::answers

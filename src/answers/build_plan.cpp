// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/build_plan.hpp"

#include <algorithm>

#include "housepower/reading/text.hpp"

namespace housepower::answers {
namespace {

/// The one model of that name; told where there is none, or several.
std::optional<std::size_t> model_named(std::string_view name, std::span<const ModelOfPlan> models,
                                       Diagnostics& told) {
  std::vector<std::size_t> meant;
  std::vector<std::string_view> known;
  for (std::size_t i = 0; i < models.size(); ++i) {
    const std::string& vehicle = (*models[i].opening.design)->name;
    if (name == vehicle || name == models[i].stem) meant.push_back(i);
    known.insert(known.end(), {vehicle, models[i].stem});
  }
  if (meant.size() == 1) return meant.front();
  if (meant.empty())
    told.error({"--build"}, {}, "no file is of a model " + quoted(name), did_you_mean(name, known));
  else
    told.error({"--build"}, {}, "several files are of a model " + quoted(name),
               "give the vehicles names of their own");
  return std::nullopt;
}

/// The number of each; nothing, and told, where one is missing or comes twice.
std::optional<std::vector<int>> numbers_of(std::span<const ModelOfPlan> models,
                                           std::span<const VansWanted> wanted, Diagnostics& told) {
  std::vector<int> numbers(models.size(), wanted.empty() ? 1 : 0);
  for (const VansWanted& one : wanted) {
    const auto model = model_named(one.name, models, told);
    if (!model) return std::nullopt;
    if (numbers[*model] != 0) {
      told.error({"--build"}, {}, quoted(one.name) + " has its number already",
                 "name each model once");
      return std::nullopt;
    }
    numbers[*model] = one.vans;
  }
  const auto none = std::find(numbers.begin(), numbers.end(), 0);
  if (none == numbers.end()) return numbers;
  const std::string& name = (*models[std::size_t(none - numbers.begin())].opening.design)->name;
  told.error({"--build"}, {}, "says nothing of " + quoted(name),
             "add \"" + name + "=NUMBER\", or leave its file out");
  return std::nullopt;
}

}  // namespace

BuildModel build_model(const Opening& opening, int vans) {
  return {opening.checked_design(), range::build_list(*opening.design), vans};
}

bool BuildPlan::fails() const {
  return std::any_of(models.begin(), models.end(), [](const BuildModel& model) {
    return model.of.checked.verdicts.worse() == checks::Verdict::fail;
  });
}

std::optional<BuildPlan> build_plan(std::span<const ModelOfPlan> models,
                                    std::span<const VansWanted> wanted, std::optional<int> days,
                                    Diagnostics& told) {
  const auto numbers = numbers_of(models, wanted, told);
  if (!numbers) return std::nullopt;
  BuildPlan plan;
  plan.planned = !wanted.empty() || models.size() > 1;
  plan.days = days.value_or(plan.days);
  plan.days_stated = days.has_value();
  for (std::size_t i = 0; i < models.size(); ++i)
    plan.models.push_back(build_model(models[i].opening, (*numbers)[i]));
  return plan;
}

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// What runs together: the design's own cases, or the fullest hour of its day with the largest
// starter. Every d.c. consumer is judged at least once.
#include <algorithm>

#include "common.hpp"

namespace housepower::checks {
namespace {

using design::resolved::ApplianceId;

bool runs_in(const std::vector<wiring::LoadCase>& cases, ApplianceId id) {
  return std::any_of(cases.begin(), cases.end(), [&](const wiring::LoadCase& c) {
    return std::find(c.running.begin(), c.running.end(), id) != c.running.end();
  });
}

}  // namespace

std::vector<wiring::LoadCase> load_cases(const design::Design& design, const energy::Assessment&) {
  std::vector<wiring::LoadCase> cases;
  for (const auto& c : design->cases)
    cases.push_back({c.name, c.running, c.starting, c.charge, c.temperature, c.charging, true});
  std::vector<ApplianceId> beside;  // what the others are judged with
  if (cases.empty()) {
    const auto fullest = energy::fullest_hour(design);
    wiring::LoadCase c;
    c.name = "fullest hour, from " + std::to_string(fullest.hour) + ":00";
    c.running = fullest.running;
    c.starting = fullest.largest_starter;
    if (c.starting) {
      c.name += ", " + quoted(design[*c.starting].name) + " starting";
      if (std::find(c.running.begin(), c.running.end(), *c.starting) == c.running.end())
        c.running.push_back(*c.starting);
    }
    c.temperature = celsius(20.0);
    beside = fullest.running;
    cases.push_back(std::move(c));
  }
  // A start is held against what the bank can give for seconds; what runs on, against what lasts.
  for (std::size_t i = 0, n = cases.size(); i < n; ++i) {
    if (!cases[i].starting) continue;
    wiring::LoadCase after = cases[i];
    after.name += ", after the start";
    after.starting.reset();
    cases.push_back(std::move(after));
  }
  const std::vector<wiring::LoadCase> stated = cases;
  for (std::size_t i = 0; i < design->appliances.size(); ++i) {
    const ApplianceId id{static_cast<int>(i)};
    if (runs_in(stated, id) || runs_in(cases, id)) continue;
    wiring::LoadCase c = stated.front();
    c.name = quoted(design[id].name) + (beside.empty() ? " alone" : " beside the fullest hour");
    c.running = beside;
    c.running.push_back(id);
    c.starting.reset();
    cases.push_back(std::move(c));
  }
  return cases;
}

}  // namespace housepower::checks

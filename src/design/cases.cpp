// SPDX-License-Identifier: Apache-2.0
// Load cases: what runs together, what starts, what charges meanwhile.
#include <algorithm>

#include "resolving.hpp"

namespace housepower::design {
namespace {

std::optional<resolved::ApplianceId> find_appliance(Resolving& r, const std::string& name,
                                                    const Place& place, const std::string& path) {
  if (const auto found = r.appliances.find(name); found != r.appliances.end()) return found->second;
  r.error(RestsOn::names, place, path, quoted(name) + " is not an appliance of this file",
          hint_for(name, names_of(r.appliances)));
  return std::nullopt;
}

void check_charging(Resolving& r, const Case& load_case, const std::string& path) {
  std::vector<std::string_view> known = names_of(r.document.charger);
  for (const auto name : names_of(r.document.controller)) known.push_back(name);
  for (std::size_t i = 0; i < load_case.charging.size(); ++i) {
    const std::string& name = load_case.charging[i];
    if (std::find(known.begin(), known.end(), name) == known.end())
      r.error(RestsOn::names, load_case.place, path + "/charging/" + std::to_string(i),
              quoted(name) + " is not a charger or controller of this file", hint_for(name, known));
  }
}

}  // namespace

void resolve_cases(Resolving& r) {
  const auto& cases = r.document.load_case;
  for (std::size_t i = 0; i < cases.size(); ++i) {
    const Case& stated = cases[i];
    const std::string path = r.path("case", i, stated.name);
    resolved::Case out;
    out.name = stated.name;
    out.charge = *stated.charge;
    out.temperature = *stated.temperature;
    out.charging = stated.charging;
    check_charging(r, stated, path);
    for (std::size_t n = 0; n < stated.running.size(); ++n) {
      const std::string here = path + "/running/" + std::to_string(n);
      const auto id = find_appliance(r, stated.running[n], stated.place, here);
      if (!id) continue;
      if (std::find(out.running.begin(), out.running.end(), *id) == out.running.end())
        out.running.push_back(*id);
      else r.error(stated.place, here, quoted(stated.running[n]) + " runs already", "name it once");
    }
    if (stated.starting)
      out.starting = find_appliance(r, *stated.starting, stated.place, path + "/starting");
    // what starts runs on
    if (out.starting &&
        std::find(out.running.begin(), out.running.end(), *out.starting) == out.running.end())
      out.running.push_back(*out.starting);
    r.out.cases.push_back(std::move(out));
  }
}

}  // namespace housepower::design

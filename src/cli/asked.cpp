// SPDX-License-Identifier: Apache-2.0
#include "asked.hpp"

#include "housepower/answers/wiring.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::cli {

answers::AskedKey month_asked(const std::string& month) {
  return {"--month", "place/month", month};
}

bool names_one_place(bool town, bool weather, bool coordinates, World& world) {
  if (int(town) + int(weather) + int(coordinates) <= 1) return true;
  world.err << "error: only one of --place, --weather and --at says where\n";
  return false;
}

bool at_one_place(const DesignOptions& o, World& world) {
  return names_one_place(o.town.has_value(), o.weather.has_value(), o.at.has_value(), world);
}

const wiring::CaseResult* case_named(const wiring::Assessment& w, const std::string& name,
                                     World& world) {
  if (const auto* in = answers::case_named(w, name)) return in;
  std::vector<std::string_view> names;
  for (const auto& in : w.cases) names.push_back(in.load_case.name);
  world.err << "error: the design has no case " << housepower::quoted(name) << "\n";
  std::string hint = did_you_mean(name, names);
  if (hint.empty())
    for (const auto known : names)
      hint += (hint.empty() ? "it has " : ", ") + housepower::quoted(known);
  world.err << "  = help: " << hint << "\n";
  return nullptr;
}

}  // namespace housepower::cli

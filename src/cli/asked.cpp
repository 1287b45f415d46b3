// SPDX-License-Identifier: Apache-2.0
#include "asked.hpp"

namespace housepower::cli {

std::string month_override(const std::string& month) { return "place/month=\"" + month + "\""; }

bool names_one_place(bool town, bool weather, bool coordinates, World& world) {
  if (int(town) + int(weather) + int(coordinates) <= 1) return true;
  world.err << "error: only one of --place, --weather and --at says where\n";
  return false;
}

}  // namespace housepower::cli

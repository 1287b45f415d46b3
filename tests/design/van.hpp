// SPDX-License-Identifier: Apache-2.0
// A small sound van for the tests of this room, and what a change of its text leads to.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "housepower/design/open.hpp"

namespace van {

using namespace housepower;
using design::Design;
using design::Document;

inline const tables::Tables& shipped() {
  static const tables::Tables all = [] {
    Diagnostics problems;
    auto read = tables::read_tables(tables::embedded_tables(), {}, problems);
    REQUIRE(read.has_value());
    return *std::move(read);
  }();
  return all;
}

inline const std::string text = R"(schema = 1
[vehicle]
name = "Two-berth tourer"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[[device]]
name = "house fuse"
breaking_capacity = "20 kA"
rated_voltage = "32 V"
curve = [[1.35, "600 s"], [6.0, "0.5 s"]]
ratings = ["100 A", "150 A"]
[bank]
chemistry = "lfp"
quantity = 2
capacity = "100 Ah"
nominal_voltage = "12.8 V"
[[array]]
name = "roof"
modules = 2
module = { power = "200 W" }
to = "controller"
[[controller]]
name = "controller"
max_voltage = "100 V"
max_charge_current = "30 A"
[[charger]]
name = "drive charger"
kind = "dc-dc"
current = "40 A"
[[charger]]
name = "shore charger"
kind = "mains"
current = "20 A"
[[feed]]
name = "tow vehicle"
[[inverter]]
name = "inverter"
rating = "2000 W"
[[node]]
name = "panel"
kind = "panel"
[[appliance]]
name = "Fridge"
power = "45 W"
[[appliance]]
name = "Lights"
current = "2 A"
on = "panel"
[[appliance]]
name = "Kettle"
power = "1000 W"
supply = "inverter"
[[run]]
name = "main"
from = "bank"
to = "panel"
length = "2.4 m"
conductor = "35 mm2"
protection = [{ end = "from", type = "house fuse", rating = "100 A", distance = "0.15 m" }]
[[run]]
name = "fridge"
from = "panel"
to = "Fridge"
length = "4 m"
conductor = "6 mm2"
[[run]]
name = "to inverter"
from = "bank"
to = "inverter"
length = "1 m"
conductor = "70 mm2"
[[case]]
name = "dinner"
running = ["Fridge", "Kettle"]
)";

/// The text with `from`, which must be there, replaced once.
inline std::string with(std::string whole, std::string_view from, std::string_view to) {
  const auto at = whole.find(from);
  REQUIRE_MESSAGE(at != whole.npos, std::string(from));
  return whole.replace(at, from.size(), to);
}

struct Tried {
  std::optional<design::Opened> opened;
  Diagnostics diagnostics;
  [[nodiscard]] const Design& design() const {
    for (const auto& d : diagnostics.all) MESSAGE(d.key << ": " << d.message);
    REQUIRE(opened);
    return opened->design;
  }
  [[nodiscard]] const Diagnostic* about(std::string_view key) const {
    for (const auto& d : diagnostics.all)
      if (d.key == key) return &d;
    return nullptr;
  }
};

inline Tried opened(const std::string& whole, Defaults defaults = Defaults::ordinary,
                    const std::vector<std::string>& sets = {}) {
  Tried tried;
  const FileReader reader = [&](std::string_view) { return std::optional(whole); };
  tried.opened =
      design::open_design("van.toml", reader, sets, shipped(), defaults, tried.diagnostics);
  return tried;
}

/// The place in a text where `part` begins for the first time.
inline Place place_in(std::string_view whole, std::string_view part) {
  const auto at = whole.find(part);
  REQUIRE_MESSAGE(at != whole.npos, std::string(part));
  const auto before = whole.substr(0, at);
  const auto line = std::count(before.begin(), before.end(), '\n');
  return {"van.toml", static_cast<int>(line) + 1,
          static_cast<int>(at - (before.rfind('\n') + 1)) + 1, 0};
}

inline const Assumption* assumed(const Design& design, std::string_view path) {
  for (const auto& a : design->assumptions)
    if (a.path == path) return &a;
  return nullptr;
}

}  // namespace van

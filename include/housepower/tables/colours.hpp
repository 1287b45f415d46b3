// SPDX-License-Identifier: Apache-2.0
// Which colour a conductor has, by its pole. The sets stand in tables/colours/; as they are small
// they are read for every design and kept as views, also where no other view is asked for.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/tables/tables.hpp"

namespace housepower::tables {

struct ColourSet {
  std::string name, title;
  std::string positive, negative;
  Source source;
};

/// Taken where a design names none.
inline constexpr std::string_view usual_colours = "dc-red-black";

[[nodiscard]] std::optional<ColourSet> colours_named(const Tables&, std::string_view name);
[[nodiscard]] std::vector<std::string_view> colour_names(const Tables&);

}  // namespace housepower::tables

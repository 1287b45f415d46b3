// SPDX-License-Identifier: Apache-2.0
// What is published of a fuse type's breaking capacity and ratings, as the check reads it.
#pragma once

#include <algorithm>

#include "housepower/tables/tables.hpp"

namespace housepower::tables {

/// The safe figure stands first; at a higher system voltage the first that reaches it. Null: not
/// known.
[[nodiscard]] inline const FuseType::Breaking* breaking_at(const FuseType& type, Voltage system) {
  if (type.breaking.empty()) return nullptr;
  const auto fits = std::find_if(type.breaking.begin(), type.breaking.end(),
                                 [&](const auto& row) { return row.at >= system; });
  return fits == type.breaking.end() ? &type.breaking.front() : &*fits;
}

}  // namespace housepower::tables

// SPDX-License-Identifier: Apache-2.0
// How options ask for another month or place.
#pragma once

#include "commands.hpp"

namespace housepower::cli {

/// "place/month=…", whatever was typed: a number, too.
[[nodiscard]] std::string month_override(const std::string& month);

/// No more than one of them says where; tells it otherwise.
[[nodiscard]] bool names_one_place(bool town, bool weather, bool coordinates, World&);

}  // namespace housepower::cli

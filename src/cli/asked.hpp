// SPDX-License-Identifier: Apache-2.0
// How options ask for another month, place or load case.
#pragma once

#include "commands.hpp"

namespace housepower::cli {

/// The month of the place, whatever was typed: a number, too.
[[nodiscard]] answers::AskedKey month_asked(const std::string& month);

/// No more than one of them says where; tells it otherwise.
[[nodiscard]] bool names_one_place(bool town, bool weather, bool coordinates, World&);
[[nodiscard]] bool at_one_place(const DesignOptions&, World&);

/// The load case of that name; null, and told, where there is none.
[[nodiscard]] const wiring::CaseResult* case_named(const wiring::Assessment&,
                                                   const std::string& name, World&);

}  // namespace housepower::cli

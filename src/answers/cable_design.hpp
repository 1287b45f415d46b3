// SPDX-License-Identifier: Apache-2.0
// The small design that one cable becomes: a feed, a run and a load, under a profile of its own.
#pragma once

#include "housepower/answers/cable.hpp"

namespace housepower::answers {

/// What is asked, as a rule profile of that name: its table rates, a drop that was asked fails, the
/// usual one is a habit. Every value that has a default is filled in, but for the ampacity table.
[[nodiscard]] tables::RuleProfile cable_profile(const CableAsked&, bool drop_is_asked,
                                                std::string name, const tables::Tables&);
/// The design under that profile.
[[nodiscard]] design::Document cable_document(const CableAsked&, const std::string& profile,
                                              const tables::Tables&);

/// Where the limits of what is asked come from.
inline constexpr Source as_asked{SourceKind::supplier, "the command's options", "as asked"};
inline constexpr Source as_usual{SourceKind::common_practice, "practice of the trade", "3 %"};
[[nodiscard]] inline Voltage allowed_drop(const CableAsked& asked) {
  return *asked.voltage * double(*asked.drop);
}

}  // namespace housepower::answers

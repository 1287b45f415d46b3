// SPDX-License-Identifier: Apache-2.0
// How a source, a step of a calculation and a place of a file stand in a line of text.
#pragma once

#include <string>

#include "housepower/reading/diagnostic.hpp"
#include "housepower/working/working.hpp"

namespace housepower::page {

/// "IEC 60228:2004, table 3 (published)".
[[nodiscard]] std::string source_line(const Source&);
/// "U_drop = 2 · L · I · r = 2 · 4 m · 15 A · 7.98 mΩ/m = 0.96 V"; and what its symbol means, with
/// the source of the formula.
[[nodiscard]] std::string step_line(const Step&);
[[nodiscard]] std::string step_meaning(const Step&);
/// "van.toml:14:10".
[[nodiscard]] std::string place_text(const Place&);

}  // namespace housepower::page

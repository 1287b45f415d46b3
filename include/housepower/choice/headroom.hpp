// SPDX-License-Identifier: Apache-2.0
// What a design still bears: amperes at the end of each run, and which findings a larger bank or
// inverter would bring. Each answer is a changed design, judged by all rules.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/checks/rule.hpp"

namespace housepower::choice {

/// Amperes that may be added for good at the far end of a run, at the bank, or through a device,
/// before the first rule is beyond its limit.
struct Headroom {
  std::string of;                // name of a run, "bank", "bank to bar/protection/0"
  std::optional<Current> spare;  // nothing: no rule that was checked limits it
  std::string rule, subject;     // which is the first
};
[[nodiscard]] std::vector<Headroom> headroom(const design::Document&, const tables::Tables&);

/// The same design with a constant current drawn at a post all day and in every case.
[[nodiscard]] design::Document with_load(design::Document, const std::string& post, Current);

/// A change, and what becomes a caution or a fail that was none.
struct WhatIf {
  std::string change;
  std::vector<checks::Finding> findings;
};
/// One more battery; each inverter half as large again and used to its rating.
[[nodiscard]] std::vector<WhatIf> what_if(const design::Document&, const tables::Tables&);

}  // namespace housepower::choice

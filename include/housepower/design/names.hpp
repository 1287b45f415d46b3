// SPDX-License-Identifier: Apache-2.0
// What may stand as a name or as a span of the day, for whoever makes a part of a design.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

namespace housepower::design {

/// Why this name cannot be used, and what to do; `has_ends` where "NAME.in" stands for something.
[[nodiscard]] std::optional<std::pair<std::string, std::string>>
why_no_name(const std::string& name, bool has_ends);
/// "18:00-23:00", "20:00-02:00".
[[nodiscard]] bool is_time_of_day(std::string_view text);

}  // namespace housepower::design

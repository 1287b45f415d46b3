// SPDX-License-Identifier: Apache-2.0
// How a finding about one end of a run names that end in its `in_case`.
#pragma once

#include <string_view>

#include "housepower/design/document.hpp"

namespace housepower::checks {

[[nodiscard]] constexpr std::string_view case_of(design::RunEnd end) {
  return end == design::RunEnd::from ? "from its `from` end" : "from its `to` end";
}

}  // namespace housepower::checks

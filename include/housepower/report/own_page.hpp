// SPDX-License-Identifier: Apache-2.0
// A maker's own page: the built one with other designs and words in its data block.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "housepower/answers/page_content.hpp"

namespace housepower::report {

/// Nothing where the HTML is no built page: it has no place for designs.
[[nodiscard]] std::optional<std::string> own_page(std::string_view built,
                                                  const answers::PageContent&);

}  // namespace housepower::report

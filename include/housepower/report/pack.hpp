// SPDX-License-Identifier: Apache-2.0
// The answer of `size`.
#pragma once

#include "housepower/answers/size.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

using answers::PackReport;
/// The least pack in a sentence, or that nothing keeps the promise.
[[nodiscard]] std::string pack_in_words(const PackReport&);
[[nodiscard]] Page pack_page(const PackReport&);
[[nodiscard]] std::string pack_json(const PackReport&);

}  // namespace housepower::report

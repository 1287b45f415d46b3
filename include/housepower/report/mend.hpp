// SPDX-License-Identifier: Apache-2.0
// The answer of `mend`: what to change, why, and what no such change cures.
#pragma once

#include "housepower/answers/mend.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

using answers::MendReport;
[[nodiscard]] Page mend_page(const MendReport&);
[[nodiscard]] std::string mend_json(const MendReport&);
/// "2 changes, 0.14 kg of copper added: safety pass, service pass."
[[nodiscard]] std::string mend_in_words(const MendReport&);

/// Many designs in one table, and the sizes of conductors that they take together.
[[nodiscard]] Page mend_range_page(const std::vector<MendReport>&);
[[nodiscard]] std::string mend_range_json(const std::vector<MendReport>&);

}  // namespace housepower::report

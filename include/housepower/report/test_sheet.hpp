// SPDX-License-Identifier: Apache-2.0
// The test sheet of a finished van for the person on the line, for programs, and to type into; and what
// its readings say.
#pragma once

#include <string>

#include "housepower/answers/test_sheet.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

/// Dead tests, the resting voltage, then for each switch-on voltages, drops and clamps in the order in
/// which a person walks.
[[nodiscard]] Page test_sheet_page(const answers::TestSheetReport&);
[[nodiscard]] std::string test_sheet_json(const answers::TestSheetReport&);
/// case, point, label, leads, expected, low, high, unit, read: a row a point, `read` to be filled in.
/// Drops in mV, with the digits that a meter shows; dead tests and the resting voltage first.
[[nodiscard]] std::string test_sheet_csv(const answers::TestSheetReport&);

[[nodiscard]] Page diagnosis_page(const answers::DiagnosedVan&);
[[nodiscard]] std::string diagnosis_json(const answers::DiagnosedVan&);

}  // namespace housepower::report

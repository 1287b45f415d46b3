// SPDX-License-Identifier: Apache-2.0
// Readings as a meter shows them.
#pragma once

#include <string>

#include "housepower/wiring/test_plan.hpp"

namespace housepower::report {

/// Volts with two digits behind the point, millivolts and amperes with one.
[[nodiscard]] std::string as_metered(const wiring::ReadPoint& like, Number);
/// The lower end of a band; below nothing there is only the meter's own error.
[[nodiscard]] std::string low_as_metered(const wiring::ReadPoint&);
/// "V", "mV", "A".
[[nodiscard]] std::string unit_as_metered(const wiring::ReadPoint&);
/// "case "dinner"", "20 A at panel".
[[nodiscard]] std::string words_of(const wiring::TestLoad&);

/// Why the sheet does not test a run, and what to do instead.
[[nodiscard]] const char* why_of(wiring::Untested::Why);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// What charges and what the inverters are carried down to, beside the rest of the wiring's answer.
#pragma once

#include "json.hpp"

namespace housepower::report {

/// `feeds`, `arrays` and `sums`.
[[nodiscard]] Json charging_object(const design::Design&, const wiring::Assessment&);
[[nodiscard]] Json inverters_array(const design::Design&, const wiring::Assessment&);
/// What both hold.
[[nodiscard]] Json charging_shape();
[[nodiscard]] Json inverters_shape();
/// The same as tables; those without rows are left out.
void add_charging(Page&, const design::Design&, const wiring::Assessment&);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// Two figures of one sentence that should not read alike.
#pragma once

namespace housepower {

/// Significant digits, 3 to 5, at which the two are printed unlike.
[[nodiscard]] int digits_apart(double one, double other);

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// A price: an amount and the currency that was written beside it. Nothing is converted.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "housepower/units/quantity.hpp"

namespace housepower::design {

struct Money {
  Ratio amount = 0.0;
  std::string currency;  // "EUR", "AUD": letters as written
};

/// "420 EUR", "1250.50 AUD": a number, not negative, and a word of letters. Nothing where it is
/// not that.
[[nodiscard]] std::optional<Money> money_of(std::string_view text);
/// "1250.50 AUD": whole amounts without decimals.
[[nodiscard]] std::string print(const Money&);

}  // namespace housepower::design

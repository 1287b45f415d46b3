// SPDX-License-Identifier: Apache-2.0
// Prices from text and back.
#include "housepower/design/money.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/units/unit.hpp"

namespace housepower::design {

/// "EUR": a code of ISO 4217 has three letters.
constexpr std::size_t letters_of_a_currency = 3;

std::optional<Money> money_of(std::string_view text) {
  const auto space = text.find(' ');
  if (space == text.npos) return std::nullopt;
  const auto amount = parse_double(text.substr(0, space));
  const std::string_view currency = text.substr(space + 1);
  const auto is_letter = [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); };
  if (!amount || *amount < 0.0 || *amount > 1e9 || currency.size() != letters_of_a_currency ||
      !std::all_of(currency.begin(), currency.end(), is_letter))
    return std::nullopt;
  return Money{*amount, std::string(currency)};
}

std::string print(const Money& money) {
  const double cents = std::round(double(money.amount) * 100.0);
  const auto whole = static_cast<long long>(cents) / 100,
             rest = static_cast<long long>(cents) % 100;
  std::string text = std::to_string(whole);
  if (rest != 0) text += (rest < 10 ? ".0" : ".") + std::to_string(rest);
  return text + " " + money.currency;
}

}  // namespace housepower::design

// SPDX-License-Identifier: Apache-2.0
// The calculator that judges the workings is itself judged here, by hand.
#include <doctest/doctest.h>

#include <stdexcept>

#include "support/pocket_calculator.hpp"

namespace housepower::working_pocket_calculator {
namespace {

using test::PocketCalculator;

double calculated(std::string_view text) {
  return PocketCalculator(text,
                          [](std::string_view symbol) -> double {
                            if (symbol == "I") return 3.0;
                            if (symbol == "I_z") return 6.0;
                            if (symbol == "k²") return 50.0;
                            if (symbol == "ΔT") return 7.0;
                            if (symbol == "exp_0") return 2.0;
                            throw std::invalid_argument("no such symbol");
                          })
      .result();
}

TEST_CASE("the calculator keeps the order of operations") {
  struct Row {
    std::string_view text;
    double value;
  };
  const Row rows[] = {
      {"1 + 2 · 3", 7},
      {"(1 + 2) × 3", 9},
      {"12 / 3 / 2", 2},
      {"12 / 3 · 2", 8},
      {"10 - 3 − 2", 5},
      {"-2²", -4},
      {"(-2)²", 4},
      {"3 · -2", -6},
      {"2³ + 1", 9},
      {"2^3^2", 512},
      {"4^-0.5", 0.5},
      {"4^(1 / 2)", 2},
      {"1.5e3 + 2e-1", 1500.2},
      {"2·3", 6},
      {" 7 ", 7},
      {"√(9) + √(I_z - 2)", 5},
      {"min(3, 1, 2) + max(1, 5)", 6},
      {"max(0, min(1, 0.4))", 0.4},
      {"exp(0) + ln(exp(2))", 3},
      {"sin(30) + cos(60)", 1},
      {"tan(45)", 1},
      {"asin(0.5) + acos(0.5) + atan(1)", 135},
      {"tanh(0) + abs(-3)", 3},
      {"sin(π · 0)", 0},
      {"I² · I_z", 54},
      {"(I / I_z)²", 0.25},
      {"k² · 2", 100},
      {"ΔT / I", 7.0 / 3.0},
      {"exp_0 + 1", 3},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    CHECK(calculated(row.text) == doctest::Approx(row.value).epsilon(1e-12));
  }
}

TEST_CASE("the calculator reads numbers with units") {
  struct Row {
    std::string_view text;
    double value;
  };
  const Row rows[] = {
      {"2 · 4 m · 15 A · 7.98 mΩ/m", 0.9576},  // 2 · 4 · 15 · 0.00798
      {"12 V / 3 A", 4},
      {"(35 mm²)²", 1.225e-9},
      {"(234.5 + 40 °C) / 254.5", 274.5 / 254.5},
      {"40 °C - (-5 °C)", 45},
      {"5 K + 20 °C", 25},
      {"sin(30°)", 0.5},
      {"1.5 kWh / (12 V · 100 Ah)", 1.25},  // 1500 Wh / 1200 Wh
      {"90 % · 2", 1.8},
      {"2 A² · 3", 6},
      {"4 kg·m²·s⁻³ + 1", 5},
      {"3 d", 259200},
      {"0.03 K·m²/W · 1000 W/m²", 30},
      {"12 V/3", 4},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    CHECK(calculated(row.text) == doctest::Approx(row.value).epsilon(1e-12));
  }
}

TEST_CASE("the calculator refuses what it cannot read") {
  for (const auto text : {"", "1 +", "(1", "1)", "1 2", "2 I", "J", "sine(1)", "min(1", "3 · · 2",
                          "2 ÷ 3", "k · 2", "π π", "1e400"}) {
    CAPTURE(text);
    CHECK_THROWS_AS(calculated(text), std::invalid_argument);
  }
}

}  // namespace
}  // namespace housepower::working_pocket_calculator

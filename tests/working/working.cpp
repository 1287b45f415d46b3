// SPDX-License-Identifier: Apache-2.0
// Steps write down what was computed, and print so that a person can redo it.
#include <doctest/doctest.h>

#include <string>

#include "formulas.hpp"
#include "housepower/units/unit.hpp"
#include "support/working_adds_up.hpp"

namespace housepower::working_working {
namespace {

using namespace test;

/// The line that a formula prints with these operands.
template <std::size_t N, class F, class... Q>
std::string line(const Formula<N, F>& formula, const Q&... q) {
  Working working;
  step(&working, formula, q...);
  return with_numbers(working.back());
}

TEST_CASE("the words for sources are the product's") {
  CHECK(word_of(SourceKind::published) == "published");
  CHECK(word_of(SourceKind::supplier) == "supplier");
  CHECK(word_of(SourceKind::common_practice) == "common practice");
  CHECK(word_of(SourceKind::from_memory) == "from memory");
}

TEST_CASE("of two sources the weaker one counts, of equals the first") {
  const Source firm{SourceKind::published, "a", ""}, weak{SourceKind::from_memory, "b", ""},
      other{SourceKind::published, "c", ""};
  CHECK(weaker(firm, weak) == weak);
  CHECK(weaker(weak, firm) == weak);
  CHECK(weaker(firm, other) == firm);
}

TEST_CASE("a step gives the same value whether it is written down or not") {
  Working working;
  const auto kept = step(&working, drop, 4.0 * metre, 15.0 * ampere, 7.98 * ohm_per_kilometre);
  const auto silent = step(nullptr, drop, 4.0 * metre, 15.0 * ampere, 7.98 * ohm_per_kilometre);
  CHECK(kept == silent);
  CHECK(kept.value() == doctest::Approx(2 * 4 * 15 * 0.00798).epsilon(1e-12));  // 0.9576 V
  REQUIRE(working.size() == 1);
  const Step& s = working.front();
  CHECK(s.how == Step::How::formula);
  CHECK(s.formula.symbol == "U_drop");
  CHECK(s.formula.source == handbook);
  CHECK(s.value == Number(kept));
  REQUIRE(s.operands.size() == 3);
  CHECK(s.operands[1] == Number(15.0 * ampere));
}

TEST_CASE("numbers take the place of symbols") {
  CHECK(line(drop, 4.0 * metre, 15.0 * ampere, 7.98 * ohm_per_kilometre) ==
        "2 · 4 m · 15 A · 7.98 mΩ/m");
  CHECK(line(resistance_when_warm, 7.41 * ohm_per_kilometre, celsius(40.0)) ==
        "7.41 mΩ/m · (234.5 + 40 °C) / 254.5");
}

TEST_CASE("only whole symbols are replaced, the longest first") {
  CHECK(line(warmed, celsius(30.0), celsius(90.0), 15.0 * ampere, 30.0 * ampere) ==
        "30 °C + (90 °C - 30 °C) · (15 A / 30 A)²");
  CHECK(line(withstand, AdiabaticConstant::from_value(13689e12), 35.0 * square_millimetre) ==
        "13690 A²s/mm⁴ · (35 mm²)²");
  CHECK(line(ambient_factor, celsius(90.0), celsius(45.0), celsius(30.0)) ==
        "min(1, √(max(0, (90 °C - 45 °C) / (90 °C - 30 °C))))");
}

TEST_CASE("a symbol inside a longer name is left alone") {
  static constexpr Formula inside{
      "x",
      "",
      "min(n, 2) · tanh(t / t_0) + a · k² · k",
      {{"n", ""}, {"t", ""}, {"t_0", ""}, {"a", ""}, {"k²", ""}, {"k", ""}},
      handbook,
      [](Ratio n, Ratio t, Ratio t0, Ratio a, Ratio k2, Ratio k) -> Ratio {
        return std::min(n.value(), 2.0) * std::tanh(t / t0) + a * k2 * k;
      }};
  Working working;
  step(&working, inside, Ratio(1.5), Ratio(3.0), Ratio(4.0), Ratio(5.0), Ratio(6.0), Ratio(7.0));
  CHECK(with_numbers(working.back()) == "min(1.5, 2) · tanh(3 / 4) + 5 · 6 · 7");
  CHECK(text_against_code(working.back()) == "");
}

TEST_CASE("brackets keep a number and its unit together") {
  CHECK(line(let_through, 6000.0 * ampere, 0.01 * second) == "(6 kA)² · 0.01 s");
  CHECK(line(reach, 0.36 * volt, 7.98 * ohm_per_kilometre, 15.0 * ampere) ==
        "0.36 V / (7.98 mΩ/m) / (2 · 15 A)");
  CHECK(line(resistance_when_warm, 7.41 * ohm_per_kilometre, celsius(-5.0)) ==
        "7.41 mΩ/m · (234.5 + (-5 °C)) / 254.5");
  CHECK(line(resistance_seen, -1.2 * volt, 15.0 * ampere) == "(-1.2 V) / 15 A");
}

TEST_CASE("angles are in degrees and Greek letters are symbols") {
  CHECK(line(incidence, 30.0 * degree, 60.0 * degree) == "acos(sin(30°) · cos(60°))");
}

TEST_CASE("a ratio enters a line bare") {
  static constexpr Formula share{
      "P",         "power with losses",
      "P_out / η", {{"P_out", "power out"}, {"η", "efficiency"}},
      handbook,    [](Power out, Ratio efficiency) -> Power { return out / efficiency; }};
  CHECK(line(share, 450.0 * watt, Ratio(0.9)) == "450 W / 0.9");
}

TEST_CASE("the number of digits is the caller's") {
  Working working;
  step(&working, drop, 4.0 * metre, 15.12345 * ampere, 7.98 * ohm_per_kilometre);
  CHECK(with_numbers(working.back(), 3) == "2 · 4 m · 15.1 A · 7.98 mΩ/m");
  CHECK(with_numbers(working.back(), 6) == "2 · 4 m · 15.1235 A · 7.98 mΩ/m");
}

TEST_CASE("a given value prints as itself") {
  Working working;
  const auto r20 =
      given(&working, "r20", "resistance at 20 °C", 7.41 * ohm_per_kilometre, handbook);
  CHECK(r20 == 7.41 * ohm_per_kilometre);
  CHECK(with_numbers(working.back()) == "7.41 mΩ/m");
  CHECK(working.back().formula.symbol == "r20");
  given(nullptr, "r20", "", r20, handbook);
  CHECK(working.size() == 1);
}

TEST_CASE("a sum names its terms and takes off what is negative") {
  Working working;
  const std::vector<Term<Charge>> terms{
      {"fridge", 12.3 * ampere_hour}, {"lights", 4.5 * ampere_hour}, {"sun", -3.25 * ampere_hour}};
  const Charge day = sum(&working, "Q_day", "used in a day", terms);
  CHECK(day / ampere_hour == doctest::Approx(12.3 + 4.5 - 3.25).epsilon(1e-12));
  CHECK(with_numbers(working.back()) == "fridge 12.3 Ah + lights 4.5 Ah - sun 3.25 Ah");
  sum(&working, "Q_day", "", std::vector<Term<Charge>>{terms[2], terms[1]});
  CHECK(with_numbers(working.back()) == "sun -3.25 Ah + lights 4.5 Ah");
  CHECK(sum(nullptr, "Q_day", "", terms) == day);
  CHECK(sum(&working, "Q_day", "", std::vector<Term<Charge>>{}) == 0.0 * ampere_hour);
  CHECK(with_numbers(working.back()) == "0 Ah");
}

TEST_CASE("the largest and the smallest name what they chose from") {
  Working working;
  const std::vector<Term<Current>> terms{
      {"pump", 4.0 * ampere}, {"fridge", 12.0 * ampere}, {"lights", 2.5 * ampere}};
  CHECK(largest(&working, "I", "", terms) == 12.0 * ampere);
  CHECK(with_numbers(working.back()) == "largest of pump 4 A, fridge 12 A, lights 2.5 A");
  CHECK(smallest(&working, "I", "", terms) == 2.5 * ampere);
  CHECK(with_numbers(working.back()) == "smallest of pump 4 A, fridge 12 A, lights 2.5 A");
}

TEST_CASE("every step adds up, by its text and by its printed line") {
  Working working;
  for (const double t : {-20.0, -5.0, 0.0, 25.0, 29.9999, 61.7}) {
    step(&working, resistance_when_warm, 7.41 * ohm_per_kilometre, celsius(t));
    for (const double i : {0.01, 3.3333, 14.2857, 250.0}) {
      step(&working, warmed, celsius(t), celsius(90.0), i * ampere, 31.4 * ampere);
      step(&working, drop, 4.0 * metre, i * ampere, 7.98765 * ohm_per_kilometre);
      step(&working, let_through, i * ampere, 123.456 * second);
      step(&working, reach, 0.36 * volt, 7.98765 * ohm_per_kilometre, i * ampere);
    }
    step(&working, ambient_factor, celsius(90.0), celsius(t), celsius(30.0));
    step(&working, incidence, (t + 20.0) * degree, 13.7 * degree);
    step(&working, resistance_seen, t * volt, 14.2857 * ampere);
  }
  step(&working, ambient_factor, celsius(90.0), celsius(95.0), celsius(30.0));
  step(&working, withstand, AdiabaticConstant::from_value(13225e12), 35.0 * square_millimetre);
  given(&working, "U", "", 12.8 * volt, handbook);
  const std::vector<Term<Charge>> terms{{"box 2 + 3 A", 12.3456 * ampere_hour},
                                        {"a", 0.04512 * ampere_hour},
                                        {"sun", -3.2 * ampere_hour}};
  sum(&working, "Q", "", terms);
  largest(&working, "Q", "", terms);
  smallest(&working, "Q", "", terms);
  for (const Step& s : working) {
    CAPTURE(with_numbers(s));
    CHECK(text_against_code(s) == "");
    for (const int digits : {2, 3, 4, 9}) CHECK(line_against_value(s, digits) == "");
  }
}

TEST_CASE("a text that says something else than its code is found out") {
  static constexpr Formula forgets_the_return{
      "U",
      "",
      "L · I · r",
      {{"L", ""}, {"I", ""}, {"r", ""}},
      handbook,
      [](Length l, Current i, ResistancePerLength r) -> Voltage { return 2.0 * l * i * r; }};
  static constexpr Formula nearly{"U",
                                  "",
                                  "1.00001 · R · I",
                                  {{"R", ""}, {"I", ""}},
                                  handbook,
                                  [](Resistance r, Current i) -> Voltage { return r * i; }};
  static constexpr Formula unknown_symbol{
      "U",      "",
      "R · J",  {{"R", ""}, {"I", ""}},
      handbook, [](Resistance r, Current i) -> Voltage { return r * i; }};
  Working working;
  step(&working, forgets_the_return, 4.0 * metre, 15.0 * ampere, 7.98 * ohm_per_kilometre);
  CHECK(text_against_code(working.back()) != "");
  CHECK(line_against_value(working.back()) != "");
  step(&working, nearly, 1e-6 * ohm, 0.001 * ampere);
  CHECK(text_against_code(working.back()) != "");
  step(&working, unknown_symbol, 1.0 * ohm, 1.0 * ampere);
  CHECK(text_against_code(working.back()) == "no operand J");
  CHECK(line_against_value(working.back()) != "");

  const std::vector<Term<Current>> terms{{"pump", 4.0 * ampere}, {"fridge", 12.0 * ampere}};
  sum(&working, "I", "", terms);
  working.back().value.si = 16.001;
  CHECK(text_against_code(working.back()) != "");
  CHECK(line_against_value(working.back(), 6) != "");
  largest(&working, "I", "", terms);
  working.back().value.si = 4.0;
  CHECK(text_against_code(working.back()) != "");
  CHECK(line_against_value(working.back()) != "");
}

}  // namespace
}  // namespace housepower::working_working

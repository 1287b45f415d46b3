// SPDX-License-Identifier: Apache-2.0
// A formula by its name, as a program asks for its value.
#include "housepower/answers/formula.hpp"

#include <doctest/doctest.h>

#include "housepower/units/unit.hpp"

namespace answers_formula {
namespace {

using namespace housepower;
using answers::SymbolValue;

std::vector<std::string> keys_refused(const FormulaEntry& f, std::vector<SymbolValue> values) {
  Diagnostics problems;
  CHECK_FALSE(answers::formula(f, values, problems).has_value());
  std::vector<std::string> keys;
  for (const auto& d : problems.all) keys.push_back(d.key);
  return keys;
}

}  // namespace

TEST_CASE("a formula is found by its name and gives what a calculation by hand gives") {
  const auto drop = answers::formula_named("voltage-drop");
  REQUIRE(drop);
  // 2 · 4 m · 15 A · 7.98 mΩ/m = 0.9576 V
  const std::vector<SymbolValue> values{
      {"r", 7.98e-3 * ohm / metre}, {"L", 4.0 * metre}, {"I", 15.0 * ampere}};  // in any order
  Diagnostics problems;
  const auto a = answers::formula(*drop, values, problems);
  REQUIRE(a);
  REQUIRE(a->value);
  CHECK(a->value->kind == kind_of<Voltage>);
  CHECK(a->value->si == doctest::Approx(0.9576));
  CHECK_FALSE(a->working.empty());
  CHECK(a->why_none.empty());
  CHECK_FALSE(answers::formula_named("no such formula"));
}

TEST_CASE("what is missing, unknown or of another kind is told, all at once") {
  const auto drop = answers::formula_named("voltage-drop");
  REQUIRE(drop);
  CHECK(keys_refused(*drop, {{"L", 4.0 * metre}}) == std::vector<std::string>{"I", "r"});
  CHECK(keys_refused(*drop, {{"Q", 4.0 * metre},
                             {"L", 4.0 * ampere},
                             {"I", 15.0 * ampere},
                             {"r", 7.98e-3 * ohm / metre}}) == std::vector<std::string>{"Q", "L"});
}

TEST_CASE("a formula without a result for these values says so, and gives no number") {
  // 100 W through 1 Ω from 12 V: 4 · R · P = 400 > U² = 144, so no current carries it
  const auto current = answers::formula_named("constant-power-current");
  REQUIRE(current);
  Diagnostics problems;
  const std::vector<SymbolValue> values{{"U", 12.0 * volt}, {"R", 1.0 * ohm}, {"P", 100.0 * watt}};
  const auto a = answers::formula(*current, values, problems);
  REQUIRE(a);
  CHECK_FALSE(a->value);
  CHECK_FALSE(a->why_none.empty());
}

}  // namespace answers_formula

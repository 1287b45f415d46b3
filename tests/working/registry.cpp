// SPDX-License-Identifier: Apache-2.0
// Formulas and procedures are reached by name, with kinds, and compute what the object computes.
#include <doctest/doctest.h>

#include <vector>

#include "formulas.hpp"
#include "housepower/working/registry.hpp"

namespace housepower::working_registry {
namespace {

Power power_of(Voltage voltage, Current current) { return voltage * current; }

constexpr Symbol power_symbols[] = {{"U", "voltage"}, {"I", "current"}};
constexpr FormulaText about_power{"P", "power", "U · I", power_symbols, test::handbook};

constexpr auto list =
    std::to_array<FormulaEntry>({entry<test::drop>("drop"), entry<test::warmed>("warmed"),
                                 procedure<power_of>("power", about_power)});

TEST_CASE("an entry tells its name, text and kinds") {
  CHECK(list[0].name == "drop");
  CHECK(list[0].about.text == "2 · L · I · r");
  REQUIRE(list[0].kinds.size() == 3);
  CHECK(list[0].kinds[0] == kind_of<Length>);
  CHECK(list[0].kinds[1] == kind_of<Current>);
  CHECK(list[0].kinds[2] == kind_of<ResistancePerLength>);
  CHECK(list[0].kind == kind_of<Voltage>);
  CHECK(list[1].kind == kind_of<Temperature>);
  CHECK(list[2].about.operands.size() == 2);
  CHECK(list[2].kinds.size() == 2);
  CHECK(list[2].kind == kind_of<Power>);
}

TEST_CASE("an entry computes and writes down what the formula does") {
  Working working;
  const std::vector<Number> operands{4.0 * metre, 15.0 * ampere, 7.98 * ohm_per_kilometre};
  const Number value = list[0].evaluate(operands, &working);
  CHECK(value.kind == kind_of<Voltage>);
  CHECK(value.si == doctest::Approx(0.9576).epsilon(1e-12));  // 2 · 4 m · 15 A · 0.00798 Ω/m
  REQUIRE(working.size() == 1);
  CHECK(working[0].value == value);

  const std::vector<Number> temperatures{celsius(30.0), celsius(90.0), 15.0 * ampere,
                                         30.0 * ampere};
  // 30 °C + (90 − 30) K · (15/30)² = 45 °C
  CHECK(list[1].evaluate(temperatures, nullptr).si ==
        doctest::Approx(273.15 + 45.0).epsilon(1e-12));

  const std::vector<Number> both{12.0 * volt, 3.0 * ampere};
  CHECK(list[2].evaluate(both, &working) == Number(36.0 * watt));
  CHECK(working.size() == 1);
}

}  // namespace
}  // namespace housepower::working_registry

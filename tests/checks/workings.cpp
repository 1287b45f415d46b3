// SPDX-License-Identifier: Apache-2.0
// Law: every step of every finding of every example says what its code computes, to 1e-12, and the
// printed line gives the printed value within its digits.
#include "examples.hpp"
#include "support/working_adds_up.hpp"

namespace housepower::checks::checks_workings {
namespace {

TEST_CASE("the working of every finding of every example can be redone") {
  std::size_t steps = 0;
  for (const std::string& file : examples::all())
    for (const Finding& f : examples::checked(file).findings)
      for (const Step& s : f.working) {
        ++steps;
        CAPTURE(file);
        CAPTURE(f.rule);
        CAPTURE(f.subject.text());
        CAPTURE(s.formula.symbol);
        CAPTURE(with_numbers(s));
        CHECK(housepower::test::text_against_code(s) == "");
        for (const int digits : {3, 4, 6})
          CHECK(housepower::test::line_against_value(s, digits) == "");
      }
  CHECK(steps > 1000);  // else the examples were not found, or the rules show no working
}

TEST_CASE("what a finding measures, or else its limit, stands in its working") {
  const auto holds = [](const Working& working, const Number& n) {
    return std::any_of(working.begin(), working.end(), [&](const Step& s) {
      return s.value.kind == n.kind && std::abs(s.value.si - n.si) <= 1e-9 * std::abs(n.si);
    });
  };
  for (const std::string& file : examples::all())
    for (const Finding& f : examples::checked(file).findings) {
      if (!f.measured) continue;
      CAPTURE(file);
      CAPTURE(f.rule);
      CAPTURE(f.message);
      CHECK((holds(f.working, *f.measured) || (f.limit && holds(f.working, *f.limit))));
    }
}

}  // namespace
}  // namespace housepower::checks::checks_workings

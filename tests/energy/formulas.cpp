// SPDX-License-Identifier: Apache-2.0
// The lists of formulas of parts and energy: each is reachable by name, and its text says what its
// code computes.
#include <cmath>
#include <set>

#include "camp.hpp"
#include "housepower/energy/formula_list.hpp"
#include "housepower/parts/formula_list.hpp"

namespace energy_formulas {
namespace {

using namespace camp;

/// Harmless operands: 20 °C, 30°, a share, two of anything else.
Number sample(const Kind& kind, double nudge) {
  if (kind.point) return {293.15 + 10.0 * nudge, kind};
  if (kind == kind_of<Angle>) return {0.5 + nudge, kind};
  if (kind == kind_of<Ratio>) return {0.3 + nudge, kind};
  return {2.0 + nudge, kind};
}

TEST_CASE("every formula is reachable by its name, and its text gives what its code gives") {
  std::set<std::string_view> names;
  for (const auto list : {parts::formulas(), energy::formulas()})
    for (const FormulaEntry& f : list) {
      CAPTURE(f.name);
      CHECK(names.insert(f.name).second);
      CHECK(f.name.find_first_not_of("abcdefghijklmnopqrstuvwxyz-0123456789") == f.name.npos);
      CHECK(f.about.operands.size() == f.kinds.size());
      CHECK_FALSE(f.about.text.empty());
      CHECK_FALSE(f.about.source.title.empty());
      for (const double nudge : {0.0, 0.07, 0.4}) {
        std::vector<Number> operands;
        for (const Kind& kind : f.kinds)
          operands.push_back(sample(kind, nudge * double(1 + operands.size())));
        Working working;
        const Number value = f.evaluate(operands, &working);
        CHECK(std::isfinite(value.si));
        CHECK(value.kind == f.kind);
        for (const Step& s : working) CHECK(test::text_against_code(s) == "");
      }
    }
}

}  // namespace

}  // namespace energy_formulas

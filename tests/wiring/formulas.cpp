// SPDX-License-Identifier: Apache-2.0
// The list of formulas: each is reachable by name, and its text says what its code computes.
#include <set>

#include "housepower/wiring/formula_list.hpp"
#include "rig.hpp"

namespace wiring_formulas {
namespace {

using namespace rig;

/// Harmless operands: rising temperatures, small ratios, three of anything else.
Number sample(const Kind& kind, std::size_t place) {
  const double step = 1.0 + 0.1 * double(place);
  if (kind.point) return {273.15 + 50.0 * step, kind};
  if (kind == kind_of<Ratio>) return {1.5 * step, kind};
  if (kind == kind_of<Resistance>) return {0.01 * step, kind};
  return {3.0 * step, kind};
}

TEST_CASE("every formula is reachable by its name, and its text gives what its code gives") {
  std::set<std::string_view> names;
  for (const FormulaEntry& f : formulas()) {
    CAPTURE(f.name);
    CHECK(names.insert(f.name).second);
    CHECK(f.name.find_first_not_of("abcdefghijklmnopqrstuvwxyz-0123456789") == f.name.npos);
    CHECK(f.about.operands.size() == f.kinds.size());
    CHECK_FALSE(f.about.source.title.empty());
    std::vector<Number> operands;
    for (const Kind& kind : f.kinds) operands.push_back(sample(kind, operands.size()));
    Working working;
    const Number value = f.evaluate(operands, &working);
    CHECK(std::isfinite(value.si));
    CHECK(value.kind == f.kind);
    for (const Step& s : working) CHECK(housepower::test::text_against_code(s) == "");
  }
  CHECK(names.size() >= 20);
}

}  // namespace

}  // namespace wiring_formulas

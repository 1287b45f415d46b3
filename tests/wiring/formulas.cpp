// SPDX-License-Identifier: Apache-2.0
// The list of formulas: each is reachable by name, and its text says what its code computes.
#include "housepower/wiring/formula_list.hpp"
#include "rig.hpp"
#include "support/formula_texts.hpp"

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
  housepower::test::texts_give_what_code_gives(formulas(), sample, names);
  CHECK(names.size() >= 20);
}

}  // namespace

}  // namespace wiring_formulas

// SPDX-License-Identifier: Apache-2.0
// The lists of formulas of parts and energy: each is reachable by name, and its text says what its
// code computes.
#include "camp.hpp"
#include "housepower/energy/formula_list.hpp"
#include "housepower/parts/formula_list.hpp"
#include "support/formula_texts.hpp"

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
  for (const double nudge : {0.0, 0.07, 0.4}) {
    std::set<std::string_view> names;
    for (const auto list : {parts::formulas(), energy::formulas()})
      test::texts_give_what_code_gives(
          list,
          [&](const Kind& kind, std::size_t place) {
            return sample(kind, nudge * double(1 + place));
          },
          names);
  }
}

}  // namespace

}  // namespace energy_formulas

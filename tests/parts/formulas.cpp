// SPDX-License-Identifier: Apache-2.0
// The list of this room's formulas: the text of each says what its code computes.
#include "housepower/parts/formula_list.hpp"
#include "support/formula_texts.hpp"

namespace parts_formulas {
namespace {

using namespace housepower;

TEST_CASE("every formula of the parts is named once, and its text gives what its code gives") {
  // 20 °C, a share, two of anything else; from there on each operand by another step, up or down. A
  // state of charge of 0.01 lets the anode's steepest term count, one of 0.3 the others.
  struct Start {
    double share, step;
  };
  for (const Start& from :
       {Start{0.01, 0.0}, Start{0.01, 0.4}, Start{0.3, 0.07}, Start{0.3, 0.4}, Start{0.3, -0.02}}) {
    std::set<std::string_view> names;
    const auto sample = [&](const Kind& kind, std::size_t place) -> Number {
      const double moved = from.step * double(1 + place);
      if (kind.point) return {293.15 + 10.0 * moved, kind};
      return {(kind == kind_of<Ratio> ? from.share : 2.0) + moved, kind};
    };
    test::texts_give_what_code_gives(parts::formulas(), sample, names);
  }
}

}  // namespace

}  // namespace parts_formulas

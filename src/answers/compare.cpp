// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/compare.hpp"

#include "housepower/range/range.hpp"

namespace housepower::answers {
namespace {

std::optional<Duration> promised_stay(const design::Design& design,
                                      const checks::Checked& checked) {
  if (!design->promise.stay) return std::nullopt;
  const auto stay = energy::stay_that_counts(design, checked.charging, range::longest_stay_days);
  return stay ? std::optional(stay->met) : std::nullopt;
}

range::Compared compared(const CompareSide& side) {
  const GivenDesign& given = side.given;
  return {given.node, given.design, side.checked, promised_stay(given.design, side.checked)};
}

CheckedDesign checked_of(const CompareSide& side) {
  return {side.given.design, side.checked, side.given.inputs_digest};
}

}  // namespace

CompareReport compare(const CompareSide& before, const CompareSide& after) {
  return {checked_of(before), checked_of(after), range::compare(compared(before), compared(after))};
}

}  // namespace housepower::answers

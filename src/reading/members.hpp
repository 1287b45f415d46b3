// SPDX-License-Identifier: Apache-2.0
// Which lists say nothing when they are empty.
#pragma once

#include "housepower/reading/shape.hpp"

namespace housepower::detail {

/// A list of figures, or one with a least number of members: empty it would count as not stated.
[[nodiscard]] inline bool needs_a_member(const Field& field) {
  if (holds_tables(field)) return false;
  const auto form = innermost(*field.shape).form;
  return form == Shape::Form::quantity || form == Shape::Form::number ||
         form == Shape::Form::count || field.least.has_value();
}

}  // namespace housepower::detail

// SPDX-License-Identifier: Apache-2.0
// Keys of [[part]]: `name`, `is`, and those that the design has for that kind of thing. A part reads
// with the very fields of the design, so limits, units and messages are the same.
#pragma once

#include "fields_equipment.hpp"
#include "housepower/design/catalogue.hpp"

namespace housepower::detail {

/// What a part may be, and what it is called.
template <> struct Reads<design::Part> {
  static constexpr Shape shape{.form = Shape::Form::table, .inner = design::all_part_fields};
  static bool read(const Node& n, design::Part& to, const Field& f, Reading& r) {
    return design::read_part(n, to, f, r);
  }
  static Node node(const design::Part& from) { return design::node_of(from); }
};

}  // namespace housepower::detail

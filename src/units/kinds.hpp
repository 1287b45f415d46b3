// SPDX-License-Identifier: Apache-2.0
// What the house knows about each kind of quantity: its name, an example to show, the unit of its
// plain value, and the units to print it in. Inside the room only.
#pragma once

#include <array>

#include "spellings.hpp"

namespace housepower::kinds {

/// A unit to print in, for values of at least `from` of it.
struct Rung {
  Unit unit;
  double from = 0;
};

struct Facts {
  Kind kind;
  std::string_view name;         // "a length"
  std::string_view examples;     // "\"3.5 m\" or \"12 ft\""
  Unit plain;                    // of JSON and CSV
  std::string_view likely;       // what a bare number probably meant, as one types it; may be empty
  std::array<Rung, 5> ladder{};  // largest first; an empty symbol ends it; none: always `plain`
  std::array<Rung, 3> us{};      // the same where US units are shown; none: as else
};

/// Null for a kind that has no unit of its own.
const Facts* facts_of(Kind kind);

}  // namespace housepower::kinds

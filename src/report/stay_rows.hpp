// SPDX-License-Identifier: Apache-2.0
// Rows and columns of the answer of `stay`, from which its tables and its JSON follow.
#pragma once

#include "housepower/page/row_table.hpp"
#include "housepower/report/stay.hpp"

namespace housepower::report {

using pack::Lever;

/// A length of stay for people: at the end of what is simulated it is the least that it can be.
[[nodiscard]] std::string told_length(Duration length, Duration longest);

/// With the end of what was simulated.
template <class Thing> struct Simulated {
  Thing it;
  Duration longest{};
};
template <class Thing>
std::vector<Simulated<Thing>> simulated(const std::vector<Thing>& things, Duration longest) {
  std::vector<Simulated<Thing>> list;
  for (const Thing& one : things) list.push_back({one, longest});
  return list;
}
[[nodiscard]] const Columns<energy::StayAnswer>& stay_month_columns();

struct EmptiedRow {
  std::string name;
  Energy energy{};
  Ratio share = 0.0;
};
/// The largest first.
[[nodiscard]] std::vector<EmptiedRow> emptied_by(const StayReport&);
[[nodiscard]] const Columns<EmptiedRow>& emptied_columns();

using LeverRow = Simulated<Lever>;
[[nodiscard]] const Columns<LeverRow>& lever_columns();
[[nodiscard]] std::vector<Lever> possible(const pack::Levers&);
using PlaceRow = Simulated<PlaceStay>;
[[nodiscard]] const Columns<PlaceRow>& place_columns();

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// The stays of a month for the eye: every length, and the charge hour by hour over the worst stay
// and over a typical one. The same simulation as `stay`, of which it shows more.
#pragma once

#include "housepower/energy/stay.hpp"

namespace housepower::energy {

/// One stay hour by hour.
struct StayTrace {
  int year = 0, arrives = 0;  // counted from 0; day of arrival in the month, from 1
  Duration lasted{};
  bool ended = false;         // something was not served
  std::vector<Ratio> charge;  // at the end of each hour, of the aged capacity
};

struct StaysSeen {
  int month = 0;
  Duration longest{};                               // longer ones count as this
  std::vector<Duration> lengths, lengths_when_new;  // by year, then by day of arrival
  StayTrace worst, typical;  // the shortest, and that in the middle; at the promised age
};
/// Nothing without a bank. A trace ends a day after its stay, and no sooner than the promise.
[[nodiscard]] std::optional<StaysSeen> stays_seen(const design::Design&, const Surroundings&,
                                                  const StayQuestion&,
                                                  const Each& = one_after_another);

}  // namespace housepower::energy

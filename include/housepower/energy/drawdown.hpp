// SPDX-License-Identifier: Apache-2.0
// How much a store must hold to carry a record of gains and uses: the sequent-peak method.
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>

#include "housepower/working/working.hpp"

namespace housepower::energy {

/// What a full store lacks at the end of a day.
inline constexpr Formula drawn_down{
    "K",
    "drawn down at the end of the day",
    "max(0, K_0 + D - Q)",
    {{"K_0", "drawn down the evening before"}, {"D", "used"}, {"Q", "gained"}},
    Source{SourceKind::published, "the documentation of a public water-resources package",
           "sequent-peak method"},
    [](Energy before, Energy used, Energy gained) -> Energy {
      return std::max(Energy{}, Energy(before + used - gained));
    }};

struct Drawdown {
  Energy largest{};        // what the store must give, full at the start
  std::size_t begins = 0;  // day of the record, from 0, on which the worst run leaves full
  std::size_t ends = 0;  // day at whose end most is lacking; before `begins` where the run goes on
                         // from the record's end into its beginning
  bool gains_enough = true;  // false: the record uses more than it gains, no store carries it on
};

/// From each day's gain and use (of any equal spans of time). A day without a gain gains nothing.
/// The record is run `times` one after another: twice tells what a year needs that follows itself.
[[nodiscard]] Drawdown largest_drawdown(std::span<const Energy> gained,
                                        std::span<const Energy> used, int times = 2);

}  // namespace housepower::energy

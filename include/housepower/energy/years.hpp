// SPDX-License-Identifier: Apache-2.0
// Each month over many years: what is not served and what is not needed when the van stands there
// from its first day to its last, and the worst run of days that the sun brings.
#pragma once

#include "housepower/energy/drawdown.hpp"
#include "housepower/energy/stay.hpp"

namespace housepower::energy {

struct MonthOverYears {
  int month = 0;
  int years = 0;
  WeatherKind kind{};
  Energy unserved{}, spilled{};  // a day, mean of all years, as the design charges and travels
  Ratio unserved_share = 0.0;
  /// The worst run of days of all years, of the sun alone against the load: how much more is used
  /// than gathered from when the store is full until most is lacking, and how long that takes.
  Energy worst_run{};
  Duration worst_run_lasts{};
};
[[nodiscard]] std::vector<MonthOverYears>
months_over_years(const design::Design&, const Surroundings&, const Each& = one_after_another);

}  // namespace housepower::energy

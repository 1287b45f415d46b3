// SPDX-License-Identifier: Apache-2.0
// How long the bank lasts with no source at all, by the hourly simulation: the same demand as a
// stay's, the heater in the box included, cells as warm as their box or else as the air. Stays begin
// on every day of the month over some years, for the air differs.
#pragma once

#include "housepower/energy/assessment.hpp"
#include "housepower/energy/stay.hpp"

namespace housepower::energy {

/// Without sun only the air differs from year to year: for the three examples in Hobart, Darwin and
/// Munich ten years and a hundred agree within 2 %, and so do ten years and another ten.
inline constexpr int years_for_autonomy = 10;
/// What lasts longer counts as this, or as the promise where that is longer.
inline constexpr int longest_autonomy_days = 60;

/// At the promised age. `guess` is about how long it lasts: no more than that is simulated where it
/// suffices. `every`: from one day of arrival to the next.
[[nodiscard]] WithoutCharging without_charging(const design::Design&, const Surroundings&,
                                               int month, Duration guess, int every = 1,
                                               const Each& = one_after_another);
/// Of a month in such weather, as `assess` says it; nothing where nothing is used.
[[nodiscard]] std::optional<WithoutCharging> without_charging(const design::Design&, const Weather&,
                                                              int month);

}  // namespace housepower::energy

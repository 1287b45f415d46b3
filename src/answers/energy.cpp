// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/energy.hpp"

namespace housepower::answers {
namespace {

/// Enough that the worst month of them is a bad one.
constexpr int years_of_weather = 30;

}  // namespace

EnergyReport energy_of(const CheckedDesign& checked, const energy::Each& each) {
  EnergyReport r{checked, {}};
  const design::Design& d = checked.design;
  const auto weather = energy::weather_of(d, years_of_weather, energy::usual_seed);
  if (!weather || !d->bank) return r;
  const energy::Surroundings around(d, *weather, {}, checked.checked.charging);
  r.years = energy::months_over_years(d, around, each);
  return r;
}

}  // namespace housepower::answers

// SPDX-License-Identifier: Apache-2.0
// Stays without sun or chargers, no longer than they last.
#include "housepower/energy/without_charging.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace housepower::energy {

WithoutCharging without_charging(const design::Design& design, const Surroundings& surroundings,
                                 int month, Duration guess, int every, const Each& each) {
  const auto& promise = design->promise;
  const auto whole_days = [](Duration d) { return int(std::ceil(double(d / day))); };
  const int most =
      std::max(longest_autonomy_days, promise.autonomy ? whole_days(*promise.autonomy) + 1 : 0);
  const std::array plants{*plant_of(design, promise.bank_age)};
  StayQuestion q;
  q.month = month;
  q.every = every;
  q.charging = Charging{};
  q.until_empty = q.without_sun = true;
  const double days = std::min(double(most), 1.25 * double(guess / day) + 2.0);
  WithoutCharging w;
  w.month = month;
  for (q.longest_days = int(days);; q.longest_days = std::min(most, 2 * q.longest_days)) {
    const Stays s = simulate(surroundings, q, plants, each);
    w.years = s.years;
    w.starts = int(s.all.size());
    w.lasts = reached(s, 0, promise.chance);
    w.outlasts = w.lasts >= double(q.longest_days) * day;
    if (!w.outlasts || q.longest_days >= most) return w;
  }
}

}  // namespace housepower::energy

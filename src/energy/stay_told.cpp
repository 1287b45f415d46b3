// SPDX-License-Identifier: Apache-2.0
// How a stay is told: half days and nights, rounded so that the range holds the figure.
#include <algorithm>
#include <cmath>

#include "housepower/energy/stay.hpp"

namespace housepower::energy {

Duration half_days(Duration d) { return std::floor(double(d / day) * 2.0 + 1e-9) / 2.0 * day; }
Duration half_days_up(Duration d) { return std::ceil(double(d / day) * 2.0 - 1e-9) / 2.0 * day; }

int nights(Duration lasted, int arrives) {
  return int(std::floor((double(lasted / hour) + arrives) / 24.0 + 1e-9));
}

Told told(const Lasting& l, Duration longest, int arrives) {
  Told t;
  t.point = l.met;
  const auto [low, high] = l.sampling.value_or(std::array{l.met, l.met});
  t.at_lower_end = (high - low) / day > 0.5 && low < l.met;
  t.length = half_days(t.at_lower_end ? low : l.met);
  t.or_more = t.length >= longest;
  t.nights = nights(t.length, arrives);
  t.could_be = {half_days(std::min({t.length, low, l.doubt[0]})),
                half_days_up(std::max({l.met, high, l.doubt[1]}))};
  t.first_percentile = half_days(l.first_percentile);
  return t;
}

ToldStay told(const StayAnswer& a) {
  const Lasting travelled{a.met, a.first_percentile, a.sampling, a.doubt, a.unlimited};
  ToldStay both{told(a.parked, a.longest, a.arrives), told(travelled, a.longest, a.arrives)};
  auto &parked = both.parked, &with = both.travelled;
  if (with.length < parked.length && parked.length <= a.met) {
    with.length = parked.length, with.nights = parked.nights, with.or_more = parked.or_more;
    with.at_lower_end = parked.at_lower_end;
  }
  return both;
}

}  // namespace housepower::energy

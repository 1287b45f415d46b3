// SPDX-License-Identifier: Apache-2.0
// Months over years.
#include "housepower/energy/years.hpp"

#include <algorithm>

namespace housepower::energy {
namespace {

/// Gains and uses of the days of a spell, of the sun alone.
Drawdown of_sun_alone(const Buffers& b, int patterns, std::size_t phase) {
  std::vector<Energy> gained, used;
  for (std::size_t d = 0; d * 24 < b.sun_W.size(); ++d) {
    Energy in{}, out{};
    const auto& load = b.load_W[patterns == 1 ? 0 : (phase + d) % 7];
    for (std::size_t h = d * 24; h < d * 24 + 24; ++h) {
      in += b.sun_W[h] * double(storage_efficiency) * watt_hour;
      out += load[h] * watt_hour;
    }
    gained.push_back(in), used.push_back(out);
  }
  return largest_drawdown(gained, used, 1);
}

MonthOverYears over_years(const design::Design& design, const Surroundings& surroundings, int month,
                          const Each& each) {
  const auto m = std::size_t(month);
  StayQuestion q;
  q.month = month;
  q.longest_days = month_begins[m + 1] - month_begins[m];
  q.every = q.longest_days;  // one stay a year, from the first midnight of the month to its last
  q.arrives = 0;
  const std::array plants{*plant_of(design, design->promise.bank_age)};
  const Stays s = simulate(surroundings, q, plants, each);
  MonthOverYears r;
  r.month = month, r.years = s.years, r.kind = surroundings.weather().kind();
  const double days = double(s.years) * q.longest_days;
  for (const auto& o : s.all) {
    r.unserved += o.unserved / days * watt_hour;
    r.spilled += o.spilled / days * watt_hour;
  }
  r.unserved_share = unserved_share(s, 0);
  std::vector<Drawdown> runs(std::size_t(s.years));
  each(s.years, [&](int year) {
    Buffers b;
    surroundings.fill(year, month_begins[m], q.longest_days, b);
    runs[std::size_t(year)] = of_sun_alone(b, surroundings.patterns(), std::size_t(year));
  });
  for (const Drawdown& run : runs) {
    if (run.largest <= r.worst_run) continue;
    r.worst_run = run.largest;
    r.worst_run_lasts = double(run.ends + 1 - run.begins) * day;
  }
  return r;
}

}  // namespace

std::vector<MonthOverYears> months_over_years(const design::Design& design,
                                              const Surroundings& surroundings, const Each& each) {
  std::vector<MonthOverYears> list;
  if (!design->bank) return list;
  const auto stated = design->site.month;
  for (int m = stated.value_or(0); m <= stated.value_or(11); ++m)
    list.push_back(over_years(design, surroundings, m, each));
  return list;
}

}  // namespace housepower::energy

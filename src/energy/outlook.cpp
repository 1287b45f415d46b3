// SPDX-License-Identifier: Apache-2.0
// The simulations of a check.
#include "housepower/energy/outlook.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/energy/months.hpp"

namespace housepower::energy {

Outlook::Outlook() = default;
Outlook::Outlook(const Outlook&) = default;
Outlook::Outlook(Outlook&&) noexcept = default;
Outlook& Outlook::operator=(const Outlook&) = default;
Outlook& Outlook::operator=(Outlook&&) noexcept = default;
Outlook::~Outlook() = default;
namespace {

int whole_days(Duration d) { return int(std::ceil(double(d / day) - 1e-9)); }

/// What the cells go through when the van stands there for a month, once a year.
CellsInMonth cells_in(const design::Design& design, const Surroundings& surroundings, int month) {
  StayQuestion q;
  q.month = month;
  q.every = q.longest_days = 30;
  const std::array plants{*plant_of(design, design->promise.bank_age)};
  const Stays s = simulate(surroundings, q, plants);
  CellsInMonth cells{month, celsius(1e3), celsius(-273.0), 0.0};
  const double days = double(s.all.size()) * q.longest_days;
  for (const auto& o : s.all) {
    cells.coldest = std::min(cells.coldest, celsius(o.coldest_C));
    cells.hottest = std::max(cells.hottest, celsius(o.hottest_C));
    cells.shut_out += o.days_shut_out / days;
  }
  return cells;
}

}  // namespace

int coldest_month(const design::Design& design) {
  if (design->site.month) return *design->site.month;
  const auto& low = design->site.town->lowest;
  return int(std::min_element(low.begin(), low.end()) - low.begin());
}
int hottest_month(const design::Design& design) {
  if (design->site.month) return *design->site.month;
  const auto& high = design->site.town->highest;
  return int(std::max_element(high.begin(), high.end()) - high.begin());
}

std::optional<StayAnswer> stay_that_counts(const design::Design& design,
                                           const DeliveredList& delivered, int longest_days) {
  if (!design->bank || !design->site.town) return std::nullopt;
  const auto weather = weather_of(design, years_for_promise, usual_seed);
  if (!weather) return std::nullopt;
  const Surroundings surroundings(design, *weather, {}, delivered);
  const auto& promised = design->promise.stay;
  StayQuestion q;
  q.longest_days = std::max(1, promised ? whole_days(*promised) : longest_days);
  q.until_empty = true;
  q.month = design->site.month ? *design->site.month : 0;
  if (!design->site.month) {
    const auto coarse = weather_of(design, 20, usual_seed);
    StayQuestion few = q;
    few.every = 5;
    q.month =
        hardest_month(design, Surroundings(design, *coarse, {}, delivered), few, surroundings, q);
  }
  q.longest_days = std::max(q.longest_days, longest_days);
  return stay(design, surroundings, q);
}

Outlook outlook_of_cells(const design::Design& design, const DeliveredList& delivered) {
  Outlook o;
  if (!design->bank || !design->site.town) return o;
  const auto weather = weather_of(design, years_for_cells, usual_seed);
  if (!weather) return o;
  const Surroundings surroundings(design, *weather, {}, delivered);
  o.coldest_month = cells_in(design, surroundings, coldest_month(design));
  o.hottest_month = cells_in(design, surroundings, hottest_month(design));
  return o;
}

Outlook outlook(const design::Design& design, const DeliveredList& delivered) {
  Outlook o = outlook_of_cells(design, delivered);
  if (design->promise.stay) o.promised = stay_that_counts(design, delivered, 1);
  return o;
}

}  // namespace housepower::energy

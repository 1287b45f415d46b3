// SPDX-License-Identifier: Apache-2.0
// The simulations of a check.
#include "housepower/energy/outlook.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <utility>

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

namespace {

/// The question of the stay that counts, in weather of so many years.
struct ThatCounts {
  Weather weather;
  Surroundings surroundings;
  StayQuestion question;
  ThatCounts(const design::Design& design, const DeliveredList& delivered, Weather of_years)
      : weather(std::move(of_years)), surroundings(design, weather, {}, delivered) {}
};

/// The month on which the promise rests, or else the hardest one.
int month_that_counts(const design::Design& design, const DeliveredList& delivered,
                      const ThatCounts& all, int years, Skies* skies) {
  if (design->site.month) return *design->site.month;
  const auto coarse = weather_of(design, std::min(years, 20), usual_seed, skies);
  StayQuestion few = all.question;
  few.every = 5;
  return hardest_month(design, Surroundings(design, *coarse, {}, delivered), few, all.surroundings,
                       all.question);
}

/// Nothing without a bank or a place.
std::unique_ptr<ThatCounts> that_counts(const design::Design& design,
                                        const DeliveredList& delivered, int longest_days, int years,
                                        Skies* skies) {
  if (!design->bank || !design->site.town) return nullptr;
  auto weather = weather_of(design, years, usual_seed, skies);
  if (!weather) return nullptr;
  auto all = std::make_unique<ThatCounts>(design, delivered, *std::move(weather));
  const auto& promised = design->promise.stay;
  StayQuestion& q = all->question;
  q.longest_days = std::max(1, promised ? whole_days(*promised) : longest_days);
  q.until_empty = true;
  q.month = month_that_counts(design, delivered, *all, years, skies);
  q.longest_days = std::max(q.longest_days, longest_days);
  return all;
}

}  // namespace

std::optional<StayAnswer> stay_that_counts(const design::Design& design,
                                           const DeliveredList& delivered, int longest_days) {
  const auto asked = that_counts(design, delivered, longest_days, years_for_promise, nullptr);
  return asked ? stay(design, asked->surroundings, asked->question) : std::nullopt;
}

std::optional<StayAnswer> lengths_that_count(const design::Design& design,
                                             const DeliveredList& delivered, int longest_days,
                                             int years, Skies* skies) {
  const auto asked = that_counts(design, delivered, longest_days, years, skies);
  if (!asked) return std::nullopt;
  return lengths(design, asked->surroundings, asked->question);
}

Outlook outlook_of_cells(const design::Design& design, const DeliveredList& delivered,
                         Skies* skies) {
  Outlook o;
  if (!design->bank || !design->site.town) return o;
  const auto weather = weather_of(design, years_for_cells, usual_seed, skies);
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

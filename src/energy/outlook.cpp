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
  q.every = q.longest_days = 31;  // one stay, all days of the month
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

/// Of months alike the colder.
bool refuses_more(const CellsInMonth& a, const CellsInMonth& b) {
  return double(a.shut_out) != double(b.shut_out) ? a.shut_out > b.shut_out : a.coldest < b.coldest;
}

/// The question of the stay that counts, in weather of so many years.
struct ThatCounts {
  Weather weather;
  Surroundings surroundings;
  StayQuestion question;
  ThatCounts(const design::Design& design, const DeliveredList& delivered, Weather of_years)
      : weather(std::move(of_years)), surroundings(design, weather, {}, delivered) {}
};

/// The month on which the promise rests, or else that in which it is kept least.
int month_that_counts(const design::Design& design, const DeliveredList& delivered,
                      const ThatCounts& all) {
  if (design->site.month) return *design->site.month;
  StayQuestion few = all.question;
  few.every = 5;
  const Surroundings around(design, all.weather.first(20), {}, delivered);
  return design->promise.stay
             ? month_kept_least(design, around, few, all.surroundings, all.question)
             : hardest_month(design, around, few, all.surroundings, all.question);
}

/// Nothing without a bank or a place.
std::unique_ptr<ThatCounts> without_a_month(const design::Design& design,
                                            const DeliveredList& delivered, int years,
                                            Skies* skies) {
  if (!design->bank || !design->site.town) return nullptr;
  auto weather = weather_of(design, years, usual_seed, skies);
  if (!weather) return nullptr;
  auto all = std::make_unique<ThatCounts>(design, delivered, *std::move(weather));
  all->question.until_empty = true;
  return all;
}

std::unique_ptr<ThatCounts> that_counts(const design::Design& design,
                                        const DeliveredList& delivered, int longest_days, int years,
                                        Skies* skies) {
  auto all = without_a_month(design, delivered, years, skies);
  if (!all) return nullptr;
  const auto& promised = design->promise.stay;
  StayQuestion& q = all->question;
  q.longest_days = std::max(1, promised ? whole_days(*promised) : longest_days);
  q.month = month_that_counts(design, delivered, *all);
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

std::optional<WithoutEnd> without_end(const design::Design& design, const DeliveredList& delivered,
                                      Skies* skies) {
  const auto asked = without_a_month(design, delivered, years_for_promise, skies);
  if (!asked) return std::nullopt;
  asked->question.month = design->site.month.value_or(0);
  if (!design->site.month)
    asked->question.month = month_outlast_least(design, asked->surroundings, asked->question);
  const std::array plants{*plant_of(design, design->promise.bank_age),
                          *plant_of(design, design->promise.bank_age, at_the_lower_end(design))};
  const Stays s = simulate(asked->surroundings, asked->question, plants);
  WithoutEnd w;
  w.month = asked->question.month;
  w.years = s.years, w.starts = s.years * s.starts;
  w.longest = double(s.days) * day;
  w.chance = design->promise.chance;
  w.outlast = lasting(s, 0, w.longest).value;
  w.outlast_with_less = lasting(s, 1, w.longest).value;
  w.met = reached(s, 0, w.chance);
  return w;
}

Outlook outlook_of_cells(const design::Design& design, const DeliveredList& delivered,
                         Skies* skies) {
  Outlook o;
  if (!design->bank || !design->site.town) return o;
  const auto weather = weather_of(design, years_for_cells, usual_seed, skies);
  if (!weather) return o;
  const Surroundings surroundings(design, *weather, {}, delivered);
  for (int month = 0; month < 12; ++month) {
    const CellsInMonth cells = cells_in(design, surroundings, month);
    if (!o.coldest_month || cells.coldest < o.coldest_month->coldest) o.coldest_month = cells;
    if (!o.hottest_month || o.hottest_month->hottest < cells.hottest) o.hottest_month = cells;
    // To be without charge breaks the promise of its own month alone; frost and heat do harm in any.
    const bool promised = design->site.month.value_or(month) == month;
    if (promised && (!o.most_shut_out || refuses_more(cells, *o.most_shut_out)))
      o.most_shut_out = cells;
  }
  return o;
}

Outlook outlook(const design::Design& design, const DeliveredList& delivered) {
  Outlook o = outlook_of_cells(design, delivered);
  if (design->promise.stay) o.promised = stay_that_counts(design, delivered, 1);
  if (design->promise.unlimited) o.without_end = without_end(design, delivered);
  return o;
}

}  // namespace housepower::energy

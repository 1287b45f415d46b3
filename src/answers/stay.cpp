// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/stay.hpp"

#include <algorithm>
#include <cmath>

#include "housepower/checks/delivered.hpp"
#include "housepower/design/elsewhere.hpp"
#include "housepower/energy/months.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/wiring/switched_off.hpp"

namespace housepower::answers {
namespace {

energy::StayQuestion question_of(const design::Design& d) {
  energy::StayQuestion q;
  if (d->promise.stay)
    q.longest_days = std::max(q.longest_days, int(std::ceil(double(*d->promise.stay / day))));
  return q;
}

/// Fewer years and days of arrival, to find a month or to compare.
struct Coarse {
  energy::Weather weather;
  energy::StayQuestion question;
};
constexpr int few_years = 20;
energy::Weather few_years_of(const design::Design& d, const StayAsked& asked) {
  return *energy::weather_of(d, std::min(asked.years, few_years), asked.seed);
}
Coarse coarse(energy::Weather weather, const energy::StayQuestion& q) {
  Coarse few{std::move(weather), q};
  few.question.every = 5;
  few.question.until_empty = true;
  return few;
}

std::vector<PlaceStay> all_places(const GivenDesign& given, const StayAsked& asked,
                                  const energy::DeliveredList& delivered,
                                  const energy::Each& each) {
  std::vector<PlaceStay> list;
  for (const auto& town : given.tables.towns) {
    auto document = given.document;
    design::put_at(document, town);
    Diagnostics problems;
    const auto d = design::resolve(document, given.tables, Defaults::ordinary, problems);
    if (!d) continue;
    const auto few = coarse(few_years_of(*d, asked), question_of(*d));
    const energy::Surroundings around(*d, few.weather, {asked.use, {}, {}}, delivered);
    auto q = few.question;
    q.month = (*d)->site.month ? *(*d)->site.month
                               : energy::hardest_month(*d, around, q, around, q, each);
    const auto told = energy::told(energy::lengths(*d, around, q, each));
    list.push_back({town.name, town.title + ", " + town.country,
                    std::string(energy::month_name(q.month)), told.parked.length,
                    told.travelled.length});
  }
  std::stable_sort(list.begin(), list.end(),
                   [](const auto& a, const auto& b) { return a.met > b.met; });
  return list;
}

std::vector<energy::StayAnswer> every_month(const design::Design& d,
                                            const energy::Surroundings& around,
                                            energy::StayQuestion q, const energy::Each& each) {
  std::vector<energy::StayAnswer> months;
  for (q.month = 0; q.month < 12; ++q.month) months.push_back(*energy::stay(d, around, q, each));
  return months;
}

bool told_alike(const energy::StayAnswer& a, const energy::StayAnswer& b) {
  const auto x = energy::told(a), y = energy::told(b);
  return x.parked.length == y.parked.length && x.travelled.length == y.travelled.length;
}

Seasons seasons_of(const std::vector<energy::StayAnswer>& months) {
  const auto [least, most] = std::minmax_element(months.begin(), months.end(), energy::harder);
  return {*least, *most, std::all_of(months.begin(), months.end(), [&](const auto& one) {
            return told_alike(one, months.front());
          })};
}

/// By a coarse look, and all years of the months that it finds.
Seasons seasons_of(const design::Design& d, const energy::Surroundings& few,
                   const energy::StayQuestion& few_question, const energy::Surroundings& all,
                   const energy::StayQuestion& q, const energy::Each& each) {
  const auto coarse = energy::month_by_month(d, few, few_question, each);
  const auto near = energy::near_shortest(coarse, double(q.longest_days) * day);
  Seasons s{energy::hardest(d, near, all, q, each), energy::easiest(d, coarse, all, q, each)};
  s.alike = told_alike(s.hardest, s.easiest) &&
            std::all_of(coarse.begin(), coarse.end(), [&](const auto& one) {
              return energy::half_days(one.parked) == energy::half_days(coarse.front().parked) &&
                     energy::half_days(one.met) == energy::half_days(coarse.front().met);
            });
  return s;
}

/// Without sun and parked, no longer than the time without charging.
void no_kinder_without_sun(pack::Levers& levers, const energy::Assessment& day_) {
  if (!day_.autonomy) return;
  for (auto& lever : levers.all) {
    if (lever.kind != pack::Lever::Kind::no_sun) continue;
    const bool alike = lever.met == lever.parked;
    lever.parked = std::min(lever.parked, *day_.autonomy);
    lever.parked_told = std::min(lever.parked_told, energy::half_days(*day_.autonomy));
    if (alike) lever.met = lever.parked, lever.told = lever.parked_told;
  }
}

/// A question as the command and a page take it.
bool is_in_bounds(const StayAsked& asked, Diagnostics& diagnostics) {
  if (asked.years >= 1 && asked.years <= most_years) return true;
  diagnostics.error({}, "years",
                    "a stay is simulated over 1 to " + std::to_string(most_years) +
                        " years of weather, not " + std::to_string(asked.years));
  return false;
}

bool can_be_asked(const GivenDesign& given, const StayAsked& asked, Diagnostics& diagnostics) {
  if (!is_in_bounds(asked, diagnostics)) return false;
  const auto lacks = [&](const char* what, const char* hint) {
    diagnostics.error({given.file}, what, std::string("a stay needs a ") + what, hint);
    return false;
  };
  if (!given.design->bank) return lacks("bank", "describe it under [bank]");
  if (!given.design->site.town) return lacks("place", "add `[place] name = …`, or --place hobart");
  return true;
}

/// Every start, of the stated month or of all twelve, with less sun and more use.
bool outlast_all(const design::Design& d, const energy::Surroundings& around,
                 const energy::StayQuestion& q, bool parked, const energy::Each& each) {
  if (d->site.month) return true;  // those of the answer, which do
  auto plant = *energy::plant_of(d, d->promise.bank_age, energy::at_the_lower_end(d));
  if (parked) plant.others_factor = 0.0;
  return energy::outlast_in_every_month(around, q, plant, each);
}

void find_whether_unlimited(StayReport& r, const energy::Surroundings& around,
                            const energy::StayQuestion& q, const energy::Each& each) {
  const auto& d = r.design;
  r.parked_unlimited = r.answer.parked.all_outlast && !r.day.months.empty() &&
                       r.day.months[r.day.judged].balance >= Energy{} &&
                       outlast_all(d, around, q, true, each);
  r.unlimited = r.answer.unlimited && energy::keeps_up(d, r.day, r.charging) &&
                (r.answer.travels ? outlast_all(d, around, q, false, each) : r.parked_unlimited);
}

StayReport report_of(const GivenDesign& given, const StayAsked& asked, const energy::Each& each) {
  const design::Design& d = given.design;
  const energy::Habit habit{asked.use, {}, {}};
  auto q = question_of(d);
  const auto weather = *energy::weather_of(d, asked.years, asked.seed);
  StayReport r{.design = d};
  r.charging = checks::delivered(d);
  const energy::Surroundings around(d, weather, habit, r.charging);
  const auto few = coarse(weather.first(few_years), q);
  const energy::Surroundings few_around(d, few.weather, habit, r.charging);
  if (asked.every_month) {
    r.months = every_month(d, around, q, each);
    r.seasons = seasons_of(r.months);
    r.answer = r.seasons->hardest;
  } else {
    r.seasons = seasons_of(d, few_around, few.question, around, q, each);
    q.month = d->site.month.value_or(r.seasons->hardest.month);
    r.answer = *energy::stay(d, around, q, each);
  }
  q.month = r.answer.month;
  auto few_q = few.question;
  few_q.month = q.month;
  few_q.every = 3;
  r.day = energy::assess(d, q.month, habit);
  find_whether_unlimited(r, around, q, each);
  r.levers = pack::levers(given.document, d, given.tables, weather, q, habit, r.charging, each);
  no_kinder_without_sun(r.levers, r.day);
  if (!r.unlimited) r.to_stay_on = energy::to_stay_on(d, few_around, few_q, around, q, each);
  r.runtimes = energy::runtimes(d, r.day);
  r.refills = energy::refills(d, r.day, r.charging);
  r.night = energy::night_of(d, r.day);
  r.parked = energy::parked(d, wiring::fed_while_parked(d), q.month);
  r.use = word_of(asked.use);
  r.left_off = listed(asked.without);
  r.taken_along = listed(asked.with);
  r.inputs_digest = given.inputs_digest;
  r.day.notes.insert(r.day.notes.end(), given.told.begin(), given.told.end());
  if (asked.every_town) r.places = all_places(given, asked, r.charging, each);
  if (asked.plots || asked.charge) r.seen = energy::stays_seen(d, around, q, each);
  if (asked.plots) {
    r.months = every_month(d, around, q, each);
    r.seasons = seasons_of(r.months);
  }
  return r;
}

constexpr int fewest_years = 10;  // fewer have no sampling interval
// The worst few of a hundred stays are not seen in a fifth of the years and a third of their days.
constexpr Ratio surest_of_few = 0.98;

using Between = std::array<Duration, 2>;
/// Of the shortest of several lengths, each somewhere between two: it is at most the least of the ends.
void narrow(Between& shortest, const Between& one) {
  for (const std::size_t end : {0u, 1u}) shortest[end] = std::min(shortest[end], one[end]);
}

FirstFigure shortest_of(const std::vector<int>& months, const design::Design& d,
                        const energy::Surroundings& around, energy::StayQuestion q,
                        FirstFigure first, const energy::Each& each) {
  for (const int month : months) {
    q.month = month;
    auto a = energy::lengths(d, around, q, each);
    const Between parked = a.parked.sampling.value_or(Between{a.parked.met, a.parked.met});
    const Between met = a.sampling.value_or(Between{a.met, a.met});
    if (month == months.front()) first.parked = parked, first.met = met;
    narrow(first.parked, parked), narrow(first.met, met);
    if (month == months.front() || energy::harder(a, first.answer)) first.answer = std::move(a);
  }
  return first;
}

}  // namespace

std::optional<StayReport> stay(const GivenDesign& given, const StayAsked& asked,
                               Diagnostics& diagnostics, const energy::Each& each) {
  if (!can_be_asked(given, asked, diagnostics)) return std::nullopt;
  return report_of(given, asked, each);
}

std::optional<energy::StayAnswer> length_of_a_stay(const GivenDesign& given, const StayAsked& asked,
                                                   Diagnostics& diagnostics,
                                                   const energy::Each& each) {
  if (!can_be_asked(given, asked, diagnostics)) return std::nullopt;
  const design::Design& d = given.design;
  auto q = question_of(d);
  const energy::Habit habit{asked.use, {}, {}};
  const auto charging = checks::delivered(d);
  const auto weather = *energy::weather_of(d, asked.years, asked.seed);
  const energy::Surroundings around(d, weather, habit, charging);
  if (d->site.month) {
    q.month = *d->site.month;
    return energy::lengths(d, around, q, each);
  }
  const auto few = coarse(weather.first(few_years), q);
  const energy::Surroundings few_around(d, few.weather, habit, charging);
  return energy::hardest(d, energy::near_shortest(d, few_around, few.question, each), around, q,
                         each);
}

std::optional<FirstFigure> first_figure_of_a_stay(const GivenDesign& given, const StayAsked& asked,
                                                  Diagnostics& diagnostics,
                                                  const energy::Each& each) {
  if (!can_be_asked(given, asked, diagnostics)) return std::nullopt;
  const design::Design& d = given.design;
  const energy::Habit habit{asked.use, {}, {}};
  const auto charging = checks::delivered(d);
  const auto few = coarse(few_years_of(d, asked), question_of(d));
  const energy::Surroundings few_around(d, few.weather, habit, charging);
  std::vector<int> months;
  if (d->site.month) months = {*d->site.month};
  else months = energy::near_shortest(d, few_around, few.question, each);
  auto q = few.question;
  FirstFigure first;
  first.coarse = few.weather.years() >= fewest_years && d->promise.chance <= surest_of_few;
  if (first.coarse) {
    q.every = 3;
    return shortest_of(months, d, few_around, q, std::move(first), each);
  }
  q.every = energy::StayQuestion{}.every;
  const energy::Surroundings around(d, *energy::weather_of(d, asked.years, asked.seed), habit,
                                    charging);
  return shortest_of(months, d, around, q, std::move(first), each);
}

}  // namespace housepower::answers

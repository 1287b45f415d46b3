// SPDX-License-Identifier: Apache-2.0
// stay: how long they can stay there, in that month, with that.
#include <algorithm>
#include <cmath>

#include "asked.hpp"
#include "commands.hpp"
#include "housepower/checks/delivered.hpp"
#include "housepower/energy/months.hpp"
#include "housepower/report/stay.hpp"
#include "housepower/units/phrases.hpp"
#include "threads.hpp"
#include "typed.hpp"
#include "verbs.hpp"

namespace housepower::cli {

struct StayOptions {
  std::string file;
  std::optional<std::string> town, weather, at, month;
  std::optional<energy::Use> use;
  std::optional<Duration> age;
  std::optional<Ratio> chance;
  std::optional<int> people;
  std::vector<std::string> add, with, without, set;
  std::optional<int> years, seed;
  std::optional<Format> format;
  std::optional<std::string> tables;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<energy::Use> = std::array{"frugal"sv, "typical"sv, "heavy"sv};
template <>
inline constexpr auto fields<cli::StayOptions> = std::array{
    field<&cli::StayOptions::file>("file", "The design file; - reads it from standard input.",
                                   "van.toml"),
    field<&cli::StayOptions::town>(
        "place", "Another place: a town of the climate table, or all of them.", "hobart"),
    field<&cli::StayOptions::weather>(
        "weather", "Another place: a file of its hourly weather (EPW, TMY3 or PVGIS csv).",
        "file.epw"),
    field<&cli::StayOptions::at>(
        "at", "Another place: latitude, longitude and height above the sea.", "-42.1,146.6,730 m"),
    field<&cli::StayOptions::month>("month", "In which they arrive: a month, worst, or all.",
                                    "july"),
    field<&cli::StayOptions::use>("use", "How they use it: frugal, typical or heavy.")
        .or_else("typical"),
    field<&cli::StayOptions::people>("people",
                                     "How many people; left out, as many as the design says.", "4")
        .at_least(Ratio(1.0))
        .at_most(Ratio(20.0)),
    field<&cli::StayOptions::age>("age", "Of the bank; left out, the promised age.", "10 y")
        .at_least(0.0 * year)
        .at_most(30.0 * year),
    field<&cli::StayOptions::chance>("chance", "Share of stays that last that long.", "90 %")
        .at_least(Ratio(0.01))
        .at_most(Ratio(0.9990001)),  // 99.9 %, however it is rounded
    field<&cli::StayOptions::add>("add", "Another appliance, any number of times.",
                                  "Air fryer: 1400 W, 0.3 h, inverter"),
    field<&cli::StayOptions::with>("with", "An appliance that they use every day.",
                                   "Air conditioner"),
    field<&cli::StayOptions::without>("without", "An appliance that they leave off.", "Microwave"),
    field<&cli::StayOptions::years>("years", "Years of made-up weather.", "100")
        .at_least(Ratio(1.0))
        .at_most(Ratio(2000.0))
        .or_else("100"),
    field<&cli::StayOptions::seed>("seed", "Another seed, other years.", "1")
        .at_least(Ratio(0.0))
        .at_most(Ratio(1e9))
        .or_else("1"),
    field<&cli::StayOptions::set>("set", "Overrides one key, any number of times.",
                                  "run/fridge/length=5 m"),
    field<&cli::StayOptions::format>("format", "How to answer: text, json or html.")
        .or_else("text"),
    field<&cli::StayOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

/// What the options change in the design, as overrides of its keys.
DesignOptions options_of_stay(const StayOptions& o) {
  DesignOptions d;
  d.file = o.file;
  d.set = o.set;
  d.tables = o.tables;
  if (o.town && *o.town != "all") d.town = o.town;
  d.weather = o.weather;
  d.at = o.at;
  d.people = o.people;
  d.add = o.add;
  d.with = o.with;
  d.without = o.without;
  d.needs_runs = false;
  if (o.month && *o.month != "all") d.set.push_back(month_override(*o.month));
  if (o.age) d.set.push_back("promise/bank_age=" + print(Number(*o.age), 15));
  if (o.chance) d.set.push_back("promise/chance=" + print_plain(double(*o.chance), 15));
  return d;
}

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
Coarse coarse(const design::Design& d, const StayOptions& o, const energy::StayQuestion& q) {
  Coarse few{*energy::weather_of(d, std::min(*o.years, 20), std::uint64_t(*o.seed)), q};
  few.question.every = 5;
  few.question.until_empty = true;
  return few;
}

std::vector<report::PlaceStay> all_places(const Opening& opening, const StayOptions& o,
                                          const energy::DeliveredList& delivered,
                                          const energy::Each& each) {
  std::vector<report::PlaceStay> list;
  for (const auto& town : opening.tables->towns) {
    auto document = *opening.document;
    if (!document.location) document.location.emplace();
    auto& place = *document.location;
    place.name = town.name;
    place.weather.reset();
    place.latitude.reset(), place.longitude.reset(), place.height.reset();
    Diagnostics problems;
    const auto d = design::resolve(document, *opening.tables, Defaults::ordinary, problems);
    if (!d) continue;
    const auto few = coarse(*d, o, question_of(*d));
    const energy::Surroundings around(*d, few.weather, {*o.use, {}, {}}, delivered);
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

report::Seasons seasons_of(const std::vector<energy::StayAnswer>& months) {
  const auto [least, most] = std::minmax_element(months.begin(), months.end(), energy::harder);
  return {*least, *most, std::all_of(months.begin(), months.end(), [&](const auto& one) {
            return told_alike(one, months.front());
          })};
}

/// By a coarse look, and all years of the months that it finds.
report::Seasons seasons_of(const design::Design& d, const energy::Surroundings& few,
                           const energy::StayQuestion& few_question,
                           const energy::Surroundings& all, const energy::StayQuestion& q,
                           const energy::Each& each) {
  const auto coarse = energy::month_by_month(d, few, few_question, each);
  report::Seasons s{energy::hardest(d, coarse, all, q, each),
                    energy::easiest(d, coarse, all, q, each)};
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

report::StayReport report_of(const Opening& opening, const StayOptions& o,
                             const energy::Each& each) {
  const design::Design& d = *opening.design;
  const energy::Habit habit{*o.use, {}, {}};
  auto q = question_of(d);
  const auto weather = *energy::weather_of(d, *o.years, std::uint64_t(*o.seed));
  report::StayReport r{.design = d};
  r.charging = checks::delivered(d);
  const energy::Surroundings around(d, weather, habit, r.charging);
  const auto few = coarse(d, o, q);
  const energy::Surroundings few_around(d, few.weather, habit, r.charging);
  if (o.month == "all") {
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
  r.unlimited = r.answer.unlimited && energy::keeps_up(d, r.day, r.charging);
  r.parked_unlimited = r.answer.parked.all_outlast && !r.day.months.empty() &&
                       r.day.months[r.day.judged].balance >= Energy{};
  r.levers =
      pack::levers(*opening.document, d, *opening.tables, weather, q, habit, r.charging, each);
  no_kinder_without_sun(r.levers, r.day);
  if (!r.unlimited) r.to_stay_on = energy::to_stay_on(d, few_around, few_q, around, q, each);
  r.runtimes = energy::runtimes(d, r.day);
  r.refills = energy::refills(d, r.day, r.charging);
  r.night = energy::night_of(d, r.day);
  r.parked = energy::parked(d, q.month);
  r.use = word_of(*o.use);
  r.left_off = listed(o.without);
  r.taken_along = listed(o.with);
  r.inputs_digest = opening.digest;
  r.day.notes.insert(r.day.notes.end(), opening.told.begin(), opening.told.end());
  if (o.town == "all") r.places = all_places(opening, o, r.charging, each);
  return r;
}

}  // namespace

std::optional<report::StayReport> stays_to_show(const Opening& opening, const energy::Each& each) {
  const design::Design& d = *opening.design;
  if (!d->bank || !d->site.town) return std::nullopt;
  StayOptions o;
  std::vector<Assumption> unused;
  fill_defaults(fields<StayOptions>, &o, Defaults::ordinary, "", unused);
  auto r = report_of(opening, o, each);
  const auto weather = *energy::weather_of(d, *o.years, std::uint64_t(*o.seed));
  const energy::Surroundings around(d, weather, {*o.use, {}, {}}, r.charging);
  auto q = question_of(d);
  q.month = r.answer.month;
  r.seen = energy::stays_seen(d, around, q, each);
  r.months = every_month(d, around, q, each);
  r.seasons = seasons_of(r.months);
  return r;
}

FieldList stay_options() { return fields<StayOptions>; }

int run_stay(const Node& typed, World& world) {
  auto options = options_from<StayOptions>(typed, world);
  if (!options || !names_one_place(options->town.has_value(), options->weather.has_value(),
                                   options->at.has_value(), world))
    return usage;
  for (auto* word : {&options->town, &options->month})
    if (*word && in_small_letters(**word) == "all") *word = "all";
  Diagnostics diagnostics;
  const bool every_town = options->town == "all";
  const auto opening = open_unchecked(options_of_stay(*options), world, diagnostics, every_town);
  if (!opening) return refuse(world, *options->format, diagnostics);
  const auto& d = *opening->design;
  const auto lacks = [&](const char* what, const char* hint) {
    diagnostics.error({options->file}, what, std::string("a stay needs a ") + what, hint);
    return refuse(world, *options->format, diagnostics);
  };
  if (!d->bank) return lacks("bank", "describe it under [bank]");
  if (!d->site.town) return lacks("place", "add `[place] name = …`, or --place hobart");
  warn(world, *options->format, diagnostics);
  Workers workers(*options->format == Format::text ? progress_stream() : nullptr);
  const auto r = report_of(*opening, *options, workers.each());
  answer(
      world, *options->format, [&] { return report::stay_page(r); },
      [&] { return report::stay_json(r); });
  return ok;
}

}  // namespace housepower::cli

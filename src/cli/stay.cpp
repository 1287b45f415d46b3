// SPDX-License-Identifier: Apache-2.0
// stay: how long they can stay there, in that month, with that.
#include "housepower/report/stay.hpp"
#include "asked.hpp"
#include "given.hpp"
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
  std::optional<bool> charge;
  std::optional<bool> first;
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
        .at_most(Ratio(double(answers::most_people))),
    field<&cli::StayOptions::age>("age", "Of the bank; left out, the promised age.", "10 y")
        .at_least(0.0 * year)
        .at_most(30.0 * year),
    field<&cli::StayOptions::chance>("chance", "Share of stays that last that long.", "90 %")
        .at_least(Ratio(0.01))
        .at_most(Ratio(1.0)),  // as promise.chance
    field<&cli::StayOptions::add>("add", "Another appliance, any number of times.",
                                  "Air fryer: 1400 W, 0.3 h, inverter"),
    field<&cli::StayOptions::with>("with", "An appliance that they use every day.",
                                   "Air conditioner"),
    field<&cli::StayOptions::without>("without", "An appliance that they leave off.", "Microwave"),
    field<&cli::StayOptions::years>("years", "Years of made-up weather.", "100")
        .at_least(Ratio(1.0))
        .at_most(Ratio(double(answers::most_years)))
        .or_else("100"),
    field<&cli::StayOptions::seed>("seed", "Another seed, other years.", "1")
        .at_least(Ratio(0.0))
        .at_most(Ratio(1e9))
        .or_else("1"),
    field<&cli::StayOptions::charge>(
        "charge", "In JSON: the charge hour by hour, over a typical and the worst stay, too.")
        .optional(),
    field<&cli::StayOptions::first>(
        "first", "A first figure alone, soon: between which lengths the answer lies.")
        .optional(),
    field<&cli::StayOptions::set>("set", "Overrides one key, any number of times.",
                                  "run/fridge/length=5 m"),
    field<&cli::StayOptions::format>("format", "Format of the answer: text, json or html.")
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
  if (o.month && *o.month != "all") d.keys.push_back(month_asked(*o.month));
  if (o.age) d.keys.push_back({"--age", "promise/bank_age", written(Number(*o.age), 15)});
  if (o.chance)
    d.keys.push_back({"--chance", "promise/chance", print_plain(double(*o.chance), 15)});
  return d;
}

answers::StayAsked asked_of(const StayOptions& o) {
  answers::StayAsked asked;
  asked.use = *o.use;
  asked.years = *o.years;
  asked.seed = std::uint64_t(*o.seed);
  asked.every_month = o.month == "all";
  asked.every_town = o.town == "all";
  asked.charge = o.charge.value_or(false);
  asked.with = o.with;
  asked.without = o.without;
  return asked;
}

bool first_figure_can_be_asked(const StayOptions& o, World& world) {
  if (!o.first.value_or(false) || (o.month != "all" && o.town != "all")) return true;
  world.err << "error: --first is of one place, and of one month or the hardest\n"
            << "  = help: leave --first out for all of them\n";
  return false;
}

int run_first_figure(const StayOptions& options, const Opening& opening, Diagnostics& diagnostics,
                     World& world) {
  const auto design = given(opening, options.file);
  std::optional<answers::FirstFigure> figure;
  {
    Workers workers(nullptr);
    figure =
        answers::first_figure_of_a_stay(design, asked_of(options), diagnostics, workers.each());
  }
  if (!figure) return refuse(world, *options.format, diagnostics);
  warn(world, Format::text, diagnostics);
  answer(
      world, *options.format, [&] { return report::first_figure_page(*figure, design); },
      [&] { return report::first_figure_json(*figure, design); });
  return ok;
}

}  // namespace

FieldList stay_options() { return fields<StayOptions>; }

int run_stay(const Node& typed, World& world) {
  auto options = options_from<StayOptions>(typed, world);
  if (!options || !names_one_place(options->town.has_value(), options->weather.has_value(),
                                   options->at.has_value(), world))
    return usage;
  for (auto* word : {&options->town, &options->month})
    if (*word && in_small_letters(**word) == "all") *word = "all";
  if (!first_figure_can_be_asked(*options, world)) return usage;
  Diagnostics diagnostics;
  const bool every_town = options->town == "all";
  const auto opening = open_unchecked(options_of_stay(*options), world, diagnostics, every_town);
  if (!opening) return refuse(world, *options->format, diagnostics);
  if (options->first.value_or(false))
    return run_first_figure(*options, *opening, diagnostics, world);
  std::optional<report::StayReport> r;
  {
    Workers workers(*options->format == Format::text ? progress_stream() : nullptr);
    if (auto stay = answers::stay(given(*opening, options->file), asked_of(*options), diagnostics,
                                  workers.each()))
      r.emplace(*std::move(stay));
  }
  if (!r) return refuse(world, *options->format, diagnostics);
  warn(world, Format::text, diagnostics);
  answer(
      world, *options->format, [&] { return report::stay_page(*r); },
      [&] { return report::stay_json(*r); });
  return ok;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// size: the least pack that keeps the promise.
#include "asked.hpp"
#include "given.hpp"
#include "housepower/design/words.hpp"
#include "housepower/report/pack.hpp"
#include "pack_file.hpp"
#include "threads.hpp"
#include "verbs.hpp"

namespace housepower::cli {

struct SizeOptions {
  std::string file;
  std::optional<std::string> output, catalogue;
  std::optional<design::Least> least;
  std::vector<std::string> places;
  std::optional<std::string> weather, at, month;
  std::optional<int> people;
  std::vector<std::string> add;
  std::optional<Duration> stay, autonomy, age;
  std::optional<Ratio> chance;
  std::vector<std::string> keep, set;
  std::optional<Format> format;
  std::optional<std::string> tables;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::SizeOptions> = std::array{
    field<&cli::SizeOptions::file>("file", "The design file; - reads it from standard input.",
                                   "van.toml"),
    field<&cli::SizeOptions::output>(
        "output",
        "Writes the pack as an option pack, a file that extends the design; - writes it to "
        "standard output, instead of the answer.",
        "pack.toml"),
    field<&cli::SizeOptions::catalogue>(
        "catalogue", "A file of parts to choose from, instead of the one that the design names.",
        "parts.toml"),
    field<&cli::SizeOptions::least>(
        "least", "What to keep lowest: mass or price; left out, as the design says, or mass."),
    field<&cli::SizeOptions::places>(
        "place", "A town at which the promise has to hold, any number of times.", "hobart"),
    field<&cli::SizeOptions::weather>(
        "weather", "Another place: a file of its hourly weather (EPW, TMY3 or PVGIS csv).",
        "file.epw"),
    field<&cli::SizeOptions::at>(
        "at", "Another place: latitude, longitude and height above the sea.", "-42.1,146.6,730 m"),
    field<&cli::SizeOptions::people>("people",
                                     "How many people; left out, as many as the design says.", "4")
        .at_least(Ratio(1.0))
        .at_most(Ratio(double(answers::most_people))),
    field<&cli::SizeOptions::add>("add", "Another appliance, any number of times.",
                                  "Air fryer: 1400 W, 0.3 h, inverter"),
    field<&cli::SizeOptions::month>("month", "In which they arrive: a month, or worst.", "july"),
    field<&cli::SizeOptions::stay>("stay", "Length of stay to promise.", "7 d")
        .more_than(0.0 * day)
        .at_most(366.0 * day),
    field<&cli::SizeOptions::autonomy>("autonomy", "Time without any charging to promise.", "3 d")
        .more_than(0.0 * day)
        .at_most(366.0 * day),
    field<&cli::SizeOptions::age>("age", "Of the bank at which the promise has to hold.", "10 y")
        .at_least(0.0 * year)
        .at_most(30.0 * year),
    field<&cli::SizeOptions::chance>("chance", "Share of stays that have to last.", "90 %")
        .at_least(Ratio(0.01))
        .at_most(Ratio(1.0)),  // as promise.chance
    field<&cli::SizeOptions::keep>(
        "keep", "Equipment that stays as it is, or bank; any number of times.", "inverter"),
    field<&cli::SizeOptions::set>("set", "Overrides one key, any number of times.",
                                  "run/fridge/length=5 m"),
    field<&cli::SizeOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text"),
    field<&cli::SizeOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

/// What the options change in the design, as overrides of its keys.
DesignOptions options_of_sizing(const SizeOptions& o) {
  DesignOptions d;
  d.file = o.file;
  d.tables = o.tables;
  const auto ask = [&](const char* option, const char* key, const auto& value) {
    if (value) d.keys.push_back({option, key, written(Number(*value), 15)});
  };
  ask("--stay", "promise/stay", o.stay);
  ask("--autonomy", "promise/autonomy", o.autonomy);
  ask("--age", "promise/bank_age", o.age);
  if (o.chance)
    d.keys.push_back({"--chance", "promise/chance", print_plain(double(*o.chance), 15)});
  d.weather = o.weather;
  d.at = o.at;
  d.people = o.people;
  d.add = o.add;
  d.needs_runs = false;
  if (o.month) d.keys.push_back(month_asked(*o.month));
  d.set.insert(d.set.end(), o.set.begin(), o.set.end());
  return d;
}

answers::SizeAsked asked_of(const SizeOptions& o) {
  return {o.catalogue, o.least, o.places, o.weather || o.at, o.keep};
}

}  // namespace

FieldList size_options() { return fields<SizeOptions>; }

int run_size(const Node& typed, World& world) {
  const auto options = options_from<SizeOptions>(typed, world);
  if (!options || !names_one_place(!options->places.empty(), options->weather.has_value(),
                                   options->at.has_value(), world))
    return usage;
  const DesignOptions design_options = options_of_sizing(*options);
  Diagnostics diagnostics;
  const auto opening = open_unchecked(design_options, world, diagnostics, true);
  if (!opening) return refuse(world, *options->format, diagnostics);
  std::optional<report::PackReport> r;
  {
    Workers workers(*options->format == Format::text ? progress_stream() : nullptr);
    if (auto sized = answers::size(given(*opening, options->file), asked_of(*options), world.read,
                                   diagnostics, workers.each()))
      r.emplace(*std::move(sized));
  }
  if (!r) return refuse(world, *options->format, diagnostics);
  warn(world, Format::text, diagnostics);
  if (options->output != "-")
    answer(
        world, *options->format, [&] { return report::pack_page(*r); },
        [&] { return report::pack_json(*r); });
  if (!r->answer.best) {
    if (options->output) world.notes << "no pack is written: nothing keeps the promise\n";
    return check_fails;
  }
  if (!options->output) return ok;
  return write_pack(*options->output, design_options, *opening,
                    r->answer.choices[*r->answer.best].document, {report::pack_in_words(*r)},
                    world);
}

}  // namespace housepower::cli

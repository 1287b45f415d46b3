// SPDX-License-Identifier: Apache-2.0
// build-list: what the line cuts, crimps and fits, for one van or for a week's plan of several.
#include <algorithm>
#include <deque>
#include <filesystem>

#include "commands.hpp"
#include "housepower/report/sheets.hpp"
#include "typed.hpp"
#include "verbs.hpp"

namespace housepower::cli {

enum class BuildListFormat { text, json, html, csv };
struct BuildListOptions {
  std::vector<std::string> file, build, set;
  std::optional<int> days;
  std::optional<report::Sheet> sheet;
  std::optional<BuildListFormat> format;
  std::optional<std::string> tables;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<cli::BuildListFormat> =
    std::array{"text"sv, "json"sv, "html"sv, "csv"sv};
template <>
inline constexpr auto words<report::Sheet> =
    std::array{"cutting"sv, "labels"sv, "inspection"sv, "stations"sv};
template <>
inline constexpr auto fields<cli::BuildListOptions> = std::array{
    field<&cli::BuildListOptions::file>("file", "The design files, one or more.", "van.toml")
        .needed(),
    field<&cli::BuildListOptions::build>(
        "build", "How many of each, by vehicle name or file name, any number of times.",
        "Pellibri two-berth=6,marrowick=4"),
    field<&cli::BuildListOptions::days>("days",
                                        "Working days of the plan. Left out, and said so: 5.", "5")
        .at_least(Ratio(1.0))
        .at_most(Ratio(366.0)),
    field<&cli::BuildListOptions::sheet>(
        "sheet", "One sheet for the line alone: cutting, labels, inspection or stations.",
        "labels"),
    field<&cli::BuildListOptions::set>(
        "set", "Overrides one key in every file, any number of times.", "build/allowance=0.2 m"),
    field<&cli::BuildListOptions::format>(
        "format", "Format of the answer: text, json, html, or csv: one table, its first "
                  "column the list of a row (conductors, "
                  "cables, lugs …), or the table of --sheet.")
        .or_else("text"),
    field<&cli::BuildListOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

using answers::VansWanted;

constexpr int most_vans = 100'000;

/// A whole number from 1; 0 where the text is none, or too large.
int count_of(std::string_view text) {
  text = trimmed(text);
  int count = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return 0;
    count = 10 * count + (c - '0');
    if (count > most_vans) return 0;
  }
  return count;
}

/// Takes the first "NAME=6" off `rest`. It ends at a comma behind a number, so that a name may hold
/// commas and equals signs; nothing where no number ends it.
std::optional<VansWanted> take_entry(std::string_view& rest) {
  for (std::size_t from = 0; from <= rest.size();) {
    const auto comma = std::min(rest.find(',', from), rest.size());
    from = comma + 1;
    const std::string_view entry = rest.substr(0, comma);
    const auto equals = entry.rfind('=');
    const int vans = equals == entry.npos ? 0 : count_of(entry.substr(equals + 1));
    if (vans == 0 || trimmed(entry.substr(0, equals)).empty()) continue;
    rest.remove_prefix(std::min(from, rest.size()));
    return VansWanted{std::string(trimmed(entry.substr(0, equals))), vans};
  }
  return std::nullopt;
}

std::optional<std::vector<VansWanted>> wanted_vans(const std::vector<std::string>& build,
                                                   World& world) {
  std::vector<VansWanted> all;
  for (std::string_view rest : build) {
    do {
      const auto entry = take_entry(rest);
      if (!entry) {
        world.err << "error: --build: \"" << rest
                  << "\" is not NAME=NUMBER, with a whole number from 1 to " << most_vans << "\n";
        return std::nullopt;
      }
      all.push_back(*entry);
    } while (!trimmed(rest).empty());
  }
  return all;
}

/// A deque, since what looks at one stays where it is.
std::optional<std::deque<Opening>> open_all(const BuildListOptions& options, World& world,
                                            Diagnostics& diagnostics) {
  std::deque<Opening> vans;
  for (const auto& file : options.file) {
    DesignOptions one;
    one.file = file;
    one.set = options.set;
    one.tables = options.tables;
    auto opening = open_checked(one, world, diagnostics);
    if (opening) vans.push_back(*std::move(opening));  // else the others are read for their errors
  }
  if (diagnostics.any_error() || vans.size() < options.file.size()) return std::nullopt;
  return vans;
}

int refuse_numbers(const Diagnostics& told, World& world) {
  for (const auto& one : told.all) {
    world.err << "error: " << one.place.file << ": " << one.message << "\n";
    if (!one.hint.empty()) world.err << "  = help: " << one.hint << "\n";
  }
  return usage;
}

void print_build_csv(const report::BuildPlan& plan, const std::optional<report::Sheet>& sheet,
                     World& world) {
  world.out << (sheet ? report::sheet_csv(plan, *sheet) : report::build_list_csv(plan));
  for (const auto& model : plan.models)
    world.notes << "note: " << model.of.design->name << ": " << report::standing_of(model) << "\n";
  world.notes << page::safety_note() << "\n";
}

}  // namespace

FieldList build_list_options() { return fields<BuildListOptions>; }

int run_build_list(const Node& typed, World& world) {
  const auto options = options_from<BuildListOptions>(typed, world);
  if (!options) return usage;
  const auto wanted = wanted_vans(options->build, world);
  if (!wanted) return usage;
  Diagnostics diagnostics;
  const auto vans = open_all(*options, world, diagnostics);
  const bool as_csv = *options->format == BuildListFormat::csv;
  const Format format = as_csv ? Format::text : static_cast<Format>(*options->format);
  if (!vans) return refuse(world, format, diagnostics);
  std::vector<answers::ModelOfPlan> models;
  for (std::size_t i = 0; i < vans->size(); ++i)
    models.push_back({(*vans)[i], std::filesystem::path(options->file[i]).stem().string()});
  const auto made = answers::build_plan(models, *wanted, options->days, diagnostics);
  if (!made) return refuse_numbers(diagnostics, world);
  const auto& plan = *made;
  if (as_csv) print_build_csv(plan, options->sheet, world);
  else
    answer(
        world, format,
        [&] {
          return options->sheet ? report::sheet_page(plan, *options->sheet)
                                : report::build_list_page(plan);
        },
        [&] { return report::build_list_json(plan); });
  return plan.fails() ? check_fails : ok;
}

}  // namespace housepower::cli

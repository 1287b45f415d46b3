// SPDX-License-Identifier: Apache-2.0
// Options that several commands take, and the way from a file to a checked design.
#pragma once

#include <deque>
#include <memory>
#include <optional>

#include "command.hpp"
#include "housepower/design/open.hpp"
#include "housepower/report/stay.hpp"

namespace housepower::cli {

/// The key of a diagnostic about a file that cannot be read: it exits with 4, not with 3.
inline constexpr std::string_view unreadable = "file";

struct DesignOptions {
  std::string file;
  std::optional<std::string> town, weather, at;  // instead of the design's own place
  std::vector<std::string> set;
  // Asked of `stay`, `energy` and `size`; see asked.hpp.
  std::optional<int> people;
  std::vector<std::string> add, with, without;
  bool needs_runs = true;  // a design without any is refused
  std::optional<Format> format;
  std::optional<std::string> tables;
  std::optional<bool> passes, working;
};

/// The file, overrides and tables of a command with options of its own.
template <class Options> [[nodiscard]] DesignOptions design_named_by(const Options& o) {
  DesignOptions design;
  design.file = o.file;
  design.set = o.set;
  design.tables = o.tables;
  return design;
}

struct NameOptions {
  std::optional<std::string> name;
  std::vector<std::string> with;
  std::optional<Format> format;
  std::optional<std::string> tables;
};

/// A design with what it stands on, checked.
struct Opening {
  std::shared_ptr<const tables::Tables> tables;
  std::optional<design::Document> document;
  std::optional<design::Design> design;
  Node node;
  checks::Checked checked;
  std::string digest;
  std::vector<std::string> told{};  // what the options changed, to be said in the answer
};
[[nodiscard]] std::optional<Opening> open_checked(const DesignOptions&, World&, Diagnostics&,
                                                  checks::Workings = checks::Workings::left_out);
/// Without its checks; with every town of the climate table where that is asked for.
[[nodiscard]] std::optional<Opening> open_unchecked(const DesignOptions&, World&, Diagnostics&,
                                                    bool every_town);

/// The file beside which a path is looked for: the one that names it, or for an override the design.
[[nodiscard]] std::string file_naming(const Place& named, const std::string& design);

/// A design as text, before tables are at hand.
struct ReadDesign {
  Node node;
  std::vector<std::string> texts;   // every file and override, for the digest
  std::vector<std::string> told{};  // of the options
};
[[nodiscard]] std::optional<ReadDesign> read_of(const DesignOptions&, const FileReader&,
                                                Diagnostics&, ParsedFiles* bases = nullptr);
/// On tables that it shares with others; a design with a weather file adds that to a copy.
[[nodiscard]] std::optional<Opening> open_on(std::shared_ptr<const tables::Tables>, ReadDesign,
                                             const DesignOptions&, const FileReader&, Diagnostics&);

// Answers of other commands, as they give them without further options, for a report.
/// Nothing without a bank or a place.
[[nodiscard]] std::optional<report::StayReport> stays_to_show(const Opening&, const energy::Each&);
/// Nothing where the load of the test does not solve.
[[nodiscard]] std::optional<page::Page> test_sheet_to_show(const Opening&, World&);

/// Reads the options of a command, by a list of its own where it takes not all of them or more; usage
/// errors are told on stderr.
template <class Options>
std::optional<Options> options_from(const Node& typed, World& world,
                                    FieldList list = fields<Options>) {
  Diagnostics diagnostics;
  Reading reading{diagnostics, {}, true};
  std::optional<Options> options(std::in_place);
  if (!read_table(typed, list, &*options, reading)) options.reset();
  std::vector<Assumption> unused;
  if (options) fill_defaults(list, &*options, Defaults::ordinary, "", unused);
  for (const auto& d : diagnostics.all)
    world.err << "error: " << d.place.file << ": " << d.message
              << (d.hint.empty() ? "" : "\n  = help: " + d.hint) << "\n";
  return diagnostics.any_error() ? std::nullopt : options;
}

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::DesignOptions> = std::array{
    field<&cli::DesignOptions::file>("file", "The design file; - reads it from standard input.",
                                     "van.toml"),
    field<&cli::DesignOptions::town>("place", "Another place: a town of the climate table.",
                                     "hobart"),
    field<&cli::DesignOptions::weather>(
        "weather", "Another place: a file of its hourly weather (EPW, TMY3 or PVGIS csv).",
        "file.epw"),
    field<&cli::DesignOptions::at>(
        "at", "Another place: latitude, longitude and height above the sea.", "-42.1,146.6,730 m"),
    field<&cli::DesignOptions::set>("set", "Overrides one key, any number of times.",
                                    "run/fridge/length=5 m"),
    field<&cli::DesignOptions::format>("format", "How to answer: text, json or html.")
        .or_else("text"),
    field<&cli::DesignOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables"),
    field<&cli::DesignOptions::passes>("passes", "Lists each finding that passes, too.").optional(),
    field<&cli::DesignOptions::working>("working", "Prints the calculation under each finding.")
        .optional()};
template <>
inline constexpr auto fields<cli::NameOptions> = std::array{
    field<&cli::NameOptions::name>("name", "Which one; left out to list them all."),
    field<&cli::NameOptions::with>(
        "with", "A value for a symbol of the formula, any number of times.", "L=4 m"),
    field<&cli::NameOptions::format>("format", "How to answer: text, json or html.")
        .or_else("text"),
    field<&cli::NameOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

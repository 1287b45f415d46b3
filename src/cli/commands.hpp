// SPDX-License-Identifier: Apache-2.0
// Options that several commands take, and the way from a file to a checked design.
#pragma once

#include <deque>
#include <memory>
#include <optional>

#include "command.hpp"
#include "housepower/answers/named_files.hpp"
#include "housepower/answers/opening.hpp"
#include "housepower/report/stay.hpp"

namespace housepower::cli {

using answers::file_naming;
using answers::open_on;
using answers::Opening;
using answers::Question;
using answers::read_of;
using answers::ReadDesign;
using answers::unreadable;  // it exits with 4, not with 3

struct DesignOptions {
  std::string file;
  std::optional<std::string> town, weather, at;  // instead of the design's own place
  std::vector<std::string> set;
  std::vector<answers::AskedKey> keys;  // for which the command has options of its own
  // Asked of `stay`, `energy` and `size`; see asked.hpp.
  std::optional<int> people;
  std::vector<std::string> add, with, without;
  bool needs_runs = true;  // a design without any is refused
  std::optional<Format> format;
  std::optional<std::string> tables;
  // Asked of `check`.
  std::optional<bool> passes, working, full, open, sources, strict, quick;
  std::optional<std::string> why;
  /// What of it is asked of the design.
  operator Question() const {
    return {file, town, weather, at, set, people, add, with, without, needs_runs, keys};
  }
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

/// Every table of a folder and of those in it; nothing, and told, where it cannot be read.
[[nodiscard]] std::optional<std::vector<answers::TableText>>
texts_in(World&, const std::string& folder, Diagnostics&);
/// The tables that --tables asks for, unread; null, and told, where the folder cannot be read.
[[nodiscard]] std::shared_ptr<answers::Shelf>
shelf_for(World&, const std::optional<std::string>& folder, Diagnostics&);

[[nodiscard]] std::optional<Opening> open_checked(const DesignOptions&, World&, Diagnostics&,
                                                  checks::Workings = checks::Workings::left_out);
/// Without its checks; with every town of the climate table where that is asked for.
[[nodiscard]] std::optional<Opening> open_unchecked(const DesignOptions&, World&, Diagnostics&,
                                                    bool every_town);

/// The options of two lists, for a command that takes both.
[[nodiscard]] std::vector<Field> joined(FieldList first, FieldList then);
/// Those that were typed of one of them.
[[nodiscard]] Node only(const Node& typed, FieldList);

/// Reads the options of a command as they were typed, without defaults, by a list of its own where it
/// takes not all of them or more; usage errors are told on stderr.
template <class Options>
std::optional<Options> stated_options(const Node& typed, World& world,
                                      FieldList list = fields<Options>) {
  Diagnostics diagnostics;
  Reading reading{diagnostics, {}, true};
  std::optional<Options> options(std::in_place);
  const bool good = read_table(typed, list, &*options, reading);
  if (!say_unclear_decimals(reading) || !good) options.reset();
  for (const auto& d : diagnostics.all)
    world.err << "error: " << (d.place.file.empty() ? "" : d.place.file + ": ") << d.message
              << (d.hint.empty() ? "" : "\n  = help: " + d.hint) << "\n";
  return diagnostics.any_error() ? std::nullopt : options;
}
/// The same with the defaults of those that were left out.
template <class Options>
std::optional<Options> options_from(const Node& typed, World& world,
                                    FieldList list = fields<Options>) {
  auto options = stated_options<Options>(typed, world, list);
  std::vector<Assumption> unused;
  if (options) fill_defaults(list, &*options, Defaults::ordinary, "", unused);
  return options;
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
    field<&cli::DesignOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text"),
    field<&cli::DesignOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
template <>
inline constexpr auto fields<cli::NameOptions> = std::array{
    field<&cli::NameOptions::name>("name", "Which one; left out to list them all."),
    field<&cli::NameOptions::with>(
        "with", "A value for a symbol of the formula, any number of times.", "L=4 m"),
    field<&cli::NameOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text"),
    field<&cli::NameOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// build-list: what the line cuts, crimps and fits, for one van or for a week's plan of several.
#include <algorithm>
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

struct WantedVans {
  std::string name;
  int vans = 0;
};

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
std::optional<WantedVans> take_entry(std::string_view& rest) {
  for (std::size_t from = 0; from <= rest.size();) {
    const auto comma = std::min(rest.find(',', from), rest.size());
    from = comma + 1;
    const std::string_view entry = rest.substr(0, comma);
    const auto equals = entry.rfind('=');
    const int vans = equals == entry.npos ? 0 : count_of(entry.substr(equals + 1));
    if (vans == 0 || trimmed(entry.substr(0, equals)).empty()) continue;
    rest.remove_prefix(std::min(from, rest.size()));
    return WantedVans{std::string(trimmed(entry.substr(0, equals))), vans};
  }
  return std::nullopt;
}

std::optional<std::vector<WantedVans>> wanted_vans(const std::vector<std::string>& build,
                                                   World& world) {
  std::vector<WantedVans> all;
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

struct Van {
  std::unique_ptr<Opening> opening;
  std::string stem;
  int vans = 0;
  [[nodiscard]] const std::string& name() const { return (*opening->design)->name; }
};

/// Gives each van the number that is wanted of it; a message where names do not fit.
bool take_numbers(std::vector<Van>& vans, const std::vector<WantedVans>& wanted, World& world) {
  const auto refuse_one = [&](const std::string& what, const std::string& hint) {
    world.err << "error: --build: " << what << "\n";
    if (!hint.empty()) world.err << "  = help: " << hint << "\n";
    return false;
  };
  std::vector<std::string_view> known;
  for (const Van& van : vans) known.insert(known.end(), {van.name(), van.stem});
  for (const WantedVans& w : wanted) {
    std::vector<Van*> meant;
    for (Van& van : vans)
      if (van.name() == w.name || van.stem == w.name) meant.push_back(&van);
    if (meant.empty())
      return refuse_one("no file is of a model \"" + w.name + "\"", did_you_mean(w.name, known));
    if (meant.size() > 1)
      return refuse_one("several files are of a model \"" + w.name + "\"",
                        "give the vehicles names of their own");
    if (meant.front()->vans != 0)
      return refuse_one("\"" + w.name + "\" has its number already", "name each model once");
    meant.front()->vans = w.vans;
  }
  for (Van& van : vans)
    if (van.vans == 0)
      return refuse_one("says nothing of \"" + van.name() + "\"",
                        "add \"" + van.name() + "=NUMBER\", or leave its file out");
  return true;
}

std::optional<std::vector<Van>> open_all(const BuildListOptions& options, World& world,
                                         Diagnostics& diagnostics) {
  std::vector<Van> vans;
  for (const auto& file : options.file) {
    DesignOptions one;
    one.file = file;
    one.set = options.set;
    one.tables = options.tables;
    Van van;
    auto opening = open_checked(one, world, diagnostics);
    if (!opening) continue;  // the other files are read for their errors, too
    van.opening = std::make_unique<Opening>(*std::move(opening));
    van.stem = std::filesystem::path(file).stem().string();
    vans.push_back(std::move(van));
  }
  if (diagnostics.any_error() || vans.size() < options.file.size()) return std::nullopt;
  return vans;
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
  auto vans = open_all(*options, world, diagnostics);
  const bool as_csv = *options->format == BuildListFormat::csv;
  const Format format = as_csv ? Format::text : static_cast<Format>(*options->format);
  if (!vans) return refuse(world, format, diagnostics);
  if (wanted->empty())
    for (Van& van : *vans) van.vans = 1;
  else if (!take_numbers(*vans, *wanted, world)) return usage;
  report::BuildPlan plan;
  plan.planned = !wanted->empty() || vans->size() > 1;
  plan.days = options->days.value_or(plan.days);
  plan.days_stated = options->days.has_value();
  bool fails = false;
  for (const Van& van : *vans) {
    const Opening& o = *van.opening;
    plan.models.push_back(
        {{*o.design, o.checked, o.digest}, range::build_list(*o.design), van.vans});
    fails = fails || o.checked.verdicts.worse() == checks::Verdict::fail;
  }
  if (as_csv) print_build_csv(plan, options->sheet, world);
  else
    answer(
        world, format,
        [&] {
          return options->sheet ? report::sheet_page(plan, *options->sheet)
                                : report::build_list_page(plan);
        },
        [&] { return report::build_list_json(plan); });
  return fails ? check_fails : ok;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// test-sheet: what a meter should read at each point of a finished van, and what its readings mean.
#include "housepower/report/test_sheet.hpp"

#include "commands.hpp"
#include "verbs.hpp"

namespace housepower::cli {

/// As the formats of every command, and the sheet to type into.
enum class SheetFormat { text, json, html, csv };

struct TestSheetOptions {
  std::string file;
  std::vector<std::string> set;
  std::optional<SheetFormat> format;
  std::optional<std::string> readings;
  std::optional<std::string> tables, load_case, at;
  std::vector<std::string> running;
  std::optional<Current> current;
  std::optional<Voltage> resting_voltage;
  std::optional<Ratio> charge;
  std::optional<Temperature> temperature;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<cli::SheetFormat> = std::array{"text"sv, "json"sv, "html"sv, "csv"sv};
template <>
inline constexpr auto fields<cli::TestSheetOptions> = std::array{
    field<&cli::TestSheetOptions::file>("file", "The design file; - reads it from standard input.",
                                        "van.toml"),
    at_most_one({"case", "running", "current"}),
    field<&cli::TestSheetOptions::load_case>(
        "case", "What runs: a case of the design. Left out: the fewest things that test every run.",
        "dinner"),
    field<&cli::TestSheetOptions::running>(
        "running", "What runs: an appliance, any number of times.", "Lights"),
    field<&cli::TestSheetOptions::current>("current", "A load bench's current instead.", "20 A")
        .more_than(0.0 * ampere)
        .at_most(2000.0 * ampere),
    field<&cli::TestSheetOptions::at>("at", "Where the load bench is clipped on.", "panel")
        .called("NODE"),
    field<&cli::TestSheetOptions::resting_voltage>(
        "resting_voltage", "The bank's, measured with nothing on.", "13.2 V")
        .more_than(0.0 * volt)
        .at_most(60.0 * volt),
    field<&cli::TestSheetOptions::charge>("charge", "The bank's, where it was not measured.")
        .at_least(Ratio(0.0))
        .at_most(Ratio(1.0))
        .or_else("80 %"),
    field<&cli::TestSheetOptions::temperature>("temperature", "Of the workshop.")
        .at_least(celsius(-20.0))
        .at_most(celsius(50.0))
        .or_else("20 °C"),
    field<&cli::TestSheetOptions::readings>(
        "readings", "What was read, TOML or the sheet as CSV: answers with the cause.",
        "van-0417.toml")
        .of_any_length(),
    field<&cli::TestSheetOptions::set>("set", "Overrides one key, any number of times.",
                                       "run/fridge/length=5 m"),
    field<&cli::TestSheetOptions::format>(
        "format", "Format of the answer: text, json, html, or csv: the sheet to type into.")
        .or_else("text"),
    field<&cli::TestSheetOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

answers::TestAsked asked_by(const TestSheetOptions& o) {
  return {o.load_case, o.running, o.current, o.at, o.resting_voltage, *o.charge, *o.temperature};
}

/// A name that the design does not have.
int wrong_name(const Diagnostics& diagnostics, World& world) {
  for (const auto& d : diagnostics.all)
    world.err << "error: " << d.message << "\n"
              << (d.hint.empty() ? "" : "  = help: " + d.hint + "\n");
  return usage;
}

int no_sheet(const std::string& why, Format format, World& world) {
  Diagnostics none;
  none.error({}, "", "no test sheet for " + why);
  if (format == Format::json) world.out << report::diagnostics_json(none);
  else world.err << "error: " << none.all.front().message << "\n";
  return check_fails;
}

}  // namespace

FieldList test_sheet_options() { return fields<TestSheetOptions>; }

namespace {

int diagnose(const Opening& opening, const wiring::TestLoad& load, const TestSheetOptions& options,
             Format format, World& world) {
  Diagnostics diagnostics;
  auto text = world.read(*options.readings);
  if (!text) {
    diagnostics.error({*options.readings}, std::string(unreadable), "the file cannot be read",
                      text.why());
    return refuse(world, format, diagnostics);
  }
  const auto answered = answers::diagnose(opening, load, *text, *options.readings, diagnostics);
  if (!answered) return refuse(world, format, diagnostics);
  warn(world, format, diagnostics);
  if (const auto* none = std::get_if<wiring::NoDiagnosis>(&*answered)) {
    world.err << "error: no diagnosis: " << none->why << "\n";
    return check_fails;
  }
  const auto& van = std::get<answers::DiagnosedVan>(*answered);
  answer(
      world, format, [&] { return report::diagnosis_page(van); },
      [&] { return report::diagnosis_json(van); });
  return van.found.verdict == checks::Verdict::fail ? check_fails : ok;
}

}  // namespace

int run_test_sheet(const Node& typed, World& world) {
  const auto options = options_from<TestSheetOptions>(typed, world);
  if (!options) return usage;
  Diagnostics diagnostics;
  const auto design_options = design_named_by(*options);
  const bool as_csv = *options->format == SheetFormat::csv;
  const Format format = as_csv ? Format::text : static_cast<Format>(*options->format);
  if (as_csv && options->readings) {
    world.err << "error: --format csv writes the sheet; with --readings the answer is text, json "
                 "or html\n";
    return usage;
  }
  const auto opening = open_checked(design_options, world, diagnostics);
  if (!opening) return refuse(world, format, diagnostics);
  Diagnostics names;
  const auto asked = asked_by(*options);
  const auto load = answers::test_load(*opening->design, asked, names);
  if (!load) return wrong_name(names, world);
  if (options->readings) return diagnose(*opening, *load, *options, format, world);
  const auto answered =
      answers::test_sheet(opening->checked_design(), *load, !asked.names_a_load());
  if (const auto* none = std::get_if<wiring::NoTestSheet>(&answered))
    return no_sheet(none->why, format, world);
  const auto& sheet = std::get<answers::TestSheetReport>(answered);
  if (as_csv) world.out << report::test_sheet_csv(sheet);
  else
    answer(
        world, format, [&] { return report::test_sheet_page(sheet); },
        [&] { return report::test_sheet_json(sheet); });
  return ok;
}

}  // namespace housepower::cli

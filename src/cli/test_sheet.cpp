// SPDX-License-Identifier: Apache-2.0
// test-sheet: what a meter should read at each point of a finished van, and what its readings mean.
#include <algorithm>

#include "commands.hpp"
#include "housepower/energy/assessment.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/report/diagnosis.hpp"
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
        "case", "What runs: a case of the design. Left out: its first, or its fullest hour.",
        "dinner"),
    field<&cli::TestSheetOptions::running>(
        "running", "What runs: an appliance, any number of times.", "Lights"),
    field<&cli::TestSheetOptions::current>("current", "A load bench's current instead.", "20 A")
        .more_than(0.0 * ampere)
        .at_most(2000.0 * ampere),
    field<&cli::TestSheetOptions::at>("at", "Where the load bench is clipped on.", "panel"),
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
        "format", "How to answer: text, json, html, or csv: the sheet to type into.")
        .or_else("text"),
    field<&cli::TestSheetOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

using design::resolved::ApplianceId;
using wiring::TestLoad;

template <class List>
int index_of(const List& list, const std::string& name, std::vector<std::string_view>& names) {
  names.clear();
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (list[i].name == name) return int(i);
    names.push_back(list[i].name);
  }
  return -1;
}

/// What the options ask to switch on; nothing, and a message, where a name is unknown.
std::optional<TestLoad> load_of(const design::Design& d, const TestSheetOptions& options,
                                World& world) {
  std::vector<std::string_view> names;
  const auto unknown = [&](const char* what, const std::string& name) {
    world.err << "error: the design has no " << what << " \"" << name << "\"\n";
    const std::string hint = did_you_mean(name, names);
    if (!hint.empty()) world.err << "  = help: " << hint << "\n";
    return std::nullopt;
  };
  TestLoad load;
  load.resting = options.resting_voltage;
  load.charge = *options.charge;
  load.workshop = *options.temperature;
  if (options.current) {
    const std::string where = options.at.value_or("bank");
    const int post = index_of(d->posts, where, names);
    if (post < 0) return unknown("node", where);
    load.bench = TestLoad::Bench{{post}, *options.current};
    load.name = print(*options.current) + " at " + where;
    return load;
  }
  for (const auto& name : options.running) {
    const int appliance = index_of(d->appliances, name, names);
    if (appliance < 0) return unknown("appliance", name);
    load.running.push_back({appliance});
    load.name += (load.name.empty() ? "" : ", ") + name;
  }
  if (!load.running.empty()) return load;
  const int found = options.load_case  ? index_of(d->cases, *options.load_case, names)
                    : d->cases.empty() ? -1
                                       : 0;
  if (options.load_case && found < 0) return unknown("case", *options.load_case);
  if (found >= 0) {
    load.running = d->cases[std::size_t(found)].running;
    load.name = "case \"" + d->cases[std::size_t(found)].name + "\"";
  } else {
    const auto fullest = energy::fullest_hour(d);
    load.running = fullest.running;
    load.name = "what runs from " + std::to_string(fullest.hour) + ":00";
  }
  return load;
}

/// The bank's voltage before the test, as measured or by its charge.
Voltage resting_of(const Opening& opening, const TestLoad& load) {
  if (load.resting) return *load.resting;
  const auto& bank = (*opening.design)->bank;
  return bank ? parts::bank_open_circuit(opening.tables->cells, *bank, load.charge) : Voltage();
}

}  // namespace

std::optional<page::Page> test_sheet_to_show(const Opening& opening, World& world) {
  TestSheetOptions usual;
  std::vector<Assumption> unused;
  fill_defaults(fields<TestSheetOptions>, &usual, Defaults::ordinary, "", unused);
  const design::Design& d = *opening.design;
  const auto load = load_of(d, usual, world);
  if (!load) return std::nullopt;
  const auto found = wiring::test_sheet(d, opening.checked.wiring, *load);
  const auto* sheet = std::get_if<wiring::TestSheet>(&found);
  if (!sheet) return std::nullopt;
  return report::test_sheet_page({d, *load, *sheet, resting_of(opening, *load), opening.digest});
}

FieldList test_sheet_options() { return fields<TestSheetOptions>; }

namespace {

/// Loads that readings may name: the design's cases, and what the options switch on.
std::vector<TestLoad> known_loads(const design::Design& d, const TestLoad& asked,
                                  const TestSheetOptions& options) {
  std::vector<TestLoad> all;
  for (const auto& c : d->cases) {
    TestLoad& one = all.emplace_back();
    one.name = c.name;
    one.running = c.running;
  }
  if (d->cases.empty() || options.current || !options.running.empty()) all.push_back(asked);
  for (TestLoad& one : all) {
    one.resting = asked.resting;
    one.charge = asked.charge;
    one.workshop = asked.workshop;
  }
  return all;
}

/// "case "dinner"" is the case dinner.
std::string case_of(const design::Design& d, const TestLoad& load) {
  for (const auto& c : d->cases)
    if (load.name == "case \"" + c.name + "\"") return c.name;
  return load.name;
}

int diagnose(const Opening& opening, const TestLoad& asked, const TestSheetOptions& options,
             Format format, World& world) {
  const design::Design& d = *opening.design;
  Diagnostics diagnostics;
  auto text = world.read(*options.readings);
  if (!text) {
    diagnostics.error({*options.readings}, std::string(unreadable), "the file cannot be read",
                      text.why());
    return refuse(world, format, diagnostics);
  }
  const auto file = wiring::read_readings(*text, *options.readings, d, opening.checked.wiring,
                                          known_loads(d, asked, options), diagnostics);
  if (!file) return refuse(world, format, diagnostics);
  const auto answered = wiring::diagnose(d, opening.checked.wiring, file->cases);
  if (const auto* none = std::get_if<wiring::NoDiagnosis>(&answered)) {
    world.err << "error: no diagnosis: " << none->why << "\n";
    return check_fails;
  }
  const auto& diagnosis = std::get<wiring::Diagnosis>(answered);
  const auto found = checks::judge_found(*opening.document, d, opening.checked, diagnosis);
  const report::DiagnosedVan van{d, *file, diagnosis, found, opening.digest};
  answer(
      world, format, [&] { return report::diagnosis_page(van); },
      [&] { return report::diagnosis_json(van); });
  return found.verdict == checks::Verdict::fail ? check_fails : ok;
}

int write_csv(const Opening& opening, const TestLoad& load, World& world) {
  const design::Design& d = *opening.design;
  const auto points = wiring::sheet_points(d, opening.checked.wiring, load);
  if (const auto* none = std::get_if<wiring::NoDiagnosis>(&points)) {
    world.err << "error: no test sheet for " << load.name << ": " << none->why << "\n";
    return check_fails;
  }
  world.out << report::test_sheet_csv(case_of(d, load), resting_of(opening, load),
                                      std::get<std::vector<wiring::ReadPoint>>(points));
  return ok;
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
  const design::Design& d = *opening->design;
  const auto load = load_of(d, *options, world);
  if (!load) return usage;
  if (options->readings) return diagnose(*opening, *load, *options, format, world);
  if (as_csv) return write_csv(*opening, *load, world);
  const auto found = wiring::test_sheet(d, opening->checked.wiring, *load);
  if (const auto* none = std::get_if<wiring::NoTestSheet>(&found)) {
    world.err << "error: no test sheet for " << load->name << ": " << none->why << "\n";
    return check_fails;
  }
  const report::TestedDesign tested{d, *load, std::get<wiring::TestSheet>(found),
                                    resting_of(*opening, *load), opening->digest};
  answer(
      world, format, [&] { return report::test_sheet_page(tested); },
      [&] { return report::test_sheet_json(tested); });
  return ok;
}

}  // namespace housepower::cli

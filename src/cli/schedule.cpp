// SPDX-License-Identifier: Apache-2.0
// schedule: cables, devices, labels, findings and sources of a design, for paper and spreadsheets.
#include "housepower/report/schedule.hpp"
#include "commands.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

enum class ScheduleFormat { text, csv, json, html, xlsx };
struct ScheduleOptions {
  std::string file;
  std::optional<report::Schedule> sheet;
  std::optional<ScheduleFormat> format;
  std::optional<std::string> output, tables;
  std::vector<std::string> set;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<cli::ScheduleFormat> =
    std::array{"text"sv, "csv"sv, "json"sv, "html"sv, "xlsx"sv};
template <>
inline constexpr auto words<report::Schedule> =
    std::array{"cables"sv, "devices"sv, "labels"sv, "findings"sv, "sources"sv};
template <>
inline constexpr auto fields<cli::ScheduleOptions> = std::array{
    field<&cli::ScheduleOptions::file>("file", "The design file; - reads it from standard input.",
                                       "van.toml"),
    field<&cli::ScheduleOptions::sheet>(
        "sheet",
        "One of them: cables, devices, labels, findings or sources. Left out: in text and html "
        "cables and devices, in csv cables, in json and xlsx all.",
        "cables"),
    field<&cli::ScheduleOptions::format>("format",
                                         "Format of the answer: text, csv, json, html or xlsx. "
                                         "Left out: by the ending of --output, else "
                                         "text.",
                                         "csv"),
    field<&cli::ScheduleOptions::output>(
        "output", "The file to write, whole or not at all; left out, standard output.", "van.xlsx"),
    field<&cli::ScheduleOptions::set>("set", "Overrides one key, any number of times.",
                                      "run/fridge/length=5 m"),
    field<&cli::ScheduleOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

ScheduleFormat format_of(const ScheduleOptions& options) {
  if (options.format) return *options.format;
  const std::string output = options.output.value_or("");
  for (const ScheduleFormat f :
       {ScheduleFormat::csv, ScheduleFormat::json, ScheduleFormat::html, ScheduleFormat::xlsx})
    if (output.ends_with("." + std::string(word(f)))) return f;
  return ScheduleFormat::text;
}

/// The answer as bytes; nothing, and a message, where it cannot be made.
std::optional<std::string> schedule_answer(const report::BuildModel& model,
                                           const ScheduleOptions& options, World& world) {
  switch (format_of(options)) {
  case ScheduleFormat::text:
  case ScheduleFormat::html:
    return rendered(report::schedule_page(model, options.sheet),
                    format_of(options) == ScheduleFormat::html ? Format::html : Format::text,
                    options.output ? page::Screen{} : world.screen);
  case ScheduleFormat::json: return report::schedule_json(model, options.sheet);
  case ScheduleFormat::csv:
    world.notes << "note: " << model.of.design->name << ": " << report::standing_of(model) << "\n";
    if (!options.sheet)
      world.notes
          << "note: these are the cables; --sheet devices, labels, findings or sources gives "
             "the others\n";
    world.notes << page::safety_note() << "\n";
    return report::schedule_csv(model, options.sheet.value_or(report::Schedule::cables));
  case ScheduleFormat::xlsx: break;
  }
  auto made = page::spreadsheet(report::schedule_workbook(model));
  if (auto* bytes = std::get_if<std::string>(&made)) return std::move(*bytes);
  world.err << "error: the spreadsheet cannot be made: " << std::get<page::NoSpreadsheet>(made).why
            << "\n";
  return std::nullopt;
}

}  // namespace

FieldList schedule_options() { return fields<ScheduleOptions>; }

int run_schedule(const Node& typed, World& world) {
  const auto options = options_from<ScheduleOptions>(typed, world);
  if (!options) return usage;
  const ScheduleFormat format = format_of(*options);
  if (format == ScheduleFormat::xlsx && !options->output) {
    world.err << "error: a spreadsheet wants a file\n  = help: -o van.xlsx, or -o - for standard "
                 "output\n";
    return usage;
  }
  if (format == ScheduleFormat::xlsx && options->sheet) {
    world.err << "error: a spreadsheet holds every sheet\n  = help: leave --sheet out, or ask for "
                 "--format csv\n";
    return usage;
  }
  Diagnostics diagnostics;
  const auto design_options = design_named_by(*options);
  const auto opening = open_checked(design_options, world, diagnostics, checks::Workings::kept);
  if (!opening)
    return refuse(world, format == ScheduleFormat::json ? Format::json : Format::text, diagnostics);
  const auto model = answers::build_model(*opening);
  const auto answer = schedule_answer(model, *options, world);
  if (!answer) return io_error;
  const int code = opening->checked.verdicts.worse() == checks::Verdict::fail ? check_fails : ok;
  const bool asked_for = options->output || format != ScheduleFormat::text || !world.quiet;
  const int written = asked_for ? write_out(options->output, *answer, world) : int(ok);
  return written == ok ? code : written;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// report: all of a design as one page to read and to print.
#include "housepower/report/report.hpp"

#include "commands.hpp"
#include "housepower/page/html.hpp"
#include "threads.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

struct ReportOptions {
  std::string file;
  std::optional<std::string> output, date, tables;
  std::optional<report::Reader> reader;
  std::optional<bool> unfolded;
  std::vector<std::string> set;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<report::Reader> =
    std::array{"engineer"sv, "electrician"sv, "showroom"sv};
template <>
inline constexpr auto fields<cli::ReportOptions> = std::array{
    field<&cli::ReportOptions::file>("file", "The design file; - reads it from standard input.",
                                     "van.toml"),
    field<&cli::ReportOptions::output>(
        "output", "The file to write, whole or not at all; left out, standard output.",
        "report.html"),
    field<&cli::ReportOptions::reader>("for",
                                       "Who reads it: engineer (all of it), electrician (wiring "
                                       "and the sheets for the line) or showroom (the stay).")
        .or_else("engineer"),
    field<&cli::ReportOptions::date>("date", "The date that it shows; left out, none.",
                                     "26 November 2026"),
    field<&cli::ReportOptions::unfolded>(
        "unfolded",
        "Opens what is folded, for paper; the workings of what passes stay on the screen.")
        .optional(),
    field<&cli::ReportOptions::set>("set", "Overrides one key, any number of times.",
                                    "run/fridge/length=5 m"),
    field<&cli::ReportOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {

FieldList report_options() { return fields<ReportOptions>; }

int run_report(const Node& typed, World& world) {
  const auto options = options_from<ReportOptions>(typed, world);
  if (!options) return usage;
  Diagnostics diagnostics;
  const auto design_options = design_named_by(*options);
  auto opening = open_checked(design_options, world, diagnostics, checks::Workings::kept);
  if (!opening) return refuse(world, Format::text, diagnostics);
  Workers workers(progress_stream());
  const auto parts = answers::report_parts(*opening, options->file,
                                           report::asked_for(*options->reader), workers.each());
  const std::string page = page::html(report::report_page(parts, *options->reader),
                                      {(*opening->design)->name, options->date.value_or(""),
                                       opening->digest, options->unfolded.value_or(false)});
  const int written = write_out(options->output, page, world);
  if (written != ok) return written;
  return opening->checked.verdicts.worse() == checks::Verdict::fail ? check_fails : ok;
}

}  // namespace housepower::cli

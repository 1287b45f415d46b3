// SPDX-License-Identifier: Apache-2.0
// looms: what each bench makes, wire by wire, and what is joined on the line.
#include "housepower/report/looms.hpp"

#include "commands.hpp"
#include "housepower/answers/looms.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

enum class LoomsFormat { text, csv, json, html, svg, xlsx };
struct LoomsOptions {
  std::string file;
  std::optional<std::string> assembly;
  std::optional<LoomsFormat> format;
  std::optional<std::string> output, tables;
  std::vector<std::string> set;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<cli::LoomsFormat> =
    std::array{"text"sv, "csv"sv, "json"sv, "html"sv, "svg"sv, "xlsx"sv};
template <>
inline constexpr auto fields<cli::LoomsOptions> = std::array{
    field<&cli::LoomsOptions::file>("file", "The design file; - reads it from standard input.",
                                    "van.toml"),
    field<&cli::LoomsOptions::assembly>("assembly", "One assembly alone. Left out: all.",
                                        "kitchen"),
    field<&cli::LoomsOptions::format>("format",
                                      "Format of the answer: text, csv, json, html, xlsx, or svg: "
                                      "the drawing of one assembly's loom. "
                                      "Left out: by the ending of --output, else text.",
                                      "csv"),
    field<&cli::LoomsOptions::output>(
        "output", "The file to write, whole or not at all; left out, standard output.",
        "looms.html"),
    field<&cli::LoomsOptions::set>("set", "Overrides one key, any number of times.",
                                   "run/fridge/length=5 m"),
    field<&cli::LoomsOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

LoomsFormat format_of(const LoomsOptions& options) {
  if (options.format) return *options.format;
  const std::string output = options.output.value_or("");
  for (const LoomsFormat f : {LoomsFormat::csv, LoomsFormat::json, LoomsFormat::html,
                              LoomsFormat::svg, LoomsFormat::xlsx})
    if (output.ends_with("." + std::string(word(f)))) return f;
  return LoomsFormat::text;
}

/// What cannot be asked for, told; nothing where it can.
bool can_be_asked(const LoomsOptions& options, World& world) {
  const LoomsFormat format = format_of(options);
  if (format == LoomsFormat::xlsx && !options.output) {
    world.err << "error: a spreadsheet wants a file\n  = help: -o looms.xlsx, or -o - for standard "
                 "output\n";
    return false;
  }
  if (format == LoomsFormat::svg && !options.assembly) {
    world.err << "error: a drawing is of one loom\n  = help: --assembly NAME says which; --format "
                 "html has all of them\n";
    return false;
  }
  return true;
}

const range::Loom* loom_named(const range::Looms& looms, const std::string& name, World& world) {
  std::vector<std::string_view> names;
  for (const auto& loom : looms.looms) {
    if (loom.assembly == name) return &loom;
    names.push_back(loom.assembly);
  }
  world.err << "error: the design has no assembly \"" << name << "\"\n";
  std::string hint = did_you_mean(name, names);
  if (hint.empty())
    for (const auto known : names) hint += (hint.empty() ? "it has " : ", ") + std::string(known);
  if (!hint.empty()) world.err << "  = help: " << hint << "\n";
  return nullptr;
}

/// The answer as bytes; nothing, and a message, where it cannot be made.
std::optional<std::string> looms_answer(const report::LoomSheets& sheets, const range::Loom* one,
                                        const LoomsOptions& options, World& world) {
  switch (format_of(options)) {
  case LoomsFormat::text:
    return rendered(report::looms_page(sheets), Format::text,
                    options.output ? page::Screen{} : world.screen);
  case LoomsFormat::html: return rendered(report::looms_page(sheets), Format::html, {});
  case LoomsFormat::json: return report::looms_json(sheets);
  case LoomsFormat::svg: return report::loom_drawing(*one, "loom", page::SvgFor::file);
  case LoomsFormat::csv:
    world.notes << "note: " << sheets.model.of.design->name << ": "
                << report::standing_of(sheets.model) << "\n"
                << page::safety_note() << "\n";
    return report::looms_csv(sheets);
  case LoomsFormat::xlsx: break;
  }
  auto made = page::spreadsheet(report::looms_workbook(sheets));
  if (auto* bytes = std::get_if<std::string>(&made)) return std::move(*bytes);
  world.err << "error: the spreadsheet cannot be made: " << std::get<page::NoSpreadsheet>(made).why
            << "\n";
  return std::nullopt;
}

}  // namespace

FieldList looms_options() { return fields<LoomsOptions>; }

int run_looms(const Node& typed, World& world) {
  const auto options = options_from<LoomsOptions>(typed, world);
  if (!options || !can_be_asked(*options, world)) return usage;
  Diagnostics diagnostics;
  const auto opening = open_checked(design_named_by(*options), world, diagnostics);
  if (!opening)
    return refuse(world, format_of(*options) == LoomsFormat::json ? Format::json : Format::text,
                  diagnostics);
  const auto made = answers::looms(*opening->design);
  const auto* one = options->assembly ? loom_named(made.looms, *options->assembly, world) : nullptr;
  if (options->assembly && !one) return usage;
  const report::BuildModel model{opening->checked_design(), made.list};
  const auto answer = looms_answer({model, made.looms, options->assembly}, one, *options, world);
  if (!answer) return io_error;
  const int code = opening->checked.verdicts.worse() == checks::Verdict::fail ? check_fails : ok;
  const bool asked_for =
      options->output || format_of(*options) != LoomsFormat::text || !world.quiet;
  const int written = asked_for ? write_out(options->output, *answer, world) : int(ok);
  return written == ok ? code : written;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// loads, runs, parts: a spreadsheet's list into the tables of the design file, and back.
#include "housepower/report/lists.hpp"
#include "commands.hpp"
#include "housepower/design/words.hpp"
#include "housepower/lists/workbook.hpp"
#include "housepower/reading/write.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

struct ListOptions {
  std::string file;
  std::optional<design::PartKind> is;
  std::optional<std::string> device, sheet;
  std::vector<std::string> column;
  std::optional<std::string> delimiter;
  std::optional<DecimalSign> decimal;
  std::optional<std::string> output;
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
namespace {

using cli::ListOptions;

constexpr Field writes(std::string_view example) {
  return field<&ListOptions::output>("output", "A file to write instead of standard output.",
                                     example);
}

constexpr std::array common{
    field<&ListOptions::column>(
        "column", "What a column is, any number of times; nothing after \"=\" leaves it out.",
        "Leistung=power"),
    field<&ListOptions::delimiter>(
        "delimiter", "What separates the cells: comma, semicolon or tab; left out, as found.",
        "semicolon"),
    field<&ListOptions::decimal>(
        "decimal", "The decimal sign: point or comma; left out, as the numbers show.", "comma"),
    writes("loads.toml"),
    field<&ListOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text")};

constexpr Field which_sheet = field<&ListOptions::sheet>(
    "sheet", "Of a workbook: which sheet; left out, the only one that holds anything.", "Loads");

constexpr std::array loads_fields{
    field<&ListOptions::file>(
        "file", "The load list: CSV in UTF-8, .xlsx or .ods; or a design (.toml) to write as CSV.",
        "loads.csv"),
    which_sheet,
    common[0],
    common[1],
    common[2],
    common[3],
    common[4]};
constexpr std::array runs_fields{
    field<&ListOptions::file>(
        "file",
        "The cable schedule: CSV in UTF-8, .xlsx or .ods; or a design (.toml) to write as CSV.",
        "runs.csv"),
    field<&ListOptions::device>("device", "The type of each device that has a rating alone.",
                                "iso-8820-3-c"),
    which_sheet,
    common[0],
    common[1],
    common[2],
    writes("runs.toml"),
    common[4]};
constexpr std::array parts_fields{
    field<&ListOptions::file>(
        "file",
        "The parts list: CSV in UTF-8, .xlsx or .ods; or a catalogue (.toml) to write as CSV.",
        "parts.csv"),
    field<&ListOptions::is>("is", "What every row is, where no column says so.", "battery"),
    which_sheet,
    common[0],
    common[1],
    common[2],
    writes("parts.toml"),
    common[4]};
constexpr std::array list_fields{loads_fields[0], runs_fields[1], parts_fields[1],
                                 which_sheet,     common[0],      common[1],
                                 common[2],       common[3],      common[4]};

}  // namespace
template <> inline constexpr auto fields<cli::ListOptions> = list_fields;
}  // namespace housepower

namespace housepower::cli {
namespace {

/// One of the three commands.
struct Verb {
  std::string what;  // "appliance"
  lists::ReadList (*read)(const Csv&, const lists::ListOptions&, Diagnostics&);
  decltype(&lists::write_loads) write;
};

std::optional<char> delimiter_of(const std::string& typed) {
  for (const auto& [name, sign] :
       {std::pair{"comma", ','}, std::pair{"semicolon", ';'}, std::pair{"tab", '\t'}})
    if (typed == name || typed == std::string(1, sign)) return sign;
  return std::nullopt;
}

std::optional<Csv> cells_of(const std::string& text, const ListOptions& options,
                            std::optional<char> delimiter, Diagnostics& diagnostics) {
  return is_workbook(text) ? read_workbook(text, options.file, options.sheet, diagnostics)
                           : parse_csv(text, options.file, delimiter, diagnostics);
}

/// Of a workbook no line can be shown.
FileReader lines_of(const std::string& text, const World& world) {
  return is_workbook(text) ? [](std::string_view) { return FileContent(std::nullopt); }
                           : world.read;
}

int import_list(const Verb& verb, const ListOptions& options, std::optional<char> delimiter,
                const std::string& text, World& world) {
  Diagnostics diagnostics;
  const auto cells = cells_of(text, options, delimiter, diagnostics);
  const lists::ListOptions asked{
      {options.column, options.decimal}, delimiter, options.is, options.device};
  const auto list = cells ? verb.read(*cells, asked, diagnostics) : lists::ReadList{};
  const report::ListReport told{list, options.file, verb.what};
  diagnostics.sort_by_place();
  const bool json = options.format == Format::json;
  if (json) world.out << report::list_json(told, diagnostics);
  if (!json && !list.sheet.columns.empty())
    world.notes << page::text(report::list_page(told), {world.screen.width, false}) << "\n";
  if (world.quiet)
    std::erase_if(diagnostics.all, [](const auto& d) { return d.severity != Severity::error; });
  if (!json) world.err << render(diagnostics, lines_of(text, world));
  if (!list.document) return input_wrong;
  if (json && !options.output) return ok;
  return write_out(options.output, toml_of(*list.document), world);
}

int export_list(const Verb& verb, const ListOptions& options, std::optional<char> delimiter,
                World& world) {
  Diagnostics diagnostics;
  const auto node = read_document(options.file, world.read, diagnostics);
  const SheetStyle style{delimiter.value_or(','), options.decimal.value_or(DecimalSign::point)};
  const auto csv = node ? verb.write(*node, style, diagnostics) : std::nullopt;
  if (!csv) return refuse(world, *options.format, diagnostics);
  diagnostics.sort_by_place();
  warn(world, *options.format, diagnostics);
  if (options.format == Format::json)
    world.out << report::list_json(options.file, *csv, diagnostics);
  if (options.format == Format::json && !options.output) return ok;
  return write_out(options.output, *csv, world);
}

int run_list(const Verb& verb, FieldList fields, const Node& typed, World& world) {
  const auto options = options_from<ListOptions>(typed, world, fields);
  if (!options) return usage;
  std::optional<char> delimiter;
  if (options->delimiter && !(delimiter = delimiter_of(*options->delimiter))) {
    world.err << "error: --delimiter: wants comma, semicolon or tab, got \"" << *options->delimiter
              << "\"\n";
    return usage;
  }
  const auto text = world.read(options->file);
  if (!text) {
    Diagnostics diagnostics;
    diagnostics.error({options->file}, std::string(unreadable), "the file cannot be read",
                      text.why());
    return refuse(world, *options->format, diagnostics);
  }
  return options->file.ends_with(".toml") ? export_list(verb, *options, delimiter, world)
                                          : import_list(verb, *options, delimiter, *text, world);
}

}  // namespace

FieldList loads_options() { return loads_fields; }
FieldList runs_options() { return runs_fields; }
FieldList parts_options() { return parts_fields; }

int run_loads(const Node& typed, World& world) {
  return run_list({"appliance", lists::read_loads, lists::write_loads}, loads_fields, typed, world);
}
int run_runs(const Node& typed, World& world) {
  return run_list({"run", lists::read_runs, lists::write_runs}, runs_fields, typed, world);
}
int run_parts(const Node& typed, World& world) {
  return run_list({"part", lists::read_parts, lists::write_parts}, parts_fields, typed, world);
}

}  // namespace housepower::cli

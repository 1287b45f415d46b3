// SPDX-License-Identifier: Apache-2.0
// range: every design of a folder, or of a list, as a row of one table.
#include <algorithm>
#include <filesystem>
#include <set>

#include "commands.hpp"
#include "housepower/answers/typed.hpp"
#include "housepower/design/elsewhere.hpp"
#include "housepower/report/range.hpp"
#include "housepower/units/phrases.hpp"
#include "threads.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

enum class RangeFormat { text, json, csv };
struct RangeOptions {
  std::vector<std::string> files, set, where;
  std::optional<std::string> place, month, sort, columns, part, tables, output;
  std::optional<int> years;
  std::optional<bool> join;
  std::optional<range::Simulate> stays;
  std::optional<RangeFormat> format;
};

}  // namespace housepower::cli

namespace housepower {
template <> inline constexpr auto words<cli::RangeFormat> = std::array{"text"sv, "json"sv, "csv"sv};
template <>
inline constexpr auto words<range::Simulate> = std::array{"promised"sv, "all"sv, "none"sv};
template <>
inline constexpr auto fields<cli::RangeOptions> = std::array{
    field<&cli::RangeOptions::files>(
        "files", "Design files, and folders of them; with --join the parts.", "models")
        .needed(),
    field<&cli::RangeOptions::place>(
        "place", "Each design at these towns of the climate table, or at all of them.",
        "hobart,darwin"),
    field<&cli::RangeOptions::month>(
        "month", "Each design in these months (worst: the hardest), or in all of them.",
        "january,july"),
    field<&cli::RangeOptions::years>("years", "Years of made-up weather behind a stay.", "60")
        .at_least(Ratio(1.0))
        .at_most(Ratio(2000.0))
        .or_else("60"),
    field<&cli::RangeOptions::sort>(
        "sort",
        "By a column (a key of the JSON); with - before it the largest first, with best: the best.",
        "-mass_kg"),
    field<&cli::RangeOptions::where>(
        "where", "Only rows for which this holds (=, !=, <, >), any number of times.",
        "autonomy_d<3 d"),
    field<&cli::RangeOptions::columns>("columns", "What the text shows: columns by key, or all.",
                                       "name,mass_kg,price"),
    field<&cli::RangeOptions::stays>(
        "stays", "Stays with the weather: of those that promise one, of all, or none.")
        .or_else("promised"),
    field<&cli::RangeOptions::set>("set", "Overrides one key of each, any number of times.",
                                   "promise/bank_age=8 y"),
    field<&cli::RangeOptions::part>(
        "part", "Only the part K/N of the rows, as CSV: for many machines or evenings.", "3/200")
        .called("K/N"),
    field<&cli::RangeOptions::join>("join", "Joins parts to the CSV of the whole.").optional(),
    field<&cli::RangeOptions::format>(
        "format",
        "Format of the answer: text, json or csv; left out, parts in csv, all else in text."),
    field<&cli::RangeOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables"),
    field<&cli::RangeOptions::output>("output", "The file to write; left out, to the screen.",
                                      "range.csv")};
}  // namespace housepower

namespace housepower::cli {
namespace {

namespace fs = std::filesystem;

/// All files, each once, in the order of their names; nothing, and a message, where a folder cannot
/// be read.
std::optional<std::vector<answers::RangeFile>>
files_of(const RangeOptions& options, const Files& on_disk, Diagnostics& diagnostics) {
  std::set<std::string> named, found;
  for (const auto& name : options.files) {
    if (on_disk.found(name) != Found::folder) {
      named.insert(name == "-" ? name : fs::path(name).lexically_normal().string());
      continue;
    }
    const auto content = on_disk.toml_files_in(name);
    if (!content.why_not_whole.empty()) {
      diagnostics.error({name}, std::string(answers::unreadable), "the folder cannot be read",
                        content.why_not_whole);
      return std::nullopt;
    }
    for (const auto& one : content.names) found.insert(fs::path(one).lexically_normal().string());
  }
  std::vector<answers::RangeFile> files;
  for (const auto& name : named) files.push_back({name, true});
  for (const auto& name : found)
    if (named.count(name) == 0) files.push_back({name, false});
  std::sort(files.begin(), files.end(),
            [](const auto& a, const auto& b) { return a.name < b.name; });
  return files;
}

/// Conditions, order and columns from the options; nothing, and a message, where one is not understood.
struct WantedRange {
  std::vector<report::Condition> conditions;
  std::optional<report::Order> order;
  report::RangeShown shown;
};
std::optional<WantedRange> wanted_range(const RangeOptions& options, World& world) {
  WantedRange wanted;
  const auto told = [&](const char* option, const auto& parsed) {
    const auto* problem = std::get_if<ParseProblem>(&parsed);
    if (!problem) return false;
    world.err << "error: " << option << ": " << problem->message << "\n";
    if (!problem->hint.empty()) world.err << "  = help: " << problem->hint << "\n";
    return true;
  };
  for (const auto& text : options.where) {
    const auto condition = report::condition_of(text);
    if (told("--where", condition)) return std::nullopt;
    wanted.conditions.push_back(std::get<report::Condition>(condition));
  }
  if (options.sort) {
    const auto order = report::order_of(*options.sort);
    if (told("--sort", order)) return std::nullopt;
    wanted.order = std::get<report::Order>(order);
  }
  if (options.columns) {
    auto shown = report::shown_of(*options.columns);
    if (told("--columns", shown)) return std::nullopt;
    wanted.shown = std::get<report::RangeShown>(std::move(shown));
  }
  return wanted;
}

bool refuse_option(World& world, const std::string& what, const std::string& hint) {
  world.err << "error: " << what << "\n  = help: " << hint << "\n";
  return false;
}

/// Options that do not go with one another.
bool go_together(const RangeOptions& o, World& world) {
  const bool chooses = o.sort || !o.where.empty() || o.columns;
  if (o.join.value_or(false)) {
    if (chooses || o.part || o.place || o.month || !o.set.empty() || o.tables)
      return refuse_option(world, "--join takes parts as they are",
                           "every other option but --output belongs to the parts");
    return o.format.value_or(RangeFormat::csv) == RangeFormat::csv ||
           refuse_option(world, "--join writes CSV", "leave --format out");
  }
  if (o.part && chooses)
    return refuse_option(world, "a part holds all its rows, with all columns, in their order",
                         "leave --sort, --where and --columns out");
  return !o.columns || o.format.value_or(RangeFormat::text) == RangeFormat::text ||
         refuse_option(world, "--columns is for text", "CSV and JSON hold all columns");
}

/// "3/200"; nothing, and a message, where it is no part.
std::optional<answers::Part> part_named(const std::string& text, World& world) {
  constexpr double most = 1e6;
  const auto slash = text.find('/');
  const auto whole = [](std::string_view digits) -> std::optional<double> {
    const bool good = !digits.empty() && digits.find_first_not_of("0123456789") == digits.npos;
    return good ? parse_double(digits) : std::nullopt;
  };
  const auto number = whole(std::string_view(text).substr(0, std::min(slash, text.size())));
  const auto of =
      slash == text.npos ? std::nullopt : whole(std::string_view(text).substr(slash + 1));
  if (number && of && *number >= 1.0 && *number <= *of && *of <= most)
    return answers::Part{std::size_t(*number), std::size_t(*of)};
  refuse_option(world, "--part: " + housepower::quoted(text) + " is not a part",
                "for example \"3/200\": the third of two hundred");
  return std::nullopt;
}

std::vector<std::string> between_commas(const std::string& text) {
  std::vector<std::string> pieces;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find(',', begin), text.size());
    pieces.emplace_back(answers::trimmed(std::string_view(text).substr(begin, end - begin)));
    begin = end + 1;
  }
  return pieces;
}

void add_once(std::vector<std::string>& list, std::string_view name) {
  if (std::find(list.begin(), list.end(), name) == list.end()) list.emplace_back(name);
}

/// Each town once, by its name in the climate table.
std::vector<std::string> places_named(const std::string& text, const tables::Tables& tables,
                                      Diagnostics& diagnostics) {
  std::vector<std::string> places;
  if (answers::in_small_letters(text) == "all") {
    for (const auto& town : tables.towns) places.push_back(town.name);
    return places;
  }
  std::vector<std::string_view> known;
  for (const auto& town : tables.towns) known.push_back(town.name);
  const bool is_one = design::town_named(tables, text) != nullptr;  // "Paris, France"
  for (const auto& name : is_one ? std::vector{text} : between_commas(text)) {
    if (const auto* town = design::town_named(tables, name)) add_once(places, town->name);
    else
      diagnostics.error({"--place", 0, 0, 1}, "place",
                        housepower::quoted(name) + " is not a town of the climate table",
                        did_you_mean(answers::in_small_letters(name), known));
  }
  return places;
}

/// Each month once, as a design states it.
std::vector<std::string> months_named(const std::string& text, Diagnostics& diagnostics) {
  std::vector<std::string> months;
  if (answers::in_small_letters(text) == "all") {
    for (int month = 0; month < 12; ++month) months.emplace_back(design::name_of_month(month));
    return months;
  }
  for (const auto& name : between_commas(text)) {
    if (const auto month = design::name_of_month(name)) add_once(months, *month);
    else
      diagnostics.error({"--month", 0, 0, 1}, "month", housepower::quoted(name) + " is not a month",
                        "for example \"july\", \"january,july\", \"worst\" or \"all\"");
  }
  return months;
}

answers::RangeAsked asked_of(const RangeOptions& options, const tables::Tables& tables,
                             World& world, Diagnostics& diagnostics) {
  answers::RangeAsked asked;
  asked.stays = {*options.stays, *options.years};
  asked.set = options.set;
  if (options.place) asked.places = places_named(*options.place, tables, diagnostics);
  if (options.month) asked.months = months_named(*options.month, diagnostics);
  if (!options.tables) return asked;
  if (const auto texts = texts_in(world, *options.tables, diagnostics))
    for (const auto& one : *texts) {
      asked.tables.push_back(one.name);
      asked.tables.push_back(one.text);
    }
  return asked;
}

int exit_of(bool fails, bool not_read, bool unread) {
  return unread ? io_error : not_read ? input_wrong : fails ? check_fails : ok;
}
int exit_of(const answers::RangeReport& report) {
  const auto any = [&](std::string_view verdict) {
    return std::any_of(report.rows.begin(), report.rows.end(),
                       [&](const auto& row) { return row.verdict == verdict; });
  };
  return exit_of(any(word_of(Verdict::fail)), any(range::not_read), report.unread);
}

/// What is written, to the file or the screen; what is told beside a CSV, on standard error.
int print_range(const answers::RangeReport& report, const report::RangeShown& shown,
                const RangeOptions& options, World& world) {
  const RangeFormat usual = options.part ? RangeFormat::csv : RangeFormat::text;
  const RangeFormat format = options.format.value_or(usual);
  const auto screen = options.output ? page::Screen{} : world.screen;
  const std::string text = format == RangeFormat::text
                               ? rendered(report::range_page(report, shown), Format::text, screen)
                           : format == RangeFormat::json ? report::range_json(report)
                           : report.part                 ? report::range_csv_part(report)
                                                         : report::range_csv(report);
  const bool asked_for = options.output || format != RangeFormat::text || !world.quiet;
  const int written = asked_for ? write_out(options.output, text, world) : ok;
  if (format != RangeFormat::csv || written != ok) return written;
  for (const auto& note : report::range_notes(report)) world.notes << "note: " << note << "\n";
  world.notes << page::safety_note() << "\n";
  return ok;
}

/// Parts to the whole.
int run_join(const RangeOptions& options, World& world) {
  std::vector<report::PartText> texts;
  bool unread = false;
  for (const auto& name : options.files) {
    auto text = world.read(name);
    if (text) {
      texts.push_back({name, *std::move(text)});
      continue;
    }
    world.err << "error: " << name << ": the file cannot be read: " << text.why() << "\n";
    unread = true;
  }
  if (unread) return io_error;
  const auto joined = report::join_range(texts);
  for (const auto& problem : joined.problems) world.err << "error: " << problem << "\n";
  if (!joined.problems.empty()) return input_wrong;
  const int written = write_out(options.output, joined.csv, world);
  if (written != ok) return written;
  world.notes << page::safety_note() << "\n";
  return exit_of(joined.fails, joined.not_read, false);
}

}  // namespace

FieldList range_options() { return fields<RangeOptions>; }

int run_range(const Node& typed, World& world) {
  const auto options = options_from<RangeOptions>(typed, world);
  if (!options || !go_together(*options, world)) return usage;
  if (options->join.value_or(false)) return run_join(*options, world);
  const auto wanted = wanted_range(*options, world);
  std::optional<answers::Part> part;
  if (options->part) part = part_named(*options->part, world);
  if (!wanted || (options->part && !part)) return usage;
  Diagnostics diagnostics;
  const Format problems = options->format == RangeFormat::json ? Format::json : Format::text;
  const auto files = files_of(*options, world.files, diagnostics);
  if (files && files->empty())
    diagnostics.error({options->files.front()}, std::string(answers::unreadable),
                      "no design file is in what was named");
  if (!files || files->empty()) return refuse(world, problems, diagnostics);
  auto read = tables_for(world, options->tables, {}, diagnostics);
  if (!read) return refuse(world, problems, diagnostics);
  const auto tables = std::make_shared<const tables::Tables>(std::move(*read));
  const auto asked = asked_of(*options, *tables, world, diagnostics);
  if (diagnostics.any_error()) return refuse(world, problems, diagnostics);
  std::optional<answers::RangeReport> report;
  {
    Workers workers(progress_stream(), "checking: {} so far");
    report = answers::range_of(*files, asked, part, tables, world.read, workers.each());
  }
  for (const auto& name : report->kept) world.files.keep(name);
  std::string_view told;  // the problem of a file, at however many places
  for (const auto& row : report->rows)
    if (row.verdict == range::not_read && row.problem != told)
      world.err << "error: " << (told = row.problem) << "\n";
  if (part && report->unread) {  // a part that is there is done: this one is not
    world.err
        << "error: a file cannot be read, so no part is made; range without --part names it\n";
    return io_error;
  }
  const int code = exit_of(*report);
  report::keep_where(*report, wanted->conditions);
  if (wanted->order) report::sort(report->rows, *wanted->order);
  const int written = print_range(*report, wanted->shown, *options, world);
  return written == ok ? code : written;
}

}  // namespace housepower::cli

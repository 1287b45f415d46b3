// SPDX-License-Identifier: Apache-2.0
// range: every design of a folder, or of a list, as a row of one table.
#include <algorithm>
#include <filesystem>
#include <set>

#include "given.hpp"
#include "housepower/report/range.hpp"
#include "threads.hpp"
#include "verbs.hpp"

namespace housepower::cli {

enum class RangeFormat { text, json, csv };
struct RangeOptions {
  std::vector<std::string> files, set, where;
  std::optional<std::string> sort, tables;
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
    field<&cli::RangeOptions::files>("files", "Design files, and folders of them.", "models")
        .needed(),
    field<&cli::RangeOptions::sort>(
        "sort", "By a column (a key of the JSON); with - before it the largest first.", "-mass_kg"),
    field<&cli::RangeOptions::where>(
        "where", "Only rows for which this holds (=, !=, <, >), any number of times.",
        "autonomy_d<3 d"),
    field<&cli::RangeOptions::stays>(
        "stays", "Stays with the weather: of those that promise one, of all, or none.")
        .or_else("promised"),
    field<&cli::RangeOptions::set>("set", "Overrides one key of each, any number of times.",
                                   "promise/bank_age=8 y"),
    field<&cli::RangeOptions::format>("format", "How to answer: text, json or csv.")
        .or_else("text"),
    field<&cli::RangeOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

namespace fs = std::filesystem;

/// All files, each once, in the order of their names; nothing, and a message, where a folder cannot
/// be read.
std::optional<std::vector<answers::RangeFile>> files_of(const RangeOptions& options, World& world) {
  std::set<std::string> named, found;
  for (const auto& name : options.files) {
    std::error_code error;
    if (!fs::is_directory(name, error)) {
      named.insert(name == "-" ? name : fs::path(name).lexically_normal().string());
      continue;
    }
    for (fs::recursive_directory_iterator at(name, error), end; !error && at != end;
         at.increment(error))
      if (at->path().extension() == ".toml" && !at->is_directory(error))
        found.insert(at->path().lexically_normal().string());
    if (error) {
      world.err << "error: " << name << ": the folder cannot be read: " << error.message() << "\n";
      return std::nullopt;
    }
  }
  std::vector<answers::RangeFile> files;
  for (const auto& name : named) files.push_back({name, true});
  for (const auto& name : found)
    if (named.count(name) == 0) files.push_back({name, false});
  std::sort(files.begin(), files.end(),
            [](const auto& a, const auto& b) { return a.name < b.name; });
  return files;
}

/// Opens the designs of a range on the same tables.
answers::OpenInRange opener(const RangeOptions& options, const FileReader& read,
                            std::shared_ptr<const tables::Tables> tables, ParsedFiles& bases) {
  return [&, tables = std::move(tables)](const answers::RangeFile& file, Diagnostics& diagnostics,
                                         const answers::HandOn& hand_on) -> std::string {
    DesignOptions one;
    one.file = file.name;
    one.set = options.set;
    auto design = read_of(one, read, diagnostics, &bases);
    if (!design) return "";
    const bool broken = diagnostics.any_error();  // then that is told
    if (auto why = answers::why_no_design(design->node); !file.asked_for && !broken && !why.empty())
      return why;
    if (const auto opening = open_on(tables, std::move(*design), one, read, diagnostics))
      hand_on(given(*opening, file.name));
    return "";
  };
}

/// Conditions and order from the options; nothing, and a message, where one is not understood.
struct WantedRange {
  std::vector<report::Condition> conditions;
  std::optional<report::Order> order;
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
  return wanted;
}

int exit_of(const std::vector<answers::RangeOutcome>& outcomes) {
  int code = ok;
  for (const auto& o : outcomes) {
    const bool missing = std::any_of(o.diagnostics.all.begin(), o.diagnostics.all.end(),
                                     [](const Diagnostic& d) { return d.key == unreadable; });
    code = std::max<int>(code, o.row.verdict == "fail"            ? check_fails
                               : o.row.verdict != range::not_read ? ok
                               : missing                          ? io_error
                                                                  : input_wrong);
  }
  return code;
}

void print_range_csv(const report::RangeReport& report, World& world) {
  world.out << report::range_csv(report);
  for (const auto& note : report::range_notes(report)) world.notes << "note: " << note << "\n";
  world.notes << page::safety_note() << "\n";
}

}  // namespace

FieldList range_options() { return fields<RangeOptions>; }

int run_range(const Node& typed, World& world) {
  const auto options = options_from<RangeOptions>(typed, world);
  if (!options) return usage;
  const auto wanted = wanted_range(*options, world);
  if (!wanted) return usage;
  const auto files = files_of(*options, world);
  if (!files) return io_error;
  if (files->empty()) {
    world.err << "error: no design file is in what was named\n";
    return io_error;
  }
  Diagnostics diagnostics;
  auto read = tables_for(world, options->tables, {}, diagnostics);
  if (!read) return refuse(world, Format::text, diagnostics);
  const auto tables = std::make_shared<const tables::Tables>(std::move(*read));

  std::vector<answers::RangeOutcome> outcomes;
  ParsedFiles bases;
  {
    Workers workers(progress_stream(), "checking: {} designs so far");
    outcomes = answers::range_outcomes(*files, opener(*options, world.read, tables, bases),
                                       *options->stays, workers.each());
  }
  auto report = answers::range_of(outcomes, *options->stays);
  for (const auto& row : report.rows)
    if (row.verdict == range::not_read) world.err << "error: " << row.problem << "\n";
  report::keep_where(report, wanted->conditions);
  if (wanted->order) report::sort(report.rows, *wanted->order);
  if (*options->format == RangeFormat::csv) print_range_csv(report, world);
  else
    answer(
        world, *options->format == RangeFormat::json ? Format::json : Format::text,
        [&] { return report::range_page(report); }, [&] { return report::range_json(report); });
  return exit_of(outcomes);
}

}  // namespace housepower::cli

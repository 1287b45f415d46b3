// SPDX-License-Identifier: Apache-2.0
// record: what stays with a van, and whether it is intact.
#include "housepower/report/record.hpp"
#include "housepower/units/phrases.hpp"

#include <chrono>
#include <ctime>

#include "commands.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

struct RecordOptions {
  std::vector<std::string> files, option, part;
  std::optional<std::string> serial, readings, released_by, despite, note, by, at, seal, design,
      output, tables;
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::RecordOptions> = std::array{
    field<&cli::RecordOptions::files>(
        "files",
        "What to do, and with which file: new DESIGN; add, verify, show, handover or check RECORD.",
        "new van.toml")
        .needed(),
    at_most_one({"readings", "released_by", "note"}),
    field<&cli::RecordOptions::serial>("serial", "Of the van, for a new record.", "T2-0417"),
    field<&cli::RecordOptions::readings>("readings", "Adds a file of readings.", "van-0417.toml")
        .of_any_length(),
    field<&cli::RecordOptions::released_by>("released_by", "Adds who releases the van.",
                                            "A. Example"),
    field<&cli::RecordOptions::despite>(
        "despite",
        "Why it is released though its design or its readings fail; it stands in the record.",
        "W05+ crimped anew and read again"),
    field<&cli::RecordOptions::option>("option", "An option that is fitted, any number of times.",
                                       "winter pack"),
    field<&cli::RecordOptions::part>(
        "part",
        "A part of the design with its serial, any number of times; a later one replaces it.",
        "bank/battery/1=SN 123")
        .called("PART=SERIAL"),
    field<&cli::RecordOptions::note>("note", "Adds a note.", "main fuse replaced"),
    field<&cli::RecordOptions::by>("by", "Who makes the entry.", "line 7"),
    field<&cli::RecordOptions::at>("at", "When; left out, now, in UTC.", "2026-03-14 10:20")
        .called("DATE"),
    field<&cli::RecordOptions::seal>(
        "seal", "What the last digest must be: of another record nothing is shown or added to.",
        "2c26b46b68ff"),
    field<&cli::RecordOptions::design>(
        "design", "For check: the design, as it is now, that the van is held against.", "van.toml")
        .called("FILE")
        .of_any_length(),
    field<&cli::RecordOptions::output>(
        "output", "The file of a new record, or of the handover page.", "T2-0417.record"),
    field<&cli::RecordOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text"),
    field<&cli::RecordOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

std::string time_now() {
  const std::time_t time = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm utc{};
  gmtime_r(&time, &utc);
  char text[32];
  return {text, std::strftime(text, sizeof text, "%Y-%m-%d %H:%M UTC", &utc)};
}

/// The text of a file; told where there is none.
std::optional<std::string> text_of(const std::string& path, const RecordOptions& options,
                                   World& world) {
  auto text = world.read(path);
  if (text) return std::move(*text);
  Diagnostics diagnostics;
  diagnostics.error({path}, std::string(unreadable), "the file cannot be read", text.why());
  (void)refuse(world, *options.format, diagnostics);
  return std::nullopt;
}

int wrong_use(World& world, const char* why) {
  world.err << "error: " << why << "\n";
  return usage;
}

int wrong_time(World& world, const std::string& typed) {
  world.err << "error: --at: " << housepower::quoted(typed) << " is no date\n"
            << "  = help: for example \"2026-03-14\" or \"2026-03-14 10:20 UTC\"\n";
  return usage;
}

answers::Stamp stamp_of(const RecordOptions& options) {
  return {options.at.value_or(time_now()), options.by.value_or("not stated")};
}

/// A record is only ever added to: nothing that exists is taken for a new one.
bool is_there(const std::optional<std::string>& output, World& world) {
  if (!output || *output == "-" || world.files.holds(*output) ||
      world.files.found(*output) != Found::file)
    return false;
  world.err << "error: " << *output << " exists, and a record is never written over\n"
            << "  = help: add to it, or give the new record a name of its own\n";
  return true;
}

DesignOptions design_options_of(const std::string& file, const RecordOptions& options) {
  DesignOptions named;
  named.file = file;
  named.tables = options.tables;
  return named;
}

/// What was typed and is none of the design's.
int wrong_part(const Diagnostics& diagnostics, World& world) {
  for (const auto& d : diagnostics.all)
    world.err << "error: " << d.message << "\n"
              << (d.hint.empty() ? "" : "  = help: " + d.hint + "\n");
  return usage;
}

/// Options and parts as typed; nothing, and told, where one is none of the design's.
std::optional<answers::Fitted> fitted_of(const RecordOptions& options, const design::Design& d,
                                         Diagnostics& diagnostics) {
  answers::Fitted fitted{options.option, {}};
  for (const auto& written : options.part)
    if (auto part = answers::part_of(written, "--part", diagnostics))
      fitted.parts.push_back(*std::move(part));
  answers::require_parts(fitted, d, "--part", diagnostics);
  return diagnostics.any_error() ? std::nullopt : std::optional(std::move(fitted));
}

int make_new(const RecordOptions& options, World& world) {
  if (!options.serial) return wrong_use(world, "record new wants --serial, the van's number");
  if (options.at && !answers::is_time(*options.at)) return wrong_time(world, *options.at);
  const auto named = design_options_of(options.files[1], options);
  Diagnostics diagnostics;
  const auto opening = open_checked(named, world, diagnostics);
  if (!opening) return refuse(world, *options.format, diagnostics);
  Diagnostics typed;
  const auto fitted = fitted_of(options, *opening->design, typed);
  if (!fitted) return wrong_part(typed, world);
  if (opening->checked.verdicts.worse() == checks::Verdict::fail)
    world.err << "warning: the design fails its checks: " << answers::verdicts_of(opening->checked)
              << "; the record says so\n";
  const auto text = text_of(named.file, options, world);
  if (!text) return io_error;
  if (is_there(options.output, world)) return io_error;
  const std::string record =
      answers::entry_text(1,
                          answers::entry_of_van(stamp_of(options), *options.serial, named.file,
                                                *text, *opening, *fitted),
                          answers::nothing_before);
  const bool json = options.format == Format::json;
  const bool to_file = options.output && *options.output != "-";
  const int written = json && !to_file ? ok : write_new_out(options.output, record, world);
  if (json && written == ok)
    world.out << report::written_record_json(
        answers::read_record(record, options.output.value_or("-")), record);
  return written;
}

/// A record with its text, whole by its chain and its seal; told where it is not.
struct WholeRecord {
  std::string text;
  answers::Record record;
};
std::optional<WholeRecord> whole_record(const RecordOptions& options, World& world, int& code) {
  code = io_error;
  auto text = text_of(options.files[1], options, world);
  if (!text) return std::nullopt;
  auto record = answers::read_record(*text, options.files[1], options.seal);
  if (!record.broken) return WholeRecord{*std::move(text), std::move(record)};
  Diagnostics diagnostics;
  diagnostics.all.push_back(*record.broken);
  (void)refuse(world, *options.format, diagnostics);
  code = check_fails;
  return std::nullopt;
}

std::optional<Opening> as_built(const answers::VanOfRecord& van, const RecordOptions& options,
                                World& world, Diagnostics& diagnostics) {
  const auto shelf = shelf_for(world, options.tables, diagnostics);
  return shelf ? answers::as_built(van, *shelf, world.read, diagnostics) : std::nullopt;
}

/// Readings with what they say of the van; what cannot be judged is kept and warned of. Nothing, and
/// told, where the file holds no readings of it.
std::optional<answers::RecordEntry> entry_of_readings(const RecordOptions& options,
                                                      const std::string& text,
                                                      const answers::Record& record, World& world) {
  Diagnostics diagnostics;
  std::string why;
  const auto recorded = answers::van_of(record);
  const auto built = as_built(recorded, options, world, diagnostics);
  const auto load = built ? answers::test_load(*built->design, {}, diagnostics) : std::nullopt;
  const auto answered =
      load ? answers::diagnose(*built, *load, text, *options.readings, diagnostics) : std::nullopt;
  if (load && !answered) {
    (void)refuse(world, *options.format, diagnostics);
    return std::nullopt;
  }
  std::optional<answers::DiagnosedVan> van;
  if (answered) {
    if (const auto* none = std::get_if<wiring::NoDiagnosis>(&*answered)) why = none->why;
    else van.emplace(std::get<answers::DiagnosedVan>(*answered));
  }
  if (van && van->file.serial && *van->file.serial != recorded.serial) {
    diagnostics.error({*options.readings}, "van/serial",
                      "these are readings of van " + housepower::quoted(*van->file.serial) +
                          "; the record is of van " + housepower::quoted(recorded.serial));
    (void)refuse(world, *options.format, diagnostics);
    return std::nullopt;
  }
  for (const auto& d : diagnostics.all)
    if (why.empty() && d.severity == Severity::error) why = d.message;
  if (!van) world.notes << "warning: the readings are recorded, but not assessed: " << why << "\n";
  return answers::entry_of_readings(stamp_of(options), *options.readings, text, van, why);
}

/// A release, where nothing stands against it or it is said why it goes all the same; else told.
std::optional<answers::RecordEntry> entry_of_release(const RecordOptions& options,
                                                     const answers::Record& record, World& world) {
  Diagnostics diagnostics;
  const auto built = as_built(answers::van_of(record), options, world, diagnostics);
  const std::string why = diagnostics.all.empty() ? "" : diagnostics.all.front().message;
  auto release = answers::release_of(*options.released_by, record, built, why);
  release.despite = options.despite;
  if (!release.against.empty() && !release.despite) {
    world.err << "error: not released\n";
    for (const auto& one : release.against) world.err << "  " << one << "\n";
    world.err << "  = help: mend and measure it; or say why it is released all the same: --despite "
                 "\"…\" stands in the record and on the handover page\n";
    return std::nullopt;
  }
  return answers::entry_of_release(stamp_of(options), release, record);
}

/// Options and parts that are of the design as it was built; else told.
std::optional<answers::RecordEntry> entry_of_fitted(const RecordOptions& options,
                                                    const answers::Record& record, World& world,
                                                    int& code) {
  Diagnostics diagnostics;
  const auto built = as_built(answers::van_of(record), options, world, diagnostics);
  if (!built) {
    code = refuse(world, *options.format, diagnostics);
    return std::nullopt;
  }
  Diagnostics typed;
  const auto fitted = fitted_of(options, *built->design, typed);
  if (fitted) return answers::entry_of_fitted(stamp_of(options), *fitted);
  code = wrong_part(typed, world);
  return std::nullopt;
}

int add(const RecordOptions& options, World& world) {
  if (options.at && !answers::is_time(*options.at)) return wrong_time(world, *options.at);
  int code = ok;
  const auto whole = whole_record(options, world, code);
  if (!whole) return code;
  answers::RecordEntry e;
  const bool fitted = !options.option.empty() || !options.part.empty();
  if (fitted && (options.readings || options.released_by || options.note))
    return wrong_use(world, "--option and --part make an entry of their own");
  if (options.despite && !options.released_by)
    return wrong_use(world, "--despite goes with --released-by");
  if (fitted) {
    auto entry = entry_of_fitted(options, whole->record, world, code);
    if (!entry) return code;
    e = *std::move(entry);
  } else if (options.readings) {
    const auto readings = text_of(*options.readings, options, world);
    if (!readings) return io_error;
    auto judged = entry_of_readings(options, *readings, whole->record, world);
    if (!judged) return input_wrong;
    e = *std::move(judged);
  } else if (options.released_by) {
    auto entry = entry_of_release(options, whole->record, world);
    if (!entry) return check_fails;
    e = *std::move(entry);
  } else if (options.note) {
    e = answers::entry_of_note(stamp_of(options), *options.note);
  } else {
    return wrong_use(world,
                     "record add wants --readings, --part, --option, --released-by or --note");
  }
  const std::string& path = options.files[1];
  const std::size_t number = whole->record.entries.size() + 1;
  const std::string text = whole->text + (whole->text.ends_with('\n') ? "" : "\n") +
                           answers::entry_text(number, std::move(e), whole->record.seal());
  if (const auto why = world.files.write_over(path, whole->text, text))
    return not_written(path, *why, world);
  const auto added = answers::read_record(text, path);
  if (options.format == Format::json) world.out << report::written_record_json(added, text);
  else if (!world.quiet) world.out << "entry " << number << ", seal " << added.seal() << "\n";
  return ok;
}

int show(const RecordOptions& options, World& world, bool every_entry) {
  const auto text = text_of(options.files[1], options, world);
  if (!text) return io_error;
  const auto record = answers::read_record(*text, options.files[1], options.seal);
  answer(
      world, *options.format, [&] { return report::record_page(record, every_entry); },
      [&] { return report::record_json(record); });
  return record.broken ? check_fails : ok;
}

int hand_over(const RecordOptions& options, World& world) {
  int code = ok;
  const auto whole = whole_record(options, world, code);
  if (!whole) return code;
  const auto van = answers::van_of(whole->record);
  Diagnostics diagnostics;
  const auto built = as_built(van, options, world, diagnostics);
  if (!built) return refuse(world, *options.format, diagnostics);
  const report::Handover handover{whole->record, van, *built};
  return write_out(options.output,
                   *options.format == Format::json
                       ? report::handover_json(handover)
                       : rendered(report::handover_page(handover), *options.format, world.screen),
                   world);
}

int check(const RecordOptions& options, World& world) {
  if (!options.design) return wrong_use(world, "record check wants --design, as it is now");
  int code = ok;
  const auto whole = whole_record(options, world, code);
  if (!whole) return code;
  const auto van = answers::van_of(whole->record);
  Diagnostics diagnostics;
  const auto built = as_built(van, options, world, diagnostics);
  const auto now =
      built ? open_checked(design_options_of(*options.design, options), world, diagnostics)
            : std::nullopt;
  if (!now) return refuse(world, *options.format, diagnostics);
  const auto against = answers::van_against(van, *built, *now, *options.design);
  answer(
      world, *options.format, [&] { return report::against_page(against); },
      [&] { return report::against_json(against); });
  return against.verdict == checks::Verdict::fail ? check_fails : ok;
}

}  // namespace

FieldList record_options() { return fields<RecordOptions>; }

int run_record(const Node& typed, World& world) {
  const auto options = options_from<RecordOptions>(typed, world);
  if (!options) return usage;
  if (options->files.size() != 2)
    return wrong_use(world, "record wants two words: new DESIGN, or add, verify, show, handover or "
                            "check and a RECORD");
  const std::string& verb = options->files[0];
  if (verb == "new") return make_new(*options, world);
  if (verb == "add") return add(*options, world);
  if (verb == "verify") return show(*options, world, false);
  if (verb == "show") return show(*options, world, true);
  if (verb == "handover") return hand_over(*options, world);
  if (verb == "check") return check(*options, world);
  world.err << "error: record cannot \"" << verb << "\"\n";
  const std::string hint =
      did_you_mean(verb, {"new", "add", "verify", "show", "handover", "check"});
  if (!hint.empty()) world.err << "  = help: " << hint << "\n";
  return usage;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// record: what stays with a van, and whether it is intact.
#include "housepower/report/record.hpp"

#include <chrono>
#include <ctime>

#include "commands.hpp"
#include "housepower/reading/sha256.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

struct RecordOptions {
  std::vector<std::string> files;
  std::optional<std::string> serial, readings, released_by, note, by, at, seal, output, tables;
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::RecordOptions> = std::array{
    field<&cli::RecordOptions::files>(
        "files", "new DESIGN, add RECORD, verify RECORD or show RECORD.", "new van.toml")
        .needed(),
    at_most_one({"readings", "released_by", "note"}),
    field<&cli::RecordOptions::serial>("serial", "Of the van, for a new record.", "T2-0417"),
    field<&cli::RecordOptions::readings>("readings", "Adds a file of readings.", "van-0417.toml")
        .of_any_length(),
    field<&cli::RecordOptions::released_by>("released_by", "Adds who releases the van.",
                                            "A. Example"),
    field<&cli::RecordOptions::note>("note", "Adds a note.", "main fuse replaced"),
    field<&cli::RecordOptions::by>("by", "Who makes the entry.", "line 7"),
    field<&cli::RecordOptions::at>("at", "When; left out, now, in UTC.", "2026-03-14 10:20"),
    field<&cli::RecordOptions::seal>("seal", "What the last digest must be, for verify.",
                                     "2c26b46b68ff"),
    field<&cli::RecordOptions::output>("output", "The file of a new record.", "T2-0417.record"),
    field<&cli::RecordOptions::format>("format", "How to answer: text, json or html.")
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

std::vector<std::string> lines_of(std::string_view text) {
  std::vector<std::string> lines;
  while (!text.empty()) {
    const auto end = text.find('\n');
    lines.emplace_back(text.substr(0, end));
    if (!lines.back().empty() && lines.back().back() == '\r') lines.back().pop_back();
    text = end == text.npos ? std::string_view() : text.substr(end + 1);
  }
  return lines;
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

int make_new(const RecordOptions& options, World& world) {
  if (!options.serial) return wrong_use(world, "record new wants --serial, the van's number");
  DesignOptions named;
  named.file = options.files[1];
  named.tables = options.tables;
  Diagnostics diagnostics;
  const auto opening = open_unchecked(named, world, diagnostics, false);
  if (!opening) return refuse(world, *options.format, diagnostics);
  const auto text = text_of(named.file, options, world);
  if (!text) return io_error;
  report::RecordEntry e;
  e.at = options.at.value_or(time_now());
  e.by = options.by.value_or("not stated");
  e.what = "new";
  e.lines = {"serial: " + *options.serial, "van: " + (*opening->design)->name,
             "design: " + named.file, "design digest: sha256 " + sha256_of(*text),
             "inputs digest: " + opening->digest};
  return write_out(options.output, report::entry_text(1, std::move(e), report::nothing_before),
                   world);
}

int add(const RecordOptions& options, World& world) {
  const std::string& path = options.files[1];
  const auto text = text_of(path, options, world);
  if (!text) return io_error;
  const auto record = report::read_record(*text, path);
  if (record.broken) {
    Diagnostics diagnostics;
    diagnostics.all.push_back(*record.broken);
    (void)refuse(world, *options.format, diagnostics);
    return check_fails;
  }
  report::RecordEntry e;
  e.at = options.at.value_or(time_now());
  e.by = options.by.value_or("not stated");
  if (options.readings) {
    const auto readings = text_of(*options.readings, options, world);
    if (!readings) return io_error;
    e.what = "readings";
    e.lines = lines_of(*readings);
  } else if (options.released_by) {
    e.what = "released";
    e.lines = {"released by: " + *options.released_by};
  } else if (options.note) {
    e.what = "note";
    e.lines = lines_of(*options.note);
  } else {
    return wrong_use(world, "record add wants --readings, --released-by or --note");
  }
  const std::size_t number = record.entries.size() + 1;
  const std::string entry = report::entry_text(number, std::move(e), record.seal());
  const std::string whole = *text + (text->ends_with('\n') ? "" : "\n") + entry;
  if (const auto why = write_file(path, whole)) {
    world.err << "error: " << path << " cannot be written: " << *why << "\n";
    return io_error;
  }
  const std::string seal = report::read_record(whole, path).seal();
  world.out << "entry " << number << ", seal " << seal << "\n";
  return ok;
}

int show(const RecordOptions& options, World& world, bool every_entry) {
  const auto text = text_of(options.files[1], options, world);
  if (!text) return io_error;
  auto record = report::read_record(*text, options.files[1], options.seal);
  answer(
      world, *options.format,
      [&] {
        if (every_entry) return report::record_page(record);
        page::Page page = report::record_page(record);
        page.blocks.erase(page.blocks.begin() + 1, page.blocks.end());
        if (!record.entries.empty())
          page.blocks.emplace_back(page::Paragraph{"Seal: " + record.seal()});
        return page;
      },
      [&] { return report::record_json(record); });
  return record.broken ? check_fails : ok;
}

}  // namespace

FieldList record_options() { return fields<RecordOptions>; }

int run_record(const Node& typed, World& world) {
  const auto options = options_from<RecordOptions>(typed, world);
  if (!options) return usage;
  if (options->files.size() != 2)
    return wrong_use(world, "record wants two words: new DESIGN, add, verify or show RECORD");
  const std::string& verb = options->files[0];
  if (verb == "new") return make_new(*options, world);
  if (verb == "add") return add(*options, world);
  if (verb == "verify") return show(*options, world, false);
  if (verb == "show") return show(*options, world, true);
  world.err << "error: record cannot \"" << verb << "\"\n";
  const std::string hint = did_you_mean(verb, {"new", "add", "verify", "show"});
  if (!hint.empty()) world.err << "  = help: " << hint << "\n";
  return usage;
}

}  // namespace housepower::cli

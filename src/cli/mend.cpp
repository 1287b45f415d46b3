// SPDX-License-Identifier: Apache-2.0
// mend: the least change of the wiring that cures what such a change can cure.
#include "housepower/report/mend.hpp"

#include <algorithm>
#include <filesystem>
#include <map>
#include <utility>

#include "given.hpp"
#include "pack_file.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

struct MendOptions {
  std::string file;
  std::optional<std::string> output, catalogue;
  std::optional<choice::LeastChange> least;
  std::optional<bool> fewest_sizes;
  std::vector<std::string> set;
  std::optional<Format> format;
  std::optional<std::string> tables;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<choice::LeastChange> = std::array{"copper"sv, "changes"sv, "price"sv};
template <>
inline constexpr auto fields<cli::MendOptions> = std::array{
    field<&cli::MendOptions::file>(
        "file", "The design file, or a folder of them; - reads one from standard input.",
        "van.toml"),
    field<&cli::MendOptions::output>(
        "output",
        "Writes the changes as an option pack, a file that extends the design; - writes it to "
        "standard output, instead of the answer. Of a folder: the folder for one pack a design.",
        "mended.toml"),
    field<&cli::MendOptions::catalogue>(
        "catalogue",
        "A file of parts that says what is in stock, instead of the one that the design names.",
        "parts.toml"),
    field<&cli::MendOptions::least>("least", "What to keep lowest: the copper added, the number of "
                                             "changes, or the price of cable and devices.")
        .or_else("copper"),
    field<&cli::MendOptions::fewest_sizes>(
        "fewest_sizes",
        "Keeps all designs together to as few sizes of conductor as fix the same findings.")
        .optional(),
    field<&cli::MendOptions::set>("set", "Overrides one key, any number of times.",
                                  "run/fridge/length=5 m"),
    field<&cli::MendOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text"),
    field<&cli::MendOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {

namespace {

namespace fs = std::filesystem;

/// The designs of a file or folder; a catalogue or a pack that stands on no design of its own is
/// passed over in a folder.
struct Designs {
  std::vector<DesignOptions> files;
  std::deque<Opening> openings;  // what looks at one stays where it is
  std::vector<answers::ToMend> to_mend;
};

std::optional<std::vector<std::string>> files_in(const World& world, const std::string& name,
                                                 Diagnostics& diagnostics) {
  if (world.files.found(name) != Found::folder) return std::vector{name};
  return toml_files_in(world, name, diagnostics);
}

std::optional<Designs> designs_of(const MendOptions& options, World& world,
                                  Diagnostics& diagnostics) {
  Designs designs;
  std::shared_ptr<const tables::Tables> tables;
  const auto files = files_in(world, options.file, diagnostics);
  if (!files) return std::nullopt;
  for (const auto& file : *files) {
    DesignOptions one = design_named_by(options);
    const bool asked_for = file == options.file;
    one.file = file;
    auto design = read_of(one, world.read, diagnostics);
    if (!design) return std::nullopt;
    if (!asked_for && !design->node.find("vehicle")) continue;
    if (!tables) {  // one design needs a part of them only
      auto needed =
          tables_for(world, options.tables,
                     asked_for ? design::needed_by(design->node) : tables::Needed{}, diagnostics);
      if (!needed) return std::nullopt;
      tables = std::make_shared<const tables::Tables>(std::move(*needed));
    }
    auto opening = open_on(tables, std::move(*design), one, world.read, diagnostics);
    if (!opening) return std::nullopt;
    const Opening& kept = designs.openings.emplace_back(*std::move(opening));
    designs.to_mend.push_back({given(kept, file), {}});
    designs.to_mend.back().parts = parts_for(options.catalogue, file, kept, world, diagnostics);
    if (diagnostics.any_error()) return std::nullopt;
    designs.files.push_back(std::move(one));
  }
  if (output_is_read(world, diagnostics)) return std::nullopt;
  if (designs.openings.empty())
    diagnostics.error({options.file}, std::string(unreadable), "there is no design in the folder");
  return diagnostics.any_error() ? std::nullopt : std::optional(std::move(designs));
}

int write_mended(const std::string& output, const DesignOptions& file, const Opening& opening,
                 const report::MendReport& r, World& world) {
  std::vector<std::string> about{"Changes that `mend` made to " + opening.document->vehicle.name +
                                 ". " + report::mend_in_words(r)};
  for (const auto& change : r.mended.changes)
    about.push_back(change.path + ": " + (change.from.empty() ? "none" : change.from) + " → " +
                    change.to + (change.why.empty() ? "" : " (" + change.why + ")"));
  return write_pack(output, file, opening, r.mended.document, about, world);
}

/// "vans/two.toml" in the folder "packs" becomes "packs/two.mended.toml".
std::string pack_of(const std::string& folder, const std::string& file) {
  return (fs::path(folder) / (fs::path(file).stem().string() + ".mended.toml")).string();
}

/// A folder, in which each design's pack has a name of its own.
bool takes_packs(const std::string& folder, const Designs& designs, World& world) {
  if (world.files.found(folder) != Found::folder) {
    world.err << "error: --output: " << folder << " is not a folder\n"
              << "  = help: the packs of a folder of designs go into a folder that exists\n";
    return false;
  }
  std::map<std::string, std::string> written;
  for (const auto& design : designs.files) {
    const auto [other, is_new] = written.emplace(pack_of(folder, design.file), design.file);
    if (is_new) continue;
    world.err << "error: --output: " << other->second << " and " << design.file
              << " would both be written to " << other->first << "\n"
              << "  = help: mend the folders that they are in one by one\n";
    return false;
  }
  return true;
}

}  // namespace

FieldList mend_options() { return fields<MendOptions>; }

int run_mend(const Node& typed, World& world) {
  const auto options = options_from<MendOptions>(typed, world);
  if (!options) return usage;
  Diagnostics diagnostics;
  const auto designs = designs_of(*options, world, diagnostics);
  if (!designs) return refuse(world, *options->format, diagnostics);
  const bool many = world.files.found(options->file) == Found::folder;
  if (many && options->output && !takes_packs(*options->output, *designs, world)) return usage;
  const auto mended = answers::mend(
      designs->to_mend, {*options->least, options->fewest_sizes.value_or(false)}, diagnostics);
  if (!mended) return refuse(world, *options->format, diagnostics);
  warn(world, Format::text, diagnostics);
  const auto& reports = *mended;
  const bool fails = std::any_of(reports.begin(), reports.end(), [](const auto& r) {
    return r.mended.after.verdicts.worse() == checks::Verdict::fail;
  });
  const int code = fails ? check_fails : ok;
  if (options->output != "-")
    answer(
        world, *options->format,
        [&] { return many ? report::mend_range_page(reports) : report::mend_page(reports[0]); },
        [&] { return many ? report::mend_range_json(reports) : report::mend_json(reports[0]); });
  if (!options->output) return code;
  for (std::size_t i = 0; i < reports.size(); ++i) {
    if (reports[i].mended.changes.empty()) {
      world.notes << "no pack is written for " << designs->files[i].file
                  << ": there is nothing to change\n";
      continue;
    }
    const std::string output =
        many ? pack_of(*options->output, designs->files[i].file) : *options->output;
    const int written =
        write_mended(output, designs->files[i], designs->openings[i], reports[i], world);
    if (written != ok) return written;
  }
  return code;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// What several commands share.
#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include "asked.hpp"
#include "housepower/page/digest.hpp"
#include "housepower/page/html.hpp"
#include "housepower/tables/weather_file.hpp"

namespace housepower::cli {

std::string rendered(const page::Page& page, Format format, const page::Screen& screen) {
  return format == Format::html ? page::html(page, {page.title, {}, {}, false})
                                : page::text(page, screen);
}

namespace {

/// Files, and what was typed after an option under the option's name.
FileReader files_and_options(const World& world) {
  return [&world](std::string_view name) -> FileContent {
    const auto typed = world.typed.find(name);
    return typed == world.typed.end() ? world.read(name) : FileContent(typed->second);
  };
}

}  // namespace

void warn(World& world, Format format, Diagnostics& diagnostics) {
  if (format == Format::json || diagnostics.all.empty()) return;
  diagnostics.sort_by_place();
  world.err << render(diagnostics, files_and_options(world));
}

int refuse(World& world, Format format, Diagnostics& diagnostics) {
  diagnostics.sort_by_place();
  const bool unread =
      std::any_of(diagnostics.all.begin(), diagnostics.all.end(), [](const Diagnostic& d) {
        return d.severity == Severity::error && d.key == unreadable;
      });
  if (format == Format::json) world.out << report::diagnostics_json(diagnostics);
  else world.err << render(diagnostics, files_and_options(world));
  return unread ? io_error : input_wrong;
}

std::optional<tables::Tables> tables_for(World& world, const std::optional<std::string>& folder,
                                         const tables::Needed& needed, Diagnostics& diagnostics) {
  const auto embedded = tables::embedded_tables();
  if (!folder) return tables::read_tables(embedded, needed, diagnostics);
  std::vector<tables::NamedText> texts(embedded.begin(), embedded.end());
  std::deque<std::string> owned;
  std::vector<std::string> names;
  std::error_code error;
  for (std::filesystem::recursive_directory_iterator at(*folder, error), end; !error && at != end;
       at.increment(error))
    if (at->path().extension() == ".toml" && !at->is_directory(error))
      names.push_back(at->path().string());
  if (error) {
    diagnostics.error({*folder}, std::string(unreadable), "the folder of tables cannot be read",
                      error.message());
    return std::nullopt;
  }
  std::sort(names.begin(), names.end());
  for (const auto& name : names) {
    auto text = world.read(name);
    if (!text) {
      diagnostics.error({name}, std::string(unreadable), "the table cannot be read", text.why());
      return std::nullopt;
    }
    owned.push_back(std::move(*text));
    owned.push_back(name.substr(folder->size() + (folder->ends_with('/') ? 0 : 1)));
    texts.push_back({owned.back(), owned[owned.size() - 2]});
  }
  // A broken table is told today, not on the day when an answer first needs it.
  if (!tables::read_tables(texts, {}, diagnostics)) return std::nullopt;
  return tables::read_tables(texts, needed, diagnostics);
}

std::string file_naming(const Place& named, const std::string& design) {
  return named.line > 0 && !named.file.starts_with("--") ? named.file : design;
}

namespace {

/// Reads the weather file that a design names into the tables.
bool add_weather(const Node& design, const std::string& file, const FileReader& read,
                 std::shared_ptr<const tables::Tables>& tables, Diagnostics& diagnostics) {
  const Node* named = design.at("place/weather");
  const auto* name = named ? std::get_if<std::string>(&named->value) : nullptr;
  if (!name) return true;
  const bool typed = named->place.file == "--weather";
  const auto folder = typed ? std::filesystem::path()
                            : std::filesystem::path(file_naming(named->place, file)).parent_path();
  const std::string path = (folder / *name).string();
  const auto text = read(path);
  if (!text) {
    diagnostics.error(named->place, std::string(unreadable),
                      "the weather file \"" + path + "\" cannot be read",
                      (text.why().empty() ? "" : text.why() + "; ") +
                          (typed ? "it is looked for from the folder where you are"
                                 : "it is looked for beside the file that names it"));
    return false;
  }
  auto weather = tables::read_weather(path, *text, diagnostics);
  if (!weather) return false;
  const auto kept = std::make_shared<const tables::WeatherFile>(std::move(*weather));
  auto own = std::make_shared<tables::Tables>(*tables);
  own->towns.push_back(tables::town_of(*kept));
  own->towns.back().name = *name;
  own->weather.emplace_back(*name, kept);
  tables = std::move(own);
  return true;
}

}  // namespace

std::optional<ReadDesign> read_of(const DesignOptions& options, const FileReader& read,
                                  Diagnostics& diagnostics, ParsedFiles* bases) {
  auto own = read(options.file);
  if (!own) {
    diagnostics.error({options.file}, std::string(unreadable), "the file cannot be read",
                      own.why());
    return std::nullopt;
  }
  ReadDesign design{{}, options.set};
  const FileReader counted = [&](std::string_view path) {
    auto text = own ? std::exchange(own, std::nullopt) : read(path);  // it is asked for first
    if (text) design.texts.push_back(*text);
    return text;
  };
  auto node = design::read_design(options.file, counted, options.set, diagnostics, bases);
  if (!node) return std::nullopt;
  design.node = std::move(*node);
  for (const auto& asked : {options.town, options.weather, options.at})
    if (asked) design.texts.push_back(*asked);
  if (options.people) design.texts.push_back("people " + std::to_string(*options.people));
  for (const auto* list : {&options.add, &options.with, &options.without})
    for (const auto& asked : *list)
      design.texts.push_back((list == &options.without ? "without " : "with ") + asked);
  if (!ask(design.node, options, design.told, diagnostics)) return std::nullopt;
  return design;
}

std::optional<Opening> open_on(std::shared_ptr<const tables::Tables> tables, ReadDesign design,
                               const DesignOptions& options, const FileReader& read,
                               Diagnostics& diagnostics) {
  const FileReader counted = [&](std::string_view path) {
    auto text = read(path);
    if (text) design.texts.push_back(*text);
    return text;
  };
  if (!add_weather(design.node, options.file, counted, tables, diagnostics)) return std::nullopt;
  auto opened =
      design::open_design(std::move(design.node), *tables, Defaults::ordinary, diagnostics);
  if (!opened || diagnostics.any_error()) return std::nullopt;
  Opening opening{std::move(tables), {}, {}, {}, {}, {}};
  opening.document.emplace(std::move(opened->document));
  opening.design.emplace(std::move(opened->design));
  opening.node = std::move(opened->node);
  opening.digest = page::digest_of(design.texts);
  opening.told = std::move(design.told);
  ask_resolved(opening, options, diagnostics);
  if (options.needs_runs && !has_its_runs(opening, diagnostics)) {
    design::locate(diagnostics, opening.node);
    return std::nullopt;
  }
  return opening;
}

namespace {

/// Only `size` reads it, but no other answer may cost the design its catalogue either.
void keep_catalogue(const Node& design, const std::string& file, Files& files) {
  const Node* named = design.at("sizing/catalogue");
  const auto* name = named ? std::get_if<std::string>(&named->value) : nullptr;
  if (!name) return;
  const auto folder = std::filesystem::path(file_naming(named->place, file)).parent_path();
  files.keep((folder / *name).string());
}

}  // namespace

std::optional<Opening> open_unchecked(const DesignOptions& options, World& world,
                                      Diagnostics& diagnostics, bool every_town) {
  auto design = read_of(options, world.read, diagnostics);
  if (!design) return std::nullopt;
  keep_catalogue(design->node, options.file, world.files);
  auto needed = design::needed_by(design->node);
  if (every_town) needed.town = {}, needed.towns = true;
  auto tables = tables_for(world, options.tables, needed, diagnostics);
  if (!tables) return std::nullopt;
  return open_on(std::make_shared<const tables::Tables>(std::move(*tables)), std::move(*design),
                 options, world.read, diagnostics);
}

std::optional<Opening> open_checked(const DesignOptions& options, World& world,
                                    Diagnostics& diagnostics, checks::Workings workings) {
  auto opening = open_unchecked(options, world, diagnostics, false);
  if (!opening) return std::nullopt;
  opening->checked = checks::check(*opening->document, *opening->design, workings);
  checks::locate(opening->checked.findings, opening->node);
  auto& notes = opening->checked.energy.notes;
  notes.insert(notes.end(), opening->told.begin(), opening->told.end());
  return opening;
}

}  // namespace housepower::cli

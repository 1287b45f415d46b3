// SPDX-License-Identifier: Apache-2.0
// What several commands share.
#include <algorithm>
#include <utility>
#include <vector>

#include "commands.hpp"
#include "housepower/page/html.hpp"
#include "write_file.hpp"

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

std::vector<Field> joined(FieldList first, FieldList then) {
  std::vector<Field> all(first.begin(), first.end());
  all.insert(all.end(), then.begin(), then.end());
  return all;
}

Node only(const Node& typed, FieldList list) {
  Node own = typed;
  std::erase_if(std::get<Node::Table>(own.value), [&](const Node::Entry& e) {
    return std::none_of(list.begin(), list.end(), [&](const Field& f) { return f.key == e.key; });
  });
  return own;
}

void warn(World& world, Format format, Diagnostics& diagnostics) {
  if (format == Format::json || diagnostics.all.empty()) return;
  diagnostics.sort_by_place();
  world.notes << render(diagnostics, files_and_options(world));
  world.warned.all.insert(world.warned.all.end(), diagnostics.all.begin(), diagnostics.all.end());
}

int refuse(World& world, Format format, Diagnostics& diagnostics) {
  diagnostics.sort_by_place();
  const auto tells_of = [&](std::string_view key) {
    return std::any_of(diagnostics.all.begin(), diagnostics.all.end(), [&](const Diagnostic& d) {
      return d.severity == Severity::error && d.key == key;
    });
  };
  if (format == Format::json) world.out << report::diagnostics_json(diagnostics);
  else world.err << render(diagnostics, files_and_options(world));
  return tells_of(would_be_lost) ? usage : tells_of(unreadable) ? io_error : input_wrong;
}

std::optional<std::vector<std::string>> toml_files_in(const World& world, const std::string& folder,
                                                      Diagnostics& diagnostics) {
  auto content = world.files.toml_files_in(folder);
  if (content.why_not_whole.empty()) return std::move(content.names);
  diagnostics.error({folder}, std::string(unreadable), "the folder cannot be read whole",
                    content.why_not_whole);
  return std::nullopt;
}

std::optional<std::vector<answers::TableText>> texts_in(World& world, const std::string& folder,
                                                        Diagnostics& diagnostics) {
  const auto names = toml_files_in(world, folder, diagnostics);
  if (!names) return std::nullopt;
  std::vector<answers::TableText> texts;
  for (const auto& name : *names) {
    auto text = world.read(name);
    if (!text) {
      diagnostics.error({name}, std::string(unreadable), "the table cannot be read", text.why());
      return std::nullopt;
    }
    texts.push_back({name.substr(folder.size() + (folder.ends_with('/') ? 0 : 1)), *text});
  }
  return texts;
}

std::shared_ptr<answers::Shelf> shelf_for(World& world, const std::optional<std::string>& folder,
                                          Diagnostics& diagnostics) {
  if (!folder) return world.shelf ? world.shelf : std::make_shared<answers::Shelf>();
  auto texts = texts_in(world, *folder, diagnostics);
  return texts ? std::make_shared<answers::Shelf>(*std::move(texts)) : nullptr;
}

std::optional<tables::Tables> tables_for(World& world, const std::optional<std::string>& folder,
                                         const tables::Needed& needed, Diagnostics& diagnostics) {
  const auto shelf = shelf_for(world, folder, diagnostics);
  const auto tables = shelf ? shelf->tables(needed, diagnostics) : nullptr;
  return tables ? std::optional(*tables) : std::nullopt;
}

namespace {

/// Only `size` reads it, but no other answer may cost the design its catalogue either.
void keep_catalogue(const Node& design, const std::string& file, const Files& files) {
  if (const auto path = answers::catalogue_named(design, file)) files.keep(*path);
}

}  // namespace

std::optional<Opening> open_unchecked(const DesignOptions& options, World& world,
                                      Diagnostics& diagnostics, bool every_town) {
  const Question question = options;
  if (world.files.found(question.file) == Found::folder) {
    diagnostics.error({question.file}, std::string(unreadable), "is a folder, not a design",
                      "`housepower range " + question.file + "` checks every design in it");
    return std::nullopt;
  }
  auto design = read_of(question, world.read, diagnostics);
  if (!design) return std::nullopt;
  keep_catalogue(design->node, question.file, world.files);
  const auto shelf = shelf_for(world, options.tables, diagnostics);
  if (!shelf) return std::nullopt;
  auto opening = answers::open_read(*std::move(design), question, *shelf, world.read, diagnostics,
                                    every_town ? answers::Towns::every : answers::Towns::its_own);
  return output_is_read(world, diagnostics) ? std::nullopt : std::move(opening);
}

std::optional<Opening> open_checked(const DesignOptions& options, World& world,
                                    Diagnostics& diagnostics, checks::Workings workings) {
  auto opening = open_unchecked(options, world, diagnostics, false);
  if (opening) answers::check(*opening, workings);
  return opening;
}

}  // namespace housepower::cli

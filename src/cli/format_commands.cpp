// SPDX-License-Identifier: Apache-2.0
// schema: the design file's format from its own field list.
#include "commands.hpp"
#include "housepower/design/catalogue.hpp"
#include "housepower/reading/schema.hpp"
#include "verbs.hpp"

namespace housepower::cli {

enum class FileKind { design, pack, parts };

struct SchemaOptions {
  std::optional<FileKind> of;
  std::optional<bool> page;
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<cli::FileKind> = std::array{"design"sv, "pack"sv, "parts"sv};
template <>
inline constexpr auto fields<cli::SchemaOptions> = std::array{
    field<&cli::SchemaOptions::of>("of",
                                   "Of a design, of a pack that extends one, or of a parts list.")
        .or_else("design"),
    field<&cli::SchemaOptions::page>("page",
                                     "The reference page of the format, in Markdown, instead.")
        .optional(),
    field<&cli::SchemaOptions::format>("format",
                                       "Taken and ignored: the schema is JSON, a new file is TOML.")
        .or_else("text")};
}  // namespace housepower

namespace housepower::cli {

namespace {

std::string schema_of(FileKind kind) {
  switch (kind) {
  case FileKind::design: break;
  case FileKind::pack:
    return json_schema(design::document_fields(), "housepower option pack", SchemaOf::pack);
  case FileKind::parts: return json_schema(design::catalogue_fields(), "housepower parts list");
  }
  return json_schema(design::document_fields(), "housepower design file");
}

}  // namespace

FieldList schema_options() { return fields<SchemaOptions>; }

int run_schema(const Node& typed, World& world) {
  const auto options = options_from<SchemaOptions>(typed, world);
  if (!options) return usage;
  world.out << (options->page.value_or(false)
                    ? manual(design::document_fields(), "The design file, format 1")
                    : schema_of(*options->of));
  return ok;
}

}  // namespace housepower::cli

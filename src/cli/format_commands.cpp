// SPDX-License-Identifier: Apache-2.0
// schema, new: the design file's format from its own field list.
#include "commands.hpp"
#include "verbs.hpp"

namespace housepower::cli {

struct SchemaOptions {
  std::optional<bool> page;
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::SchemaOptions> =
    std::array{field<&cli::SchemaOptions::page>(
                   "page", "The reference page of the format, in Markdown, instead.")
                   .optional(),
               field<&cli::SchemaOptions::format>(
                   "format", "Taken and ignored: the schema is JSON, a new file is TOML.")
                   .or_else("text")};
}  // namespace housepower

namespace housepower::cli {

FieldList schema_options() { return fields<SchemaOptions>; }

int run_schema(const Node& typed, World& world) {
  const auto options = options_from<SchemaOptions>(typed, world);
  if (!options) return usage;
  world.out << (options->page.value_or(false)
                    ? manual(design::document_fields(), "The design file, format 1")
                    : json_schema(design::document_fields(), "housepower design file"));
  return ok;
}

int run_new(const Node& typed, World& world) {
  if (!options_from<SchemaOptions>(typed, world)) return usage;
  world.out << starter(design::document_fields());
  return ok;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// schema: the format of the files that are read, from their own field lists; and of the answers.
#include "commands.hpp"
#include "housepower/design/catalogue.hpp"
#include "housepower/reading/schema.hpp"
#include "housepower/report/answer_schema.hpp"
#include "housepower/units/phrases.hpp"
#include "verbs.hpp"

namespace housepower::cli {

enum class FileKind { design, pack, parts, answers };

struct SchemaOptions {
  std::optional<FileKind> of;
  std::optional<std::string> command;
  std::optional<bool> page;
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto words<cli::FileKind> =
    std::array{"design"sv, "pack"sv, "parts"sv, "answers"sv};
template <>
inline constexpr auto fields<cli::SchemaOptions> = std::array{
    field<&cli::SchemaOptions::of>("of",
                                   "Of a design, of a pack that extends one, of a parts list, or "
                                   "of what commands answer with --format json.")
        .or_else("design"),
    field<&cli::SchemaOptions::command>("command", "With --of answers: of this command alone.",
                                        "check"),
    field<&cli::SchemaOptions::page>("page",
                                     "The reference page of the format, in Markdown, instead.")
        .optional(),
    field<&cli::SchemaOptions::format>(
        "format", "Accepted but has no effect: the schema is JSON, a new file is TOML.")
        .or_else("text")};
}  // namespace housepower

namespace housepower::cli {

namespace {

std::string schema_of(FileKind kind) {
  switch (kind) {
  case FileKind::design:
  case FileKind::answers: break;
  case FileKind::pack:
    return json_schema(design::document_fields(), "housepower option pack", SchemaOf::pack);
  case FileKind::parts: return json_schema(design::catalogue_fields(), "housepower parts list");
  }
  return json_schema(design::document_fields(), "housepower design file");
}

int wrong_command(const std::string& error, const std::string& hint, World& world) {
  world.err << "error: --command: " << error << "\n";
  if (!hint.empty()) world.err << "  = help: " << hint << "\n";
  return usage;
}

int print_answers(const std::optional<std::string>& command, World& world) {
  if (const auto schema = report::answer_schema(command)) {
    world.out << *schema;
    return ok;
  }
  const auto known = report::commands_with_answers();
  const std::string hint = did_you_mean(*command, known);
  return wrong_command("no command \"" + *command + "\" answers in JSON",
                       hint.empty() ? "one of " + listed(known) : hint, world);
}

}  // namespace

FieldList schema_options() { return fields<SchemaOptions>; }

int run_schema(const Node& typed, World& world) {
  const auto options = options_from<SchemaOptions>(typed, world);
  if (!options) return usage;
  if (*options->of == FileKind::answers) return print_answers(options->command, world);
  if (options->command) return wrong_command("goes with --of answers", "", world);
  world.out << (options->page.value_or(false)
                    ? manual(design::document_fields(), "The design file, format 1")
                    : schema_of(*options->of));
  return ok;
}

}  // namespace housepower::cli

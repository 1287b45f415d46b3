// SPDX-License-Identifier: Apache-2.0
// replace: a battery, fuse or charger of a van as built by another, as one page for the workshop.
#include "housepower/report/replace.hpp"

#include "given.hpp"
#include "pack_file.hpp"
#include "verbs.hpp"

namespace housepower::cli {

struct ReplaceOptions {
  std::string file;
  std::vector<std::string> set;
  std::optional<std::string> catalogue, tables;
  std::optional<Format> format;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::ReplaceOptions> = std::array{
    field<&cli::ReplaceOptions::file>("file", "The design of the van as built.", "van.toml"),
    field<&cli::ReplaceOptions::set>(
        "set", "What is replaced: a key and its new value, any number of times.",
        "bank/capacity=200 Ah"),
    field<&cli::ReplaceOptions::catalogue>(
        "catalogue",
        "A file of parts that says what is in stock, instead of the one that the design names.",
        "parts.toml"),
    field<&cli::ReplaceOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text"),
    field<&cli::ReplaceOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

answers::ReplaceSide side_of(const Opening& opening, const ReplaceOptions& options, World& world,
                             Diagnostics& diagnostics) {
  return {{given(opening, options.file), opening.checked},
          parts_for(options.catalogue, options.file, opening, world, diagnostics)};
}

}  // namespace

FieldList replace_options() { return fields<ReplaceOptions>; }

int run_replace(const Node& typed, World& world) {
  const auto options = options_from<ReplaceOptions>(typed, world);
  if (!options) return usage;
  if (options->set.empty()) {
    world.err << "error: replace wants to know what is replaced\n"
              << "  = help: --set 'bank/capacity=200 Ah', once for each key that differs\n";
    return usage;
  }
  DesignOptions as_built = design_named_by(*options), replaced = as_built;
  as_built.set.clear();
  Diagnostics diagnostics;
  const auto before = open_checked(as_built, world, diagnostics);
  if (!before) return refuse(world, *options->format, diagnostics);
  const auto after = open_checked(replaced, world, diagnostics);
  if (!after) return refuse(world, *options->format, diagnostics);
  const auto old_side = side_of(*before, *options, world, diagnostics),
             new_side = side_of(*after, *options, world, diagnostics);
  const auto r =
      diagnostics.any_error() ? std::nullopt : answers::replace(old_side, new_side, diagnostics);
  if (!r) return refuse(world, *options->format, diagnostics);
  answer(
      world, *options->format, [&] { return report::replace_page(*r); },
      [&] { return report::replace_json(*r); });
  return r->after.checked.verdicts.worse() == checks::Verdict::fail ? check_fails : ok;
}

}  // namespace housepower::cli

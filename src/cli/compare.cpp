// SPDX-License-Identifier: Apache-2.0
// compare: two designs, or one with and without a change.
#include "housepower/report/compare.hpp"
#include "given.hpp"
#include "verbs.hpp"

namespace housepower::cli {

struct CompareOptions {
  std::vector<std::string> files, set;
  std::optional<Format> format;
  std::optional<std::string> tables;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::CompareOptions> = std::array{
    field<&cli::CompareOptions::files>("files", "The design before, and the one after.",
                                       "van.toml van-winter.toml")
        .needed(),
    field<&cli::CompareOptions::set>("set", "Overrides one key of the second, any number of times.",
                                     "run/fridge/length=5 m"),
    field<&cli::CompareOptions::format>("format", "Format of the answer: text, json or html.")
        .or_else("text"),
    field<&cli::CompareOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {
namespace {

/// Overrides change the second.
DesignOptions side_of(const CompareOptions& options, std::size_t number) {
  DesignOptions side;
  side.file = options.files[number];
  side.tables = options.tables;
  if (number == 1) side.set = options.set;
  return side;
}

}  // namespace

FieldList compare_options() { return fields<CompareOptions>; }

int run_compare(const Node& typed, World& world) {
  const auto options = options_from<CompareOptions>(typed, world);
  if (!options) return usage;
  if (options->files.size() != 2) {
    world.err << "error: compare wants two designs, got " << options->files.size() << "\n"
              << "  = help: the same file twice, with --set, shows what a change would do\n";
    return usage;
  }
  const DesignOptions before = side_of(*options, 0), after = side_of(*options, 1);
  Diagnostics diagnostics;
  const auto a = open_checked(before, world, diagnostics);
  if (!a && before.file == after.file) return refuse(world, *options->format, diagnostics);
  const auto b = open_checked(after, world, diagnostics);
  if (!a || !b) return refuse(world, *options->format, diagnostics);
  warn(world, Format::text, diagnostics);
  const auto r =
      answers::compare({given(*a, before.file), a->checked}, {given(*b, after.file), b->checked});
  answer(
      world, *options->format, [&] { return report::compare_page(r); },
      [&] { return report::compare_json(r); });
  return r.changes.newly_fails ? check_fails : ok;
}

}  // namespace housepower::cli

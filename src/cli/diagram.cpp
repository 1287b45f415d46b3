// SPDX-License-Identifier: Apache-2.0
// diagram: the single-line diagram of a design.
#include "housepower/diagram/diagram.hpp"
#include "asked.hpp"
#include "verbs.hpp"
#include "write_file.hpp"

namespace housepower::cli {

struct DiagramOptions {
  std::string file;
  std::optional<std::string> output, load_case, tables;
  std::vector<std::string> set;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::DiagramOptions> = std::array{
    field<&cli::DiagramOptions::file>("file", "The design file; - reads it from standard input.",
                                      "van.toml"),
    field<&cli::DiagramOptions::output>(
        "output", "The file to write, whole or not at all; left out, standard output.",
        "diagram.svg"),
    field<&cli::DiagramOptions::load_case>("case",
                                           "The case whose voltages and currents are shown. Left "
                                           "out: the one with the largest voltage drop.",
                                           "dinner"),
    field<&cli::DiagramOptions::set>("set", "Overrides one key, any number of times.",
                                     "run/fridge/length=5 m"),
    field<&cli::DiagramOptions::tables>(
        "tables", "A folder of tables that replace or add to the built-in ones.", "my-tables")};
}  // namespace housepower

namespace housepower::cli {

FieldList diagram_options() { return fields<DiagramOptions>; }

int run_diagram(const Node& typed, World& world) {
  const auto options = options_from<DiagramOptions>(typed, world);
  if (!options) return usage;
  Diagnostics diagnostics;
  const auto design_options = design_named_by(*options);
  const auto opening = open_checked(design_options, world, diagnostics);
  if (!opening) return refuse(world, Format::text, diagnostics);
  const auto& w = opening->checked.wiring;
  const wiring::CaseResult* in =
      options->load_case ? case_named(w, *options->load_case, world) : diagram::worst_drop_case(w);
  if (options->load_case && !in) return usage;
  const report::CheckedDesign checked{*opening->design, opening->checked, opening->digest};
  const std::string drawing = svg(diagram::diagram_of(checked, in), page::SvgFor::file);
  return write_out(options->output, drawing, world);
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// energy: what a design uses and gathers, and how long its bank lasts.
#include "housepower/report/energy.hpp"
#include "asked.hpp"
#include "threads.hpp"
#include "verbs.hpp"

namespace housepower::cli {
namespace {

/// What is asked beside the options of every design.
constexpr std::array asked_of_energy{
    field<&DesignOptions::people>("people",
                                  "How many people; left out, as many as the design says.", "4")
        .at_least(Ratio(1.0))
        .at_most(Ratio(double(answers::most_people))),
    field<&DesignOptions::add>("add", "Another appliance, any number of times.",
                               "Air fryer: 1400 W, 0.3 h, inverter")};

}  // namespace

FieldList energy_options() {
  static const std::vector<Field> all = joined(fields<DesignOptions>, asked_of_energy);
  return all;
}

int run_energy(const Node& typed, World& world) {
  auto options = options_from<DesignOptions>(typed, world, energy_options());
  if (!options || !at_one_place(*options, world)) return usage;
  options->needs_runs = false;
  Diagnostics diagnostics;
  const auto opening = open_checked(*options, world, diagnostics);
  if (!opening) return refuse(world, *options->format, diagnostics);
  warn(world, Format::text, diagnostics);
  Workers workers(nullptr);
  const auto energy = answers::energy_of(opening->checked_design(), workers.each());
  answer(
      world, *options->format, [&] { return report::energy_page(energy); },
      [&] { return report::energy_json(energy); });
  return ok;
}

}  // namespace housepower::cli

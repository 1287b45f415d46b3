// SPDX-License-Identifier: Apache-2.0
// check, energy, wiring: a design file in, an answer out.
#include "commands.hpp"
#include "verbs.hpp"

namespace housepower::cli {
namespace {

template <class MakePage, class MakeJson>
int answer_design(const Node& typed, World& world, MakePage page, MakeJson json, bool judges) {
  const auto options = options_from<DesignOptions>(typed, world);
  if (!options) return usage;
  Diagnostics diagnostics;
  const auto opening = open_checked(*options, world, diagnostics);
  if (!opening) return refuse(world, *options->format, diagnostics);
  const report::CheckedDesign checked{*opening->design, opening->checked, opening->digest};
  const report::Detail detail{options->passes.value_or(false), options->working.value_or(false)};
  answer(
      world, *options->format, [&] { return page(checked, detail); },
      [&] { return json(checked); });
  return judges && opening->checked.verdict == checks::Verdict::fail ? check_fails : ok;
}

}  // namespace

FieldList design_options() { return fields<DesignOptions>; }

int run_check(const Node& typed, World& world) {
  return answer_design(typed, world, report::check_page, report::check_json, true);
}
int run_energy(const Node& typed, World& world) {
  return answer_design(
      typed, world,
      [](const report::CheckedDesign& c, const report::Detail&) {
        return report::energy_page(c.design, c.checked.energy);
      },
      report::energy_json, false);
}
int run_wiring(const Node& typed, World& world) {
  return answer_design(
      typed, world,
      [](const report::CheckedDesign& c, const report::Detail&) {
        return report::wiring_page(c.design, c.checked.wiring);
      },
      report::wiring_json, false);
}

}  // namespace housepower::cli

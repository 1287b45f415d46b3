// SPDX-License-Identifier: Apache-2.0
// check, energy, wiring: a design file in, an answer out.
#include "commands.hpp"
#include "threads.hpp"
#include "verbs.hpp"

namespace housepower::cli {
namespace {

/// Opens and checks a design, and answers by `page` and `json` of (checked, opening, detail).
template <class MakePage, class MakeJson>
int answer_design(const Node& typed, World& world, MakePage page, MakeJson json, bool judges) {
  const auto options = options_from<DesignOptions>(typed, world);
  if (!options) return usage;
  Diagnostics diagnostics;
  const bool shows_workings = options->format == Format::json || options->working.value_or(false);
  const auto opening =
      open_checked(*options, world, diagnostics,
                   shows_workings ? checks::Workings::kept : checks::Workings::left_out);
  if (!opening) return refuse(world, *options->format, diagnostics);
  const report::CheckedDesign checked{*opening->design, opening->checked, opening->digest};
  const report::Detail detail{options->passes.value_or(false), options->working.value_or(false)};
  answer(
      world, *options->format, [&] { return page(checked, *opening, detail); },
      [&] { return json(checked, *opening); });
  return judges && opening->checked.verdict == checks::Verdict::fail ? check_fails : ok;
}

/// Headroom and changes are of the design with what was chosen for it.
report::Sized sized(const Opening& opening) {
  report::Sized s{sizing::choose(*opening.document, *opening.tables), {}, {}};
  s.headroom = sizing::headroom(s.chosen.document, *opening.tables);
  s.what_if = sizing::what_if(s.chosen.document, *opening.tables);
  return s;
}

/// Each month over thirty years.
std::vector<energy::MonthOverYears> over_years(const design::Design& design) {
  const auto weather = energy::weather_of(design, 30, energy::usual_seed);
  if (!weather || !design->bank) return {};
  const energy::Surroundings surroundings(design, *weather);
  Workers workers(nullptr);
  return energy::months_over_years(design, surroundings, workers.each());
}

}  // namespace

FieldList design_options() { return fields<DesignOptions>; }

int run_check(const Node& typed, World& world) {
  return answer_design(
      typed, world,
      [](const report::CheckedDesign& c, const Opening&, const report::Detail& detail) {
        return report::check_page(c, detail);
      },
      [](const report::CheckedDesign& c, const Opening&) { return report::check_json(c); }, true);
}
int run_energy(const Node& typed, World& world) {
  return answer_design(
      typed, world,
      [](const report::CheckedDesign& c, const Opening&, const report::Detail&) {
        return report::energy_page(c, over_years(c.design));
      },
      [](const report::CheckedDesign& c, const Opening&) {
        return report::energy_json(c, over_years(c.design));
      },
      false);
}
int run_wiring(const Node& typed, World& world) {
  return answer_design(
      typed, world,
      [](const report::CheckedDesign& c, const Opening& opening, const report::Detail&) {
        return report::wiring_page(c, sized(opening));
      },
      [](const report::CheckedDesign& c, const Opening& opening) {
        return report::wiring_json(c, sized(opening));
      },
      false);
}

}  // namespace housepower::cli

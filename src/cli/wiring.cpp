// SPDX-License-Identifier: Apache-2.0
// wiring: each run with its currents and its drop, and what is chosen for what a design leaves open.
#include <algorithm>

#include "asked.hpp"
#include "given.hpp"
#include "housepower/reading/shown.hpp"
#include "housepower/report/wiring.hpp"
#include "pack_file.hpp"
#include "verbs.hpp"

namespace housepower::cli {

/// What `wiring` takes beside the options of a design.
struct WiringOptions {
  std::optional<std::string> output, load_case;
  std::optional<bool> full, quick;
};

}  // namespace housepower::cli

namespace housepower {
template <>
inline constexpr auto fields<cli::WiringOptions> = std::array{
    field<&cli::WiringOptions::output>(
        "output",
        "Writes the conductors and devices that were chosen as an option pack, a file that extends "
        "the design; - writes it to standard output, instead of the answer.",
        "wired.toml"),
    field<&cli::WiringOptions::load_case>(
        "case",
        "The case whose currents and drops are shown. Left out: the one with the heaviest load.",
        "dinner"),
    field<&cli::WiringOptions::full>(
        "full", "Devices with their faults, batteries, charging, headroom, too.")
        .optional(),
    field<&cli::WiringOptions::quick>(
        "quick",
        "Faster: without headroom, and without what a larger bank or inverter would break.")
        .optional()};
}  // namespace housepower

namespace housepower::cli {
namespace {

using answers::WiringReport;

const char* what_was_open(const choice::Choice& choice) {
  return choice.was_open ? "conductor" : "device";
}

void tell_what_stays_open(const choice::Chosen& chosen, World& world) {
  for (const auto& choice : chosen.choices)
    if (!choice.why_none.empty())
      world.notes << "note: no " << what_was_open(choice) << " for run \"" << shown(choice.run)
                  << "\": " << shown(choice.why_none) << "\n";
}

std::vector<std::string> about_pack(const choice::Chosen& chosen, const Opening& opening) {
  std::vector<std::string> about{"Conductors and devices that `wiring` chose for what is open in " +
                                 opening.document->vehicle.name + "."};
  for (const auto& choice : chosen.choices)
    if (!choice.why_none.empty())
      about.push_back("None for run \"" + choice.run + "\": " + choice.why_none);
  return about;
}

/// The design with what was chosen for the runs that it leaves open.
int write_wired(const std::string& output, const DesignOptions& options, const Opening& opening,
                const choice::Chosen& chosen, World& world) {
  tell_what_stays_open(chosen, world);
  if (std::all_of(chosen.choices.begin(), chosen.choices.end(),
                  [](const choice::Choice& c) { return !c.why_none.empty(); })) {
    world.err << "error: --output: "
              << (chosen.choices.empty()
                      ? "the design leaves nothing open: every run has its conductor, every end "
                        "that needs one its device"
                      : "nothing was found for what is open")
              << "; no pack is written\n";
    return check_fails;
  }
  const int written =
      write_pack(output, options, opening, chosen.document, about_pack(chosen, opening), world);
  return written == ok && !chosen.found_all ? check_fails : written;
}

}  // namespace

FieldList wiring_options() {
  static const std::vector<Field> all = joined(fields<DesignOptions>, fields<WiringOptions>);
  return all;
}

int run_wiring(const Node& typed, World& world) {
  const auto options = options_from<DesignOptions>(only(typed, fields<DesignOptions>), world);
  const auto own = options_from<WiringOptions>(only(typed, fields<WiringOptions>), world);
  if (!options || !own || !at_one_place(*options, world)) return usage;
  Diagnostics diagnostics;
  const auto opening = open_checked(*options, world, diagnostics);
  if (!opening) return refuse(world, *options->format, diagnostics);
  const auto& network = opening->checked.wiring;
  const wiring::CaseResult* in = own->load_case ? case_named(network, *own->load_case, world)
                                                : answers::heaviest_case(network);
  if (own->load_case && !in) return usage;
  const bool full = own->full.value_or(false) || options->format != Format::text;
  const bool answers_too = own->output != "-", quick = own->quick.value_or(false);
  const auto wiring = answers::wiring_of(given(*opening, options->file), opening->checked,
                                         {full && answers_too && !quick}, world.read, diagnostics);
  if (!wiring) return refuse(world, *options->format, diagnostics);
  warn(world, Format::text, diagnostics);
  if (answers_too)
    answer(
        world, *options->format, [&] { return report::wiring_page(*wiring, in, full); },
        [&] { return report::wiring_json(*wiring, quick); });
  return own->output ? write_wired(*own->output, *options, *opening, wiring->chosen, world) : ok;
}

}  // namespace housepower::cli

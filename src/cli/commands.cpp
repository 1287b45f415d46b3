// SPDX-License-Identifier: Apache-2.0
#include "verbs.hpp"

namespace housepower::cli {

std::span<const Command> commands() {
  static constexpr std::array all{
      Command{"check", "Checks a design: what fails and its cure, energy, wiring.", "FILE",
              "housepower check van.toml --set 'run/fridge/length=5 m'", design_options, run_check},
      Command{"energy", "What a design uses and gathers a day, and how long its bank lasts.",
              "FILE", "housepower energy van.toml", design_options, run_energy},
      Command{"wiring", "Currents, voltages, drops and faults of a design.", "FILE",
              "housepower wiring van.toml --format json", design_options, run_wiring},
      Command{"stay", "How long they can stay, there, in that month, with the weather.", "FILE",
              "housepower stay van.toml --place hobart --month july --with \"Air conditioner\"",
              stay_options, run_stay},
      Command{"test-sheet", "What a meter should read at each point of the finished van.", "FILE",
              "housepower test-sheet van.toml --case dinner --resting-voltage \"13.2 V\"",
              test_sheet_options, run_test_sheet},
      Command{"cable", "One run without a file: drop, ampacity, smallest size, fuse.", "",
              "housepower cable --current \"20 A\" --length \"4 m\" --fuse \"iso-8820-3-c 25 A\"",
              cable_options, run_cable},
      Command{"explain", "What a rule of `check` asks, why, and how to cure it.", "[NAME]",
              "housepower explain drop", name_options, run_explain},
      Command{"formula", "The engine's formulas; with values, one worked out.", "[NAME]",
              "housepower formula voltage-drop --with \"L=4 m\" --with \"I=15 A\" --with \"r=7.98 "
              "mohm/m\"",
              name_options, run_formula},
      Command{"tables", "The tables in the program, each value with its source.", "[NAME]",
              "housepower tables iec-60228-5", name_options, run_tables},
      Command{"schema", "The JSON Schema of the design file, for editors; or its reference page.",
              "", "housepower schema", schema_options, run_schema},
      Command{"new", "A design file to start from.", "", "housepower new > van.toml",
              schema_options, run_new}};
  return all;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
#include "verbs.hpp"

namespace housepower::cli {

std::span<const Command> commands() {
  static constexpr std::array all{
      Command{"check", "Checks a design: what fails and its cure, energy, wiring.", "FILE",
              "housepower check van.toml --set 'run/fridge/length=5 m'", design_options, run_check},
      Command{"energy", "What a design uses and gathers a day, and how long its bank lasts.",
              "FILE", "housepower energy van.toml --people 4 --add \"Heater: 40 W, 6 h, dc\"",
              energy_options, run_energy},
      Command{"wiring", "Currents, voltages, drops and faults of a design.", "FILE",
              "housepower wiring van.toml -o wired.toml", wiring_options, run_wiring},
      Command{"mend", "The least change of cables and devices that cures what fails.", "FILE",
              "housepower mend van.toml -o mended.toml", mend_options, run_mend},
      Command{
          "stay", "How long they can stay, there, in that month, with the weather.", "FILE",
          "housepower stay van.toml --place hobart --month july --add \"Air fryer: 1400 W, 0.3 h, "
          "inverter\"",
          stay_options, run_stay},
      Command{"size", "The least pack that keeps the promise, from a catalogue of parts.", "FILE",
              "housepower size van.toml --catalogue parts.toml --stay \"7 d\" --least price",
              size_options, run_size},
      Command{"range", "Many designs in one table: every model with its option packs.",
              "FOLDER|FILE…", "housepower range models --where verdict=fail --sort=-mass_kg",
              range_options, run_range},
      Command{"compare", "What changed from one design to another, in it and in its results.",
              "A B", "housepower compare van.toml van.toml --set 'bank/quantity=2'",
              compare_options, run_compare},
      Command{"test-sheet", "What a meter should read at each point of the finished van.", "FILE",
              "housepower test-sheet van.toml --case dinner --resting-voltage \"13.2 V\"",
              test_sheet_options, run_test_sheet},
      Command{"record", "What stays with a van, entry by entry, and whether it is intact.",
              "new|add|verify|show FILE",
              "housepower record add T2-0417.record --note \"resealed\"", record_options,
              run_record},
      Command{"build-list", "What the line cuts, crimps and fits, for a van or a week's plan.",
              "FILE...", "housepower build-list two.toml four.toml --build \"Two=6,Four=4\"",
              build_list_options, run_build_list},
      Command{"report", "All of a design as one page to read and to print, as HTML.", "FILE",
              "housepower report van.toml -o van.html", report_options, run_report},
      Command{"schedule", "Cables, devices, labels, findings, sources: text, CSV, spreadsheet.",
              "FILE", "housepower schedule van.toml -o van.xlsx", schedule_options, run_schedule},
      Command{"diagram", "The single-line diagram of a design, as SVG.", "FILE",
              "housepower diagram van.toml -o van.svg", diagram_options, run_diagram},
      Command{"cable", "One run without a file: drop, ampacity, smallest size, fuse.", "",
              "housepower cable --current \"20 A\" --length \"4 m\" --fuse \"iso-8820-3-c 25 A\"",
              cable_options, run_cable},
      Command{"loads", "A load list (CSV) as appliances of a design file; a design's as CSV.",
              "FILE", "housepower loads loads.csv --column \"Leistung=power\" -o loads.toml",
              loads_options, run_loads},
      Command{"parts", "A parts list (CSV) as a catalogue of parts; a catalogue as CSV.", "FILE",
              "housepower parts parts.csv --is battery -o parts.toml", parts_options, run_parts},
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
      Command{"new", "A van that works, as a design file to start from.", "",
              "housepower new > van.toml", new_options, run_new},
      Command{"manual", "The manual page, for man.", "", "housepower manual | man -l -",
              manual_options, run_manual},
      Command{"completions", "What a shell completes: bash, zsh or fish.", "NAME",
              "housepower completions bash > ~/.local/share/bash-completion/completions/housepower",
              completions_options, run_completions}};
  return all;
}

}  // namespace housepower::cli

// SPDX-License-Identifier: Apache-2.0
// One cable: a fridge at the end of six metres of wire. How much voltage is lost, how much may it
// carry, is its fuse the right one? The design is a text in the program, not a file.
#include <iostream>

#include <housepower/housepower.hpp>

namespace hp = housepower;

constexpr auto van = R"(
schema = 1
[rules]
profile = "iec-en-leisure"
[vehicle]
name = "one cable"
system_voltage = "12 V"
[[feed]]
name = "panel"
voltage = { low = "12.8 V", high = "14.1 V" }
resistance = { low = "15 mohm", high = "20 mohm" }
[[appliance]]
name = "fridge"
current = "8 A"
drop_class = "other"
[[run]]
name = "cable"
from = "panel"
to = "fridge"
length = "6 m"
conductor = "2.5 mm2"
insulation = "90 °C"
laid = "clipped"
ambient = "40 °C"
circuits_together = 2
joints = 4
protection = [{ end = "from", type = "iso-8820-3-c", rating = "15 A", distance = "0.1 m" }]
)";

int main() {
  // Only one file is ever asked for: the text above, whatever it is called.
  const hp::FileReader read = [](std::string_view) { return hp::FileContent(std::string(van)); };
  hp::Diagnostics problems;
  const auto tables = hp::tables::read_tables(hp::tables::embedded_tables(), {}, problems);
  const auto opened =
      hp::design::open_design("cable.toml", read, {}, *tables, hp::Defaults::ordinary, problems);
  std::cerr << hp::render(problems, read);
  if (!opened || problems.any_error()) return 3;

  const auto checked = hp::checks::check(opened->document, opened->design);
  for (const auto& finding : checked.findings) {
    // Drop, ampacity and fuse; a cable alone answers no question about a bank.
    if (finding.verdict == hp::Verdict::not_checked || !finding.measured || !finding.limit)
      continue;
    std::cout << finding.rule << ": " << word_of(finding.verdict) << ", "
              << hp::print(*finding.measured) << ", " << word_of(finding.bound) << " "
              << hp::print(*finding.limit) << "\n";
    // How a figure came about, step by step, as with a pocket calculator.
    if (finding.rule == "drop")
      for (const auto& step : finding.working)
        std::cout << "  " << step.formula.symbol << " = " << hp::print(step.value) << "\n";
  }
}

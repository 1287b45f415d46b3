// SPDX-License-Identifier: Apache-2.0
// One cable: a fridge at the end of six metres of wire. How much voltage is lost, how much may it
// carry, is its fuse the right one? What is left out is assumed, and asked again at its worst.
#include <iostream>

#include <housepower/housepower.hpp>

namespace hp = housepower;

int main() {
  hp::Diagnostics problems;
  hp::answers::Shelf shelf;  // the built-in tables, parsed once for many questions
  const auto tables = shelf.tables({.towns = false}, problems);

  hp::answers::CableAsked asked;
  asked.current = 8.0 * hp::ampere;
  asked.length = 6.0 * hp::metre;
  asked.conductor = "2.5 mm2";  // left out, the smallest that suffices is taken
  asked.ambient = hp::celsius(40.0);
  asked.circuits_together = 2;
  asked.device = hp::answers::CableDevice{"iso-8820-3-c", 15.0 * hp::ampere};
  const auto cable = tables ? hp::answers::cable(asked, *tables, problems) : std::nullopt;
  for (const auto& problem : problems.all)
    std::cerr << problem.key << ": " << problem.message << "\n";
  if (!cable) return 3;

  const auto& run = cable->as_assumed.figures;
  std::cout << run.conductor.value_or("none") << ": " << hp::print(*run.drop) << " lost of "
            << hp::print(run.drop_limit) << " allowed, rated for " << hp::print(*run.ampacity)
            << ", at worst for " << hp::print(*cable->at_worst.figures.ampacity) << "\n"
            << "enough: " << run.smallest.value_or("none") << ", at worst "
            << cable->at_worst.figures.smallest.value_or("none") << "\n";
  for (const auto& finding : cable->findings) {
    std::cout << finding.rule << ": " << word_of(finding.verdict) << ", " << finding.message
              << "\n";
    // How a figure came about, step by step, as with a pocket calculator.
    if (finding.rule == "drop")
      for (const auto& step : finding.working)
        std::cout << "  " << step.formula.symbol << " = " << hp::print(step.value) << "\n";
  }
  return cable->verdicts().worse() == hp::Verdict::fail ? 1 : 0;
}

// SPDX-License-Identifier: Apache-2.0
#include "housepower/answers/checked_design.hpp"

namespace housepower::answers {

std::string verdicts_of(const checks::Checked& checked) {
  std::string line;
  for (const bool safety : {true, false}) {
    const checks::Verdict verdict = safety ? checked.verdicts.safety : checked.verdicts.service;
    std::size_t number = 0, unchecked = 0;
    for (const auto& f : checked.findings) {
      if (f.of_safety != safety) continue;
      number += f.verdict == verdict;
      unchecked += f.verdict == checks::Verdict::not_checked;
    }
    line += std::string(safety ? "safety " : ", service ") + std::string(word_of(verdict));
    if (verdict == checks::Verdict::pass) continue;
    line += " (" +
            (number > 0 ? std::to_string(number) : std::to_string(unchecked) + " not checked") +
            ")";
  }
  return line;
}

}  // namespace housepower::answers

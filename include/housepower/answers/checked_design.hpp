// SPDX-License-Identifier: Apache-2.0
// A design with everything that was judged of it.
#pragma once

#include <string>

#include "housepower/checks/rule.hpp"

namespace housepower::answers {

/// A checked design with what identifies its input.
struct CheckedDesign {
  const design::Design& design;
  const checks::Checked& checked;
  std::string inputs_digest;  // of every text that was read and every --set
};

/// "safety pass, service caution (3)".
[[nodiscard]] std::string verdicts_of(const checks::Checked&);

}  // namespace housepower::answers

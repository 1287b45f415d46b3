// SPDX-License-Identifier: Apache-2.0
// What the readings of a finished van say, and a test sheet to type them into.
#pragma once

#include <string>
#include <vector>

#include "housepower/checks/as_found.hpp"
#include "housepower/page/page.hpp"
#include "housepower/wiring/readings_file.hpp"

namespace housepower::report {

using namespace page;

struct DiagnosedVan {
  const design::Design& design;
  const wiring::ReadingsFile& file;
  const wiring::Diagnosis& diagnosis;
  const checks::AsFound& found;
  std::string inputs_digest;
};
[[nodiscard]] Page diagnosis_page(const DiagnosedVan&);
[[nodiscard]] std::string diagnosis_json(const DiagnosedVan&);

/// case, point, label, leads, expected, low, high, unit, read: a row a point, `read` to be filled in.
/// Drops in mV, with the digits that a meter shows; the bank's resting voltage first.
[[nodiscard]] std::string test_sheet_csv(const std::string& of_case, Voltage resting,
                                         const std::vector<wiring::ReadPoint>&);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// What was read in a finished van, as a file: TOML, or the CSV of a test sheet with its column `read`
// filled in. Points go by their labels ("W04+") or paths ("run/fridge/outgoing"). What cannot have been
// read is told at its line and column: a point, a unit or a case that is not, millivolts written as
// volts, a case that was not on, two values that contradict each other.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/fields.hpp"
#include "housepower/wiring/diagnosis.hpp"

namespace housepower::wiring {

/// What a person saw, or a dead test.
struct CheckedByHand {
  std::string what;
  std::optional<std::string> value, result, by;
  Place place;
};

struct ReadingsFile {
  std::optional<std::string> serial, design;  // of the van
  std::vector<MeasuredCase> cases;
  struct Told {
    std::optional<std::string> at, by;
    Place place;                // of the case
    std::vector<Place> values;  // of each value
  };
  std::vector<Told> told;  // one for each case
  std::vector<CheckedByHand> checked;
};

/// `loads`: what a file may name as its `case`; the first is that of a CSV sheet without the word.
[[nodiscard]] std::optional<ReadingsFile>
read_readings(std::string_view text, std::string_view file, const design::Design&,
              const Assessment&, const std::vector<TestLoad>& loads, Diagnostics&);
/// The field list of the file without its values, whose keys are points.
[[nodiscard]] FieldList readings_fields();

/// The point of a sheet's row where the resting voltage of the bank is written.
inline constexpr std::string_view resting_point = "bank/resting";

}  // namespace housepower::wiring

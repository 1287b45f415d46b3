// SPDX-License-Identifier: Apache-2.0
// What was read in a finished van, as a file: TOML, or the CSV of a test sheet with its column `read`
// filled in. Points go by their labels ("W04+") or paths ("run/fridge/outgoing"). What cannot have been
// read is told at its line and column: a point, a unit or a case that is not, a case that was not on,
// two values that cannot both be true, more volts lost than the bank has. What can be and looks like
// millivolts written as volts is warned of.
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
  std::optional<bool> holds{};  // nothing: a value that no limit is known for
  std::string limit{};          // that its value was compared with, with its source
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

/// The point of a sheet's row where the resting voltage of the bank is written.
inline constexpr std::string_view resting_point = "bank/resting";
/// What the points of a sheet's rows begin with that say what was seen or measured dead.
inline constexpr std::string_view checked_point = "checked/";
/// The unit of such a row whose `read` is a word, not a figure.
inline constexpr std::string_view yes_or_no = "yes or no";

}  // namespace housepower::wiring

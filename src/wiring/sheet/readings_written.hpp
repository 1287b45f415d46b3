// SPDX-License-Identifier: Apache-2.0
// A file of readings as it was written, before it is known what its points and values mean.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/wiring/readings_file.hpp"

namespace housepower::wiring::inside {

struct MeterOfFile {
  std::optional<Ratio> voltage, current;
  std::optional<Voltage> voltage_least;
  std::optional<Current> current_least;
};
struct CaseOfFile {
  std::string name;
  std::optional<std::string> at, by;
  std::optional<MeterOfFile> meter;
  std::optional<Voltage> resting;
  Place place;
};
struct Written {
  std::string point, value;
  Place point_at, value_at;
};
struct WrittenCase {
  CaseOfFile head;
  std::optional<Place> resting_at{};
  std::vector<Written> values{};
};

/// No bank of this program rests above this.
inline constexpr Voltage most_resting = Voltage::from_value(60.0);

/// With every printed minus as the one of a keyboard.
[[nodiscard]] std::string plain_minus(std::string text);

/// A value with its unit; a decimal comma and a printed minus count as point and minus. Nothing, and
/// told at that place, where it is none of that kind.
[[nodiscard]] std::optional<Number> quantity_of(std::string text, Kind, const std::string& point,
                                                const Place&, Diagnostics&);

/// What was written, as points and values of the design's sheet; every place where it cannot be so is
/// told. `out`: takes the cases; what it holds already stays.
void understand(const std::vector<WrittenCase>&, const design::Design&, const Assessment&,
                const std::vector<TestLoad>& loads, Diagnostics&, ReadingsFile& out);

}  // namespace housepower::wiring::inside

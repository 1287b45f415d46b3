// SPDX-License-Identifier: Apache-2.0
// What a meter should read at each point of a finished van under a stated test load, with the band
// that the tolerances of its parts allow: outside the band a part or a joint is not as designed.
//
// Expected: the network of the design, a new bank, conductors at the workshop's temperature and
// warmed by the test. Band: each part moves, within its tolerance, in the direction in which it
// raises or lowers that reading (the sign of the reading's derivative), all of them together; then
// the meter's own error. The signs are those at the expected point.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "housepower/wiring/assessment.hpp"

namespace housepower::wiring {

/// What runs for the test, and in which state the bank and the workshop are.
struct TestLoad {
  /// A load bench clipped on at a post: a current, whatever the voltage.
  struct Bench {
    design::resolved::PostId at;
    Current current{};
  };
  std::string name;        // as a file of readings calls it: "dinner", "20 A at panel"
  design::Subject what{};  // the design's case, where it is one
  std::vector<design::resolved::ApplianceId> running;
  std::optional<Bench> bench{};
  std::optional<Voltage> resting{};  // of the bank, as measured before; else by its charge
  Ratio charge = 0.8;
  Temperature workshop = celsius(20.0);
};

/// One reading of a meter. All but `posts` are drops and count along the current of the test.
struct Reading {
  enum class Kind { posts, along, device, joints } kind = Kind::posts;
  design::Subject name;  // the bank, a node, "run/fridge/outgoing"
  std::string probes;    // where the meter's leads go
  Voltage expected{}, low{}, high{};
};

/// By how much a kind of part may differ from what the design says.
struct Tolerance {
  std::string of, says;
  Source source;
  bool of_meter = false;  // not of the van
};

struct TestSheet {
  Current bank_current{};
  std::vector<Reading> readings;
  std::vector<design::resolved::RunId> without_current;  // runs that the test load leaves idle
};
/// No operating point, or nothing that feeds the load.
struct NoTestSheet {
  std::string why;
};
using TestAnswer = std::variant<TestSheet, NoTestSheet>;

/// `assessment` is of the same design: its ampacities tell how the conductors warm.
[[nodiscard]] TestAnswer test_sheet(const design::Design&, const Assessment&, const TestLoad&);
/// Between which voltages a bank that nobody measured may rest for a sheet's bands to hold: from three
/// tenths of its charge below what is stated to 15 % above it, at most 95 %, by the mean curve and the
/// spread of cells about it. Nothing: there is no bank.
struct RestingRange {
  Voltage low{}, expected{}, high{};
};
[[nodiscard]] std::optional<RestingRange> resting_range(const design::Design&, const TestLoad&);
/// The tolerances that every sheet counts with, in words.
[[nodiscard]] const std::vector<Tolerance>& test_tolerances();

}  // namespace housepower::wiring

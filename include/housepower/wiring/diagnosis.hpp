// SPDX-License-Identifier: Apache-2.0
// From what a meter read in a finished van back to the cause, and to what the readings cannot tell.
//
// The van may have other resistances and loads than its design, within the tolerances of its parts:
// these are the prior, the meter's error is the noise. Each hypothesis adds one fault to that: a joint
// with ohms too many, another conductor, device, battery or load, a reading that is wrong. It is
// fitted by Gauss-Newton steps on the network of the design, and weighed by its marginal likelihood
// (Laplace) against that of nothing being wrong: a freer hypothesis pays for its freedom. All the
// hypotheses together are given even odds beforehand, so that looking at many finds nothing by luck.
//
// The method is that of state estimation in power systems (weighted least squares, observability,
// bad data): A. Abur and A. Gómez-Expósito, Power System State Estimation, 2004, from memory.
// Tolerances: `test_tolerances`, each as a uniform spread between its limits. Ranges of faults: joints
// around 10 mΩ, two thirds between 3 and 33 mΩ; conductors within a factor of 1.6; devices and
// batteries of 2.7; loads of 2; from judgement.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "housepower/wiring/test_sheet.hpp"

namespace housepower::wiring {

/// A meter's limits of error (two standard deviations): a share of what it shows, and so much more
/// among volts, among drops, and of a clamp. What stands here is what every sheet is printed for and
/// every reading without a stated meter is judged by (from judgement, of meters as they are sold).
struct Meter {
  Ratio voltage = 0.005;
  Voltage volts_least = Voltage::from_value(0.01), drops_least = Voltage::from_value(5e-4);
  Ratio current = 0.02;
  Current current_least = Current::from_value(0.1);
};

/// What was read at one point of the sheet, by its path: "bank", "run/fridge/outgoing"; the current
/// of a clamp around a conductor: "run/fridge/outgoing/current", whichever way it was put on. A drop
/// counts along its current: less than nothing means leads the wrong way round, or a current that
/// flows backwards.
struct Measured {
  design::Subject path;
  Number value;  // a voltage or a current
};
/// What was switched on, and what was read then.
struct MeasuredCase {
  TestLoad load;
  Meter meter{};
  std::vector<Measured> values;
};

/// A point of the sheet with its places on the van.
struct Point {
  design::Subject path;  // "run/fridge/outgoing"
  std::string label;     // "W04+"
  std::string leads;     // where the meter's leads go
  Kind kind{};           // of its readings
};
/// Every point at which a design can be read, clamps besides.
[[nodiscard]] std::vector<Point> points_of(const design::Design&, const Assessment&);
/// The label of a point, as it stands on the van's sleeves and diagram.
[[nodiscard]] std::string label_of_point(const design::Design&, const design::Subject&);

/// A reading beside its band: of the sheet with this meter; of a clamp two standard deviations.
struct ReadPoint {
  std::size_t of_case = 0, number = 0;  // in the lists that were given
  Point point;
  Number measured, expected, low, high;
  bool in_band = true;
};

/// No operating point, a reading that is no point of its case.
struct NoDiagnosis {
  std::string why;
};
/// What a sound van shows at every point that carries a current under a load, clamps too; nothing is
/// measured yet.
[[nodiscard]] std::variant<std::vector<ReadPoint>, NoDiagnosis>
sheet_points(const design::Design&, const Assessment&, const TestLoad&, const Meter& = {});

/// Something that may be wrong, and how far.
struct Suspect {
  enum class Is { joint, conductor, device, item, battery, link, load, resting, reading, reversed };
  Is is = Is::joint;
  design::Subject element;         // "run/fridge/outgoing", "bank/battery/2", that of a reading
  Number value;                    // of a joint the ohms too many, else the whole
  std::optional<Number> expected;  // of the whole, as the design has it
  design::resolved::RunId run;     // index −1: of no run
  design::Pole pole = design::Pole::outgoing;
  std::optional<Current> most{};  // the largest current that it carries in the design's cases
};

struct Cause {
  using Is = Suspect::Is;
  Suspect it;
  std::string what;
  Number sigma;                          // of its value
  std::optional<Power> heat, heat_full;  // with the current of the test, with the largest there is
  Ratio odds = 0.0;  // against nothing being wrong; of two causes: against the other alone
  std::vector<design::Subject> cannot_be_told_from;  // by the derivatives: other elements
  /// All that it may be instead, at its own place or at another, so large that it shows the same.
  std::vector<Suspect> instead;
  std::optional<std::size_t> read;  // of a wrong reading: which, in `readings`
};

/// So large a joint or contact, in ohms too many, that these readings might not have shown it.
/// Nothing: any, no current was there.
struct CouldHide {
  design::Subject element;
  std::optional<Resistance> value;
};

/// What to read to part the causes that are left.
struct NextReading {
  Point point;
  std::string in_case;
  std::vector<design::Subject> parts;  // the elements that it parts
};

/// A pole that carries a current in what was switched on, and whose drop nobody read.
struct Unread {
  design::Subject element;  // "run/fridge/return"
  std::string in_case;      // the first in which it could have been read
};

struct Diagnosis {
  std::vector<ReadPoint> readings;
  std::vector<Cause> causes;  // likeliest first; none under odds of 20
  bool together = false;      // the causes are two that only together explain the readings
  /// Nothing that was looked for explains them, and yet they are not as the design says.
  bool unexplained = false;
  std::vector<CouldHide> could_hide;
  std::vector<Unread> unread;
  std::vector<design::resolved::RunId> idle;  // no current in anything that was switched on
  std::optional<NextReading> next{};
  /// Current of each battery in the case that draws most, as estimated.
  std::vector<Current> batteries;
};
using DiagnosisAnswer = std::variant<Diagnosis, NoDiagnosis>;

inline constexpr Ratio least_odds = 20.0;  // to be told

/// The limits by which a cause is told or not, in words, each with where it comes from.
[[nodiscard]] const std::vector<Tolerance>& diagnosis_limits();

[[nodiscard]] DiagnosisAnswer diagnose(const design::Design&, const Assessment&,
                                       const std::vector<MeasuredCase>&);

}  // namespace housepower::wiring

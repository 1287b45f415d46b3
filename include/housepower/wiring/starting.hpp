// SPDX-License-Identifier: Apache-2.0
// What a motor or glow plug does to the network while it starts: each appliance that states a
// `starting`, one at a time, beside the heaviest case. Also whether a device holds meanwhile.
#pragma once

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "housepower/wiring/assessment.hpp"

namespace housepower::wiring {

inline constexpr Formula multiple_of_rating{
    "m",
    "current over the rating of the device",
    "I / I_n",
    {{"I", "current"}, {"I_n", "rated current"}},
    Source{SourceKind::common_practice, "devices open by multiples of their rating", ""},
    [](Current i, Current rating) -> Ratio { return i / rating; }};

/// Between two points of a time-current curve both axes are logarithmic.
inline constexpr Formula time_between_gates{
    "t",
    "time at a multiple, between two points of the curve",
    "exp(ln(t_1) + ln(t_2 / t_1) · ln(m / m_1) / ln(m_2 / m_1))",
    {{"m", "multiple of the rating"},
     {"m_1", "multiple of the point before"},
     {"t_1", "time there"},
     {"m_2", "multiple of the point after"},
     {"t_2", "time there"}},
    Source{SourceKind::common_practice, "time-current curves", "straight on logarithmic paper"},
    [](Ratio m, Ratio m1, Duration t1, Ratio m2, Duration t2) -> Duration {
      return Duration::from_value(
          std::exp(std::log(t1.value()) + std::log(double(t2 / t1)) * std::log(double(m / m1)) /
                                              std::log(double(m2 / m1))));
    }};

/// Beyond the last point the let-through stays, not the time.
inline constexpr Formula time_beyond_gates{
    "t",
    "time at a multiple, beyond the last point of the curve",
    "t_l · (m_l / m)²",
    {{"t_l", "time at the last point"}, {"m_l", "multiple of the last point"}, {"m", "multiple"}},
    Source{SourceKind::common_practice, "time-current curves", "constant I²t beyond the last gate"},
    [](Duration last, Ratio at, Ratio m) -> Duration {
      return double(at / m) * double(at / m) * last;
    }};

/// A case for each appliance that states a `starting`, as if nothing charged, in the order of the
/// design: "dinner, Water pump starting".
[[nodiscard]] std::vector<CaseResult> starting_cases(const design::Design&, const Assessment&);

/// What is asked of an inverter in such a case, whatever it can give.
[[nodiscard]] Power asked_at_start(const design::Design&, const LoadCase&,
                                   design::resolved::InverterId, Working* = nullptr);

/// How long a device surely carries a current: the fastest edge of what was published or stated, a
/// tenth of the slow one where only that is (from memory). Nothing where no curve is known; no
/// limit up to its rating.
struct Holds {
  std::optional<Duration> time{};  // nothing: as long as you like
  Source source{};
};
[[nodiscard]] std::optional<Holds> holds_for(const design::resolved::Protection&, Current,
                                             Working* = nullptr);

}  // namespace housepower::wiring

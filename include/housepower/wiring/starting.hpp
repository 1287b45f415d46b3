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

/// A case for each appliance that states a `starting`, as if nothing charged, in the order of the
/// design: "dinner, Water pump starting".
[[nodiscard]] std::vector<CaseResult> starting_cases(const design::Design&, const Assessment&);

/// What is asked of an inverter in such a case, whatever it can give.
[[nodiscard]] Power asked_at_start(const design::Design&, const LoadCase&,
                                   design::resolved::InverterId, Working* = nullptr);

/// What runs on an inverter together in a case once nothing starts any more, whatever the inverter
/// can give: each power over its power factor, since a rating in watts is one in volt-amperes.
[[nodiscard]] Power asked_together(const design::Design&, const LoadCase&,
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

// SPDX-License-Identifier: Apache-2.0
// A range at a glance: a line a row. And what this and the whole tables tell alike.
#pragma once

#include "housepower/report/range.hpp"

namespace housepower::report {

using range::RangeRow;

/// No wider than a screen; a name that is too long keeps its beginning and its end.
[[nodiscard]] TableBlock glance_table(const RangeReport&);

/// What people are told: whole half days, rounded down.
[[nodiscard]] std::string told_days(const std::optional<Duration>& headline, bool or_more);
[[nodiscard]] inline bool parked_or_more(const RangeRow& row) {
  return row.parked_outlasts.value_or(false);
}
[[nodiscard]] inline bool stay_or_more(const RangeRow& row) { return row.outlasts.value_or(false); }
[[nodiscard]] inline bool autonomy_or_more(const RangeRow& row) {
  return row.autonomy_outlasts.value_or(false);
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// Findings and what they rest on as rows, for schedules and sheets made of them.
#pragma once

#include "json.hpp"

namespace housepower::report {

[[nodiscard]] const Columns<checks::Finding>& finding_columns();

/// A source of a limit, of a formula or of a value, and the rules that rest on it.
struct SourceRow {
  std::string kind, title, where, rules;
};
/// Each once, the weakest last; of the workings too where findings keep them.
[[nodiscard]] std::vector<SourceRow> source_rows(std::span<const checks::Finding>);
[[nodiscard]] const Columns<SourceRow>& source_columns();

}  // namespace housepower::report

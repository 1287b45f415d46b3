// SPDX-License-Identifier: Apache-2.0
// Findings and what they rest on as rows, for schedules and sheets made of them.
#pragma once

#include "json.hpp"

namespace housepower::report {

struct FindingRow {
  std::string verdict;
  std::string concern;  // of which verdict: "safety" or "service"
  std::string rule, subject, label, in_case;
  std::optional<double> measured, limit;
  std::string bound, unit;  // "at most"; of the two numbers
  std::optional<Ratio> margin;
  std::string message, cure, source, file;
  std::optional<int> line;
};
[[nodiscard]] std::vector<FindingRow> finding_rows(std::span<const checks::Finding>);
[[nodiscard]] const std::vector<Column>& finding_columns();

/// A source of a limit, of a formula or of a value, and the rules that rest on it.
struct SourceRow {
  std::string kind, title, where, rules;
};
/// Each once, the weakest last; of the workings too where findings keep them.
[[nodiscard]] std::vector<SourceRow> source_rows(std::span<const checks::Finding>);
[[nodiscard]] const std::vector<Column>& source_columns();

}  // namespace housepower::report

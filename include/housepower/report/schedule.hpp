// SPDX-License-Identifier: Apache-2.0
// Schedules of a checked design: cables, devices, labels, findings and sources, as text, CSV, JSON
// and sheets of a workbook, all from the same rows.
#pragma once

#include "housepower/page/workbook.hpp"
#include "housepower/report/build_list.hpp"

namespace housepower::report {

using namespace page;

enum class Schedule { cables, devices, labels, findings, sources };

/// One of them; nothing: cables and devices, and which others there are.
[[nodiscard]] Page schedule_page(const BuildModel&, std::optional<Schedule>);
/// Its tables alone.
[[nodiscard]] std::vector<Block> schedule_blocks(const BuildModel&, Schedule);
[[nodiscard]] std::string schedule_csv(const BuildModel&, Schedule);
/// One of them, or all.
[[nodiscard]] std::string schedule_json(const BuildModel&, std::optional<Schedule>);
[[nodiscard]] Workbook schedule_workbook(const BuildModel&);

}  // namespace housepower::report

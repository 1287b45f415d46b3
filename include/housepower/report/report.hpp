// SPDX-License-Identifier: Apache-2.0
// The report of one design: all that the other commands answer, in the order in which a reader asks.
// Three readers get three choices of the same parts; nothing is calculated here.
#pragma once

#include <optional>
#include <vector>

#include "housepower/checks/masses.hpp"
#include "housepower/report/build_list.hpp"
#include "housepower/report/stay.hpp"

namespace housepower::report {

using namespace page;

enum class Reader { engineer, electrician, showroom };

/// What a report is made of. Sheets are pages for the line, such as the test sheet, at its end.
struct ReportParts {
  BuildModel model;
  const StayReport* stays = nullptr;  // null: without a bank or a place
  checks::Masses masses{};
  std::vector<Page> sheets{};
};
[[nodiscard]] Page report_page(const ReportParts&, Reader);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// The report of one design: all that the other commands answer, in the order in which a reader asks.
// Three readers get three choices of the same parts; nothing is calculated here.
#pragma once

#include "housepower/answers/report_parts.hpp"
#include "housepower/report/build_list.hpp"
#include "housepower/report/stay.hpp"

namespace housepower::report {

using namespace page;

enum class Reader { engineer, electrician, showroom };

/// What a reader is told of.
[[nodiscard]] answers::ReportAsked asked_for(Reader);
/// Of what was asked for that reader; the electrician's ends with the sheets for the line.
[[nodiscard]] Page report_page(const answers::ReportParts&, Reader);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// Parts by their serials, as the record, its check and the handover page show them.
#pragma once

#include "answer_shapes.hpp"
#include "housepower/report/record.hpp"
#include "json.hpp"

namespace housepower::report {

[[nodiscard]] TableBlock parts_table(const std::vector<answers::Fitted::Part>&, std::string title);
[[nodiscard]] Json parts_list(const std::vector<answers::Fitted::Part>&);
[[nodiscard]] Json part_shape();

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// A spreadsheet file (Office Open XML) of several tables behind a first sheet of facts. It holds
// texts and numbers only: no formula, no link. The same workbook gives the same bytes.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "housepower/page/row_table.hpp"

namespace housepower::page {

struct Workbook {
  std::string title;  // stands in the header of each printed page
  std::vector<std::pair<std::string, std::string>> facts;
  std::vector<RowTable> sheets;  // their titles name the sheets, at most 31 characters
};

struct NoSpreadsheet {
  std::string why;
};
/// Its bytes. In native builds only. Nothing here but this writes to a disk: into temporary files.
[[nodiscard]] std::variant<std::string, NoSpreadsheet> spreadsheet(const Workbook&);

}  // namespace housepower::page

// SPDX-License-Identifier: Apache-2.0
// A page makes no spreadsheet and reads none; CSV goes both ways. It says so in place of the two
// sources that only native builds have.
#include "housepower/lists/workbook.hpp"
#include "housepower/page/workbook.hpp"

namespace housepower {

std::optional<Csv> read_workbook(std::string_view, std::string_view file,
                                 const std::optional<std::string>&, Diagnostics& diagnostics) {
  diagnostics.error({std::string(file)}, {}, "is a workbook, which a page does not read",
                    "save the sheet as CSV, or give it to the program in a terminal");
  return std::nullopt;
}

namespace page {

std::variant<std::string, NoSpreadsheet> spreadsheet(const Workbook&) {
  return NoSpreadsheet{"a page makes no spreadsheet; --format csv is the same as text"};
}

}  // namespace page
}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// Any bytes as a workbook: they are read or refused in words, the same each time, and no cell stands
// outside of what a spreadsheet has.
#include <cstdint>
#include <cstdlib>

#include "housepower/lists/workbook.hpp"

using namespace housepower;

namespace {
void require(bool good) {
  if (!good) std::abort();
}

std::optional<Csv> read(std::string_view bytes) {
  Diagnostics diagnostics;
  auto csv = read_workbook(bytes, "a.xlsx", {}, diagnostics);
  require(csv.has_value() != diagnostics.any_error());
  return csv;
}
}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes(reinterpret_cast<const char*>(data), size);
  const auto csv = read(bytes), again = read(bytes);
  require(csv.has_value() == again.has_value());
  if (!csv) return 0;
  require(csv->rows.size() == again->rows.size() && !csv->rows.empty());
  for (const Csv::Row& row : csv->rows) {
    require(row.size() == csv->rows.front().size());
    for (const Csv::Cell& cell : row) require(cell.line >= 1 && cell.column >= 1);
  }
  return 0;
}

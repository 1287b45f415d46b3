// SPDX-License-Identifier: Apache-2.0
// Results as CSV after RFC 4180: commas, CRLF, quotes doubled; the first line holds the keys of the
// columns. Numbers are full doubles with a decimal point in the unit that the key ends with. A text
// that a spreadsheet would take for a formula is led by an apostrophe; marks that turn the direction of
// writing become U+FFFD.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/page/page.hpp"

namespace housepower::page {

/// One line of texts, ended.
[[nodiscard]] std::string csv_line(std::span<const std::string> cells);
/// One row of results, ended; and the line of their keys.
[[nodiscard]] std::string csv_line(std::span<const Column>, const void* row);
[[nodiscard]] std::string csv_head(std::span<const Column>);

template <class Row> std::string csv(const Columns<Row>& columns, const std::vector<Row>& rows) {
  std::string text = csv_head(columns.erased());
  for (const Row& row : rows) text += csv_line(columns.erased(), &row);
  return text;
}

}  // namespace housepower::page

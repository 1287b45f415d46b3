// SPDX-License-Identifier: Apache-2.0
// One sheet of a spreadsheet file as rows of cells: Office Open XML (.xlsx, ISO/IEC 29500) and
// OpenDocument (.ods, ISO/IEC 26300). What stands in a cell is taken, not how it looks: a number with
// all its digits, a percentage as "62.5 %", the last result of a formula. In native builds only.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "housepower/reading/csv.hpp"

namespace housepower {

/// No part of a workbook is read that unpacks to more: 16 MB.
inline constexpr std::size_t largest_part = std::size_t(16) << 20U;

/// Whether these bytes are a workbook, or an old one that is told from text by its first bytes.
[[nodiscard]] bool is_workbook(std::string_view bytes);

/// The rows of the sheet of that name; without a name, of the only one that holds anything and is
/// not hidden. Line and column of a cell are its row and column. Nothing, and told, where the file is
/// damaged, protected or too large, names no sheet or several, or a cell holds an error.
[[nodiscard]] std::optional<Csv> read_workbook(std::string_view bytes, std::string_view file,
                                               const std::optional<std::string>& sheet,
                                               Diagnostics&);

}  // namespace housepower

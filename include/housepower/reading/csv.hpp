// SPDX-License-Identifier: Apache-2.0
// Rows of cells, each with its place: from CSV as spreadsheets write it (RFC 4180 and its kin), or from
// a workbook (lists/workbook.hpp); and cells back to CSV. What the cells mean is not known here.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/diagnostic.hpp"

namespace housepower {

struct Csv {
  struct Cell {
    std::string text;  // without its quotes; outside of quotes without blanks at its ends
    int line = 0, column = 0, width = 1;
    bool is_number = false;  // of a workbook: with a decimal point, whatever the sheet's text shows
  };
  using Row = std::vector<Cell>;
  std::string file;
  std::string sheet;  // of a workbook: which of its sheets; then line and column are row and column
  char delimiter = ',';
  std::vector<Row> rows;  // those that hold anything
  int blank_rows = 0;
  [[nodiscard]] Place place_of(const Cell&) const;
};

/// Reads UTF-8, with or without a byte-order mark; lines end in LF, CRLF or CR; a cell in double
/// quotes may hold delimiters, line breaks and doubled quotes. The delimiter is the one of comma,
/// semicolon and tab that parts every row alike; where that does not tell, it is asked for. Nothing
/// comes back where the text is over 64 MB or a million cells, is no UTF-8, or a quote is amiss.
[[nodiscard]] std::optional<Csv> parse_csv(std::string_view text, std::string_view file,
                                           std::optional<char> delimiter, Diagnostics&);

/// A cell of text as it stands in the file: in quotes where it needs them under any delimiter. What
/// a spreadsheet would run as a formula (= + - @ or tab at its beginning) gets an apostrophe before
/// it; `without_guard` takes it off again. What acts unseen is escaped (shown.hpp), but for tabs and
/// line breaks, which CSV holds in quotes.
[[nodiscard]] std::string csv_text(std::string_view text);
[[nodiscard]] std::string_view without_guard(std::string_view text);

/// "comma", "semicolon", "tab".
[[nodiscard]] std::string_view name_of_delimiter(char delimiter);

}  // namespace housepower

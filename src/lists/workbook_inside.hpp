// SPDX-License-Identifier: Apache-2.0
// What the readers of the two kinds of workbook share: parts of the archive, and rows on their way.
#pragma once

#include <functional>
#include <stdexcept>

#include "housepower/lists/workbook.hpp"

namespace housepower::workbook {

inline constexpr std::string_view begins_archive = "PK\x03\x04";
// Also of one with a password.
inline constexpr std::string_view begins_old_workbook = "\xD0\xCF\x11\xE0";

/// Why the file cannot be read: thrown inside of the reader only, told by `read_workbook`.
struct Unreadable : std::runtime_error {
  explicit Unreadable(const std::string& what, std::string help = {}, Csv::Cell at = {})
      : std::runtime_error(what), hint(std::move(help)), cell(std::move(at)) {}
  std::string hint;
  Csv::Cell cell;  // with a line: where
};

/// A part of the archive by its name; nothing where there is none.
using Part = std::function<std::optional<std::string>(const std::string& name)>;

/// The rows of one sheet, as they come: blank ones are counted, columns numbered from 1.
class Rows {
public:
  /// The cells of a row have their columns; they are given its number.
  void add(int number, Csv::Row cells, bool hidden);
  [[nodiscard]] bool empty() const { return rows_.empty(); }
  /// Of one length, without the columns in which nothing stands.
  [[nodiscard]] Csv made(std::string_view file, std::string_view sheet) const;
  /// The first row that is hidden, and how many are; 0: none.
  [[nodiscard]] std::pair<int, int> hidden() const { return {first_hidden_, hidden_}; }

private:
  std::vector<Csv::Row> rows_;
  std::size_t cells_ = 0;
  int last_ = 0, blank_ = 0, first_hidden_ = 0, hidden_ = 0;
};

struct Sheet {
  std::string name;
  bool hidden = false;
  std::function<Rows()> rows;
};

[[nodiscard]] std::vector<Sheet> sheets_of_office_open_xml(const Part&);
[[nodiscard]] std::vector<Sheet> sheets_of_open_document(const Part&);

/// A number as it stands in a file, with what spreadsheets keep of it: fifteen digits.
[[nodiscard]] Csv::Cell number_cell(double value, int column, std::string_view unit = {});
/// "1:30" of a share of a day.
[[nodiscard]] std::string clock_text(double days);

/// More columns than any spreadsheet has are a damaged file.
inline constexpr int most_columns = 16384, most_rows = 1'048'576;

}  // namespace housepower::workbook

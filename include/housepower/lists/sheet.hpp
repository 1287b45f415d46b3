// SPDX-License-Identifier: Apache-2.0
// A sheet of rows as tables of the input format: each column's head is matched with a key of a
// field list, each cell becomes the text that the key takes ("45 W"), at its own place. The field
// lists then read these tables as they read a file. Nothing is guessed: what is not understood is
// said, and which of two readings of a number was taken, too. And back: tables as a sheet.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/reading/csv.hpp"
#include "housepower/reading/fields.hpp"

namespace housepower {

/// What the trade writes above a column, in lower case without accents. The path leads to a key, or
/// into its table or list ("starting/current", "size/0"); `unit` is what the word says of the
/// numbers below it.
struct HeadWord {
  std::string_view head, path, unit{};
};
/// What the trade writes in a cell: under `is`, "solar panel" means "module".
struct CellWord {
  std::string_view path, written, meant;
};
/// The rows of one kind.
struct SheetKind {
  std::string_view word;  // in the column that tells the kind; empty: all rows are alike
  FieldList fields;
};

struct SheetRules {
  std::vector<SheetKind> kinds;
  std::string_view kind_key{};  // "is": the column that tells a row's kind; empty: one kind
  std::string_view list;        // "appliance": for the paths of messages
  std::span<const HeadWord> heads{};
  std::span<const CellWord> cells{};
  std::span<const std::string_view> amounts{};  // text keys that are a number and a currency
  std::span<const std::string_view> sizes{};    // text keys that are a conductor's size
  std::span<const std::string_view> given{};  // keys that a row need not have: they are made for it
  int members = 0;  // of a list of tables ("protection"), how many have columns of their own
  /// A cell under the first that ends in a quantity of the second states both: "class T 150 A".
  struct Both {
    std::string_view first, second;
  };
  std::span<const Both> both{};
};

enum class DecimalSign { point, comma };

/// What the user says of a sheet, beyond what it tells itself.
struct SheetOptions {
  std::vector<std::string> columns;  // "Leistung=power", "Leistung=power (W)"; "Farbe=": left out
  std::optional<DecimalSign> decimal;
};

struct SheetColumn {
  std::string head;
  Place place;
  std::vector<std::string> paths;  // by kind; empty where the kind has no such key
  std::vector<bool> by_key;        // by kind: the head is the key itself, no word of the trade
  std::string unit;                // of the numbers, from the head
  bool left_out = false;           // by hand
  [[nodiscard]] bool understood() const;
};
struct Sheet {
  std::vector<SheetColumn> columns;
  std::vector<Node> rows;              // a table each
  std::string delimiter;               // empty of a workbook
  std::string name;                    // of a workbook's sheet
  std::optional<DecimalSign> decimal;  // nothing: no number tells, none needs it
  std::string decimal_from;            // where that was seen: "line 3"; or "--decimal"
  int head_line = 0, blank_rows = 0;
};
/// The rows, and in the diagnostics what was not understood: an error where a value or row would be
/// lost, a warning for a column that is no key, and for each number that was read as having a
/// thousands separator.
[[nodiscard]] Sheet read_sheet(const Csv&, const SheetRules&, const SheetOptions&, Diagnostics&);

struct SheetStyle {
  char delimiter = ',';
  DecimalSign decimal = DecimalSign::point;
};
/// Tables that their field list has accepted, as CSV (RFC 4180): a column for each key that one of
/// them has, its unit in the head. Read again with the same rules it gives the same values; what no
/// column can hold is told.
[[nodiscard]] std::string write_sheet(const std::vector<Node>& rows, const SheetRules&, SheetStyle,
                                      Diagnostics&);

}  // namespace housepower

namespace housepower {
template <>
inline constexpr auto words<DecimalSign> =
    std::array{std::string_view("point"), std::string_view("comma")};
}  // namespace housepower

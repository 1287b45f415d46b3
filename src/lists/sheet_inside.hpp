// SPDX-License-Identifier: Apache-2.0
// What the files of the sheet reader share: words folded, units as people write them, numbers with
// either decimal sign, and where a path leads in a field list.
#pragma once

#include "housepower/lists/sheet.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::sheets {

/// Lower case, accents off, one blank between words: "Quantité_max" is "quantite max".
[[nodiscard]] std::string folded(std::string_view text);

/// The spelling that quantities take: "Watts" is "W", "h/day" is "h". Empty where it is no unit.
[[nodiscard]] std::string unit_of(std::string_view written);
/// "EUR" of "€" and "eur", letters as they are; empty where it is no currency.
[[nodiscard]] std::string currency_of(std::string_view written);

/// What stands at a path: the field, and the shape of the value there.
struct Leaf {
  const Field* field = nullptr;
  const Shape* shape = nullptr;
};
[[nodiscard]] std::optional<Leaf> leaf_at(FieldList, std::string_view path);
/// Every path of the list that leads to a value; of lists of tables, of so many members.
[[nodiscard]] std::vector<std::string> paths_of(FieldList, int members);
/// A path as a heading says it: "protection/0/rating" is "protection 1 rating".
[[nodiscard]] std::string spoken(std::string_view path);
[[nodiscard]] bool is_amount(const SheetRules&, std::string_view path);
[[nodiscard]] bool is_size(const SheetRules&, std::string_view path);
/// "mm2" of "mm²" and "qmm", "awg" of "AWG"; empty where sizes are not counted in it.
[[nodiscard]] std::string size_unit_of(std::string_view written);
/// The unit in which people write the numbers of that key: that of its example, hours of use.
[[nodiscard]] std::optional<Unit> usual_unit(const Leaf&);
/// Whether numbers stand there: then both decimal signs are possible.
[[nodiscard]] bool holds_numbers(const SheetRules&, const Leaf&, std::string_view path);

/// The number at the beginning of a cell, what follows it, and which decimal sign it shows.
struct Figure {
  enum class Shows { nothing, point, comma, either, nonsense };
  std::string_view number, rest;
  Shows shows = Shows::nothing;
  bool grouped = false;  // has separators between thousands, whatever the decimal sign is
};
[[nodiscard]] Figure figure_of(std::string_view text);
/// The same number with a decimal point and nothing between thousands; nothing where that sign
/// makes no number of it.
[[nodiscard]] std::optional<std::string> plain_number(const Figure&, DecimalSign);

/// The head of a sheet: which row it is, and what each column is taken for.
struct Head {
  std::size_t row = 0;
  std::vector<SheetColumn> columns;
};
[[nodiscard]] Head read_head(const Csv&, const SheetRules&, const SheetOptions&, Diagnostics&);

/// How the numbers of a sheet are read.
struct Decimals {
  std::optional<DecimalSign> sign;
  std::string from;  // "--decimal", "line 3"
};
/// The value of a cell as its key takes it. Where it cannot be read that is said, and what comes
/// back is empty, which the reader of tables passes over.
[[nodiscard]] Node value_of(const Csv&, const Csv::Cell&, const SheetRules&, const Leaf&,
                            const std::string& path, const SheetColumn&, const Decimals&,
                            const std::string& key, Diagnostics&);

}  // namespace housepower::sheets

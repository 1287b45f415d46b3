// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/rows.hpp"

#include <cmath>

namespace housepower::page {
namespace {

/// What an idle run "carries" is the last digit of the solution; it is shown as nothing.
Number without_noise(Number n) {
  if (std::abs(n.si) < 1e-9) n.si = 0.0;
  return n;
}

}  // namespace

Json row_json(std::span<const Column> columns, const void* row) {
  Json object = Json::object();
  for (const Column& column : columns) {
    const Cell cell = column.cell(row);
    Json& value = object[std::string(column.key)];
    if (const auto* text = std::get_if<std::string>(&cell)) value = *text;
    else if (const auto* amounts = std::get_if<Amounts>(&cell)) value = amounts->text;
    else if (const auto* number = std::get_if<Number>(&cell)) value = in_unit(*number, column.unit);
    else if (const auto* bare = std::get_if<double>(&cell)) value = *bare;
    else if (const auto* flag = std::get_if<bool>(&cell)) value = *flag;
  }
  return object;
}

Json rows_json(const RowTable& table) {
  Json list = Json::array();
  for (std::size_t i = 0; i < table.size; ++i) list.push_back(row_json(table.columns, table[i]));
  return list;
}

TableBlock table_of(std::string title, const RowTable& table) {
  return table_block(std::move(title), table.columns, table.size, table.row, table.rows.get());
}

TableBlock table_of(std::string title, const RowTable& table, unsigned shown_in) {
  std::vector<Column> columns;
  for (const Column& column : table.columns)
    if (column.shown_in & shown_in) columns.push_back(column);
  return table_block(std::move(title), columns, table.size, table.row, table.rows.get());
}

TableBlock table_block(std::string title, std::span<const Column> columns, std::size_t rows,
                       const void* (*row)(const void*, std::size_t), const void* list) {
  TableBlock table{std::move(title), {}, {}, {}};
  std::vector<bool> is_number(columns.size(), false);
  std::vector<Unit> units;
  for (const Column& column : columns) units.push_back(shown_unit(column.unit));
  for (std::size_t i = 0; i < rows; ++i) {
    std::vector<std::string> cells;
    for (std::size_t c = 0; c < columns.size(); ++c) {
      const Cell cell = (columns[c].told ? columns[c].told : columns[c].cell)(row(list, i));
      const auto* number = std::get_if<Number>(&cell);
      const auto* bare = std::get_if<double>(&cell);
      const auto* words_ = std::get_if<std::string>(&cell);
      const auto* amounts = std::get_if<Amounts>(&cell);
      const auto* flag = std::get_if<bool>(&cell);
      is_number[c] = is_number[c] || number || bare;
      // A share reads as "2.5 %"; other figures leave their unit to the head.
      const bool share = number && number->kind == Kind{};
      cells.push_back(share     ? print(without_noise(*number), 2)
                      : number  ? print_in(without_noise(*number), units[c])
                      : bare    ? print_plain(*bare, *bare == std::floor(*bare) ? 15 : 3)
                      : words_  ? *words_
                      : amounts ? amounts->text
                      : flag    ? (*flag ? "yes" : "no")
                                : "");
      if (number && !share && !units[c].symbol.empty()) {
        std::string& text = cells.back();
        const std::string unit = " " + std::string(units[c].symbol);
        if (text.size() > unit.size() && text.ends_with(unit))
          text.resize(text.size() - unit.size());
        text += gauge_beside(*number);
      }
    }
    table.rows.push_back(std::move(cells));
  }
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const bool in_head =
        (is_number[c] || columns[c].told) && !units[c].symbol.empty() && units[c].symbol != "%";
    table.heads.push_back(std::string(columns[c].told ? columns[c].told_title : columns[c].title) +
                          (in_head ? ", " + std::string(units[c].symbol) : ""));
    table.numbers.push_back(is_number[c]);
  }
  return table;
}

}  // namespace housepower::page

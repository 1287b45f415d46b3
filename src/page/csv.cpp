// SPDX-License-Identifier: Apache-2.0
#include "housepower/page/csv.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "digits.hpp"
#include "housepower/page/row_table.hpp"
#include "housepower/reading/csv.hpp"
#include "housepower/reading/shown.hpp"

namespace housepower::page {
namespace {

std::string line_of_cells(std::span<const std::string> cells) {
  std::string line;
  for (const auto& cell : cells) line += (&cell == cells.data() ? "" : ",") + cell;
  return line + "\r\n";
}

struct Written {
  const Unit& unit;
  std::string operator()(std::monostate) const { return ""; }
  std::string operator()(const std::string& text) const { return csv_text(with_escapes(text)); }
  std::string operator()(const Amounts& amounts) const { return (*this)(amounts.text); }
  std::string operator()(const Number& n) const { return (*this)(in_unit(n, unit)); }
  std::string operator()(double n) const { return fmt::format("{}", as_carried(n)); }
  std::string operator()(bool flag) const { return flag ? "true" : "false"; }
};

std::string written(const Column& column, const void* row) {
  return std::visit(Written{column.unit}, column.cell(row));
}

}  // namespace

std::string csv_line(std::span<const std::string> cells) {
  std::vector<std::string> written;
  for (const auto& cell : cells) written.push_back(csv_text(with_escapes(cell)));
  return line_of_cells(written);
}

std::string csv_head(std::span<const Column> columns) {
  std::vector<std::string> keys;
  for (const Column& column : columns) keys.emplace_back(column.key);
  return line_of_cells(keys);
}

std::string csv_line(std::span<const Column> columns, const void* row) {
  std::vector<std::string> cells;
  for (const Column& column : columns) cells.push_back(written(column, row));
  return line_of_cells(cells);
}

std::string csv(const RowTable& table) {
  std::string text = csv_head(table.columns);
  for (std::size_t i = 0; i < table.size; ++i) text += csv_line(table.columns, table[i]);
  return text;
}

std::string csv(std::span<const RowTable> tables, std::string_view lead) {
  std::vector<std::string> keys{std::string(lead)};
  const auto place_of = [&](const Column& column) {
    return std::size_t(std::find(keys.begin() + 1, keys.end(), column.key) - keys.begin());
  };
  for (const RowTable& table : tables)
    for (const Column& column : table.columns)
      if (place_of(column) == keys.size()) keys.emplace_back(column.key);
  std::string text = line_of_cells(keys);
  for (const RowTable& table : tables)
    for (std::size_t i = 0; i < table.size; ++i) {
      std::vector<std::string> cells(keys.size());
      cells[0] = csv_text(with_escapes(table.name));
      for (const Column& column : table.columns)
        cells[place_of(column)] = written(column, table[i]);
      text += line_of_cells(cells);
    }
  return text;
}

}  // namespace housepower::page

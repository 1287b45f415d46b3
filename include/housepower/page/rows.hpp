// SPDX-License-Identifier: Apache-2.0
// Rows of results through their columns: as JSON, and as a table for people.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/page/json.hpp"
#include "housepower/page/row_table.hpp"

namespace housepower::page {

/// A row of results as an object of its columns.
[[nodiscard]] Json row_json(std::span<const Column>, const void* row);
template <class Row> Json row_json(const Columns<Row>& columns, const Row& row) {
  return row_json(columns.erased(), &row);
}
template <class Row> Json rows_json(const Columns<Row>& columns, const std::vector<Row>& rows) {
  Json list = Json::array();
  for (const Row& row : rows) list.push_back(row_json(columns, row));
  return list;
}

/// A table for people from the same columns; units stand in the heads.
[[nodiscard]] TableBlock table_block(std::string title, std::span<const Column>, std::size_t rows,
                                     const void* (*row)(const void* list, std::size_t),
                                     const void* list);
template <class Row>
TableBlock table_of(std::string title, const Columns<Row>& columns, const std::vector<Row>& rows) {
  return table_block(
      std::move(title), columns.erased(), rows.size(),
      [](const void* list, std::size_t i) -> const void* {
        return &(*static_cast<const std::vector<Row>*>(list))[i];
      },
      &rows);
}

[[nodiscard]] Json rows_json(const RowTable&);
[[nodiscard]] TableBlock table_of(std::string title, const RowTable&);
/// Of the columns that stand in one of these tables.
[[nodiscard]] TableBlock table_of(std::string title, const RowTable&, unsigned shown_in);

}  // namespace housepower::page

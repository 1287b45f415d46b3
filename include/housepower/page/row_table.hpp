// SPDX-License-Identifier: Apache-2.0
// Rows of results with their columns under one name, whatever the rows are: one value for every way
// in which a list leaves the program (text, JSON, CSV, spreadsheet).
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "housepower/page/page.hpp"

namespace housepower::page {

struct RowTable {
  std::string name, title;  // "cables"; "Cable schedule"
  std::vector<Column> columns;
  std::size_t size = 0;
  std::optional<std::size_t> on_paper{};  // its first rows; the others are on the screen alone
  std::string off_paper{};                // what the others are: "611 that pass"
  std::shared_ptr<const void> rows;
  const void* (*row)(const void* rows, std::size_t) = nullptr;
  [[nodiscard]] const void* operator[](std::size_t i) const { return row(rows.get(), i); }
};

template <class Row>
RowTable row_table(std::string name, std::string title, const Columns<Row>& columns,
                   std::vector<Row> rows) {
  RowTable table;
  table.name = std::move(name);
  table.title = std::move(title);
  table.columns.assign(columns.erased().begin(), columns.erased().end());
  table.size = rows.size();
  table.rows = std::make_shared<const std::vector<Row>>(std::move(rows));
  table.row = [](const void* list, std::size_t i) -> const void* {
    return &(*static_cast<const std::vector<Row>*>(list))[i];
  };
  return table;
}

[[nodiscard]] std::string csv(const RowTable&);
/// Several as one: a first column under `lead` holds the name of the table that a row is of; columns
/// with the same key share one, and what a table has not is empty.
[[nodiscard]] std::string csv(std::span<const RowTable>, std::string_view lead);

}  // namespace housepower::page

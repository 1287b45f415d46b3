// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/csv.hpp"

#include <fmt/format.h>

#include "housepower/reading/csv.hpp"

namespace housepower::report {
namespace {

std::string joined(std::span<const std::string> cells) {
  std::string line;
  for (const auto& cell : cells) line += (&cell == cells.data() ? "" : ",") + cell;
  return line + "\r\n";
}

struct Written {
  const Unit& unit;
  std::string operator()(std::monostate) const { return ""; }
  std::string operator()(const std::string& text) const { return csv_text(text); }
  std::string operator()(const Number& n) const { return fmt::format("{}", in_unit(n, unit)); }
  std::string operator()(double n) const { return fmt::format("{}", n); }
  std::string operator()(bool flag) const { return flag ? "true" : "false"; }
};

}  // namespace

std::string csv_line(std::span<const std::string> cells) {
  std::vector<std::string> written;
  for (const auto& cell : cells) written.push_back(csv_text(cell));
  return joined(written);
}

std::string csv_head(std::span<const Column> columns) {
  std::vector<std::string> keys;
  for (const Column& column : columns) keys.emplace_back(column.key);
  return joined(keys);
}

std::string csv_line(std::span<const Column> columns, const void* row) {
  std::vector<std::string> cells;
  for (const Column& column : columns)
    cells.push_back(std::visit(Written{column.unit}, column.cell(row)));
  return joined(cells);
}

}  // namespace housepower::report

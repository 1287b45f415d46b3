// SPDX-License-Identifier: Apache-2.0
// Provenance as a user sees it: what was not read is labelled so wherever it is printed, and the
// page of sources names a test for each source.
#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "shipped.hpp"

namespace housepower::test {
namespace {

/// Values that no one read. Each must say "from memory" in the printed table.
struct Remembered {
  std::string_view table, row_begins, column;  // every row, or every column, where empty
};
const std::vector<Remembered> remembered = {
    {"iso-10133-a", "", ""},     // ISO 10133:2012 annex A
    {"iso-6722", "", ""},        // ISO 6722-1, ISO 19642
    {"en-50618-air", "70", ""},  // EN 50618, rows from 70 mm²
    {"en-50618-air", "240", ""},
    {"en-50618-surface", "4", ""},  // its other columns, all but 6 mm²
    {"en-50618-surface", "35", ""},
    {"en-50618-touching", "4", ""},
    {"en-50618-touching", "35", ""},
    {"capacity-by-temperature", "", ""},  // a suggested curve
    {"b&s", "3", "area"},                 // what the trade fills in
    {"b&s", "2", "area"},
    {"b&s", "0", "area"},
    {"b&s", "00", "area"},
};

TEST_CASE("a remembered value says so where its table is printed") {
  for (const Remembered& item : remembered) {
    CAPTURE(item.table);
    CAPTURE(item.row_begins);
    const tables::View& table = view(item.table);
    std::size_t checked = 0;
    for (const auto& row : table.rows) {
      if (!item.row_begins.empty() && row.front().text != item.row_begins) continue;
      for (std::size_t i = 1; i < row.size(); ++i) {
        if (!item.column.empty() && table.columns[i].key != item.column) continue;
        if (!row[i].value) continue;
        ++checked;
        CHECK(word_of(row[i].source.kind) == from_memory);
      }
    }
    CHECK(checked > 0);
  }
}

TEST_CASE("every printed cell names a source") {
  for (const tables::View& table : shipped().views) {
    CAPTURE(table.name);
    CHECK_FALSE(table.title.empty());
    CHECK_FALSE(table.source.title.empty());
    for (const auto& row : table.rows)
      for (const auto& cell : row)
        if (cell.source.title.empty()) FAIL_CHECK(cell.text << " names none");
  }
}

std::string text_of(const std::string& path) {
  std::ifstream file(std::string(HOUSEPOWER_SOURCE_DIR) + "/" + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

TEST_CASE("each source on the page of sources stands in the test that the page names") {
  std::istringstream page(text_of("docs/SOURCES.md"));
  std::string line;
  std::size_t sources = 0;
  while (std::getline(page, line)) {
    const auto file_begins = line.find("| `");
    if (!line.starts_with("| ") || file_begins == std::string::npos) continue;
    const std::string source = line.substr(2, line.find(" |") - 2);
    const std::string file = line.substr(file_begins + 3, line.rfind('`') - file_begins - 3);
    CAPTURE(source);
    CAPTURE(file);
    ++sources;
    CHECK(text_of("tests/published/" + file).find(source) != std::string::npos);
  }
  CHECK(sources > 40);
}

}  // namespace
}  // namespace housepower::test

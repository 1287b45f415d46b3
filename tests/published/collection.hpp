// SPDX-License-Identifier: Apache-2.0
// Reads collections of published values that may stand beside the project, as comma-separated
// values; where one does not, its test says that it was skipped.
#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <map>
#include <string>
#include <vector>

namespace housepower::test {

/// One line of comma-separated values; quotes double inside quotes.
inline std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') quoted = !quoted;
    else if (c == ',' && !quoted) cells.emplace_back();
    else if (c != '\r') cells.back() += c;
  }
  return cells;
}

using Record = std::map<std::string, std::string>;

/// The rows under their heads; none where the collection does not stand beside the project.
inline std::vector<Record> collection(const std::string& name) {
  std::vector<Record> all;
  std::ifstream file(HOUSEPOWER_SOURCE_DIR "/../shared/data/" + name);
  std::string line;
  if (!std::getline(file, line)) {
    MESSAGE("skipped: " << name << " does not stand beside the project");
    return all;
  }
  const std::vector<std::string> heads = cells_of(line);
  while (std::getline(file, line)) {
    const std::vector<std::string> cells = cells_of(line);
    REQUIRE(cells.size() == heads.size());
    Record& record = all.emplace_back();
    for (std::size_t i = 0; i < heads.size(); ++i) record[heads[i]] = cells[i];
  }
  return all;
}

}  // namespace housepower::test

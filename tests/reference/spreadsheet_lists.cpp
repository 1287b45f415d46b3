// SPDX-License-Identifier: Apache-2.0
// A spreadsheet program, where it is installed, writes the same list as CSV in two locales and as two
// kinds of workbook, and all give the same appliances. Without it this is skipped; what it once wrote is in tests/design/spreadsheet.
#include <doctest/doctest.h>

#include <unistd.h>

#include <cstdlib>
#include <filesystem>

#include "housepower/lists/lists.hpp"
#include "housepower/lists/workbook.hpp"
#include "housepower/reading/write.hpp"
#include "support/command.hpp"

namespace reference_spreadsheet_lists {
namespace {
using namespace housepower;

bool has_soffice() { return std::system("command -v soffice >/dev/null 2>&1") == 0; }

std::string loads(const std::string& file) {
  Diagnostics diagnostics;
  const auto list = lists::read_loads(housepower::test::text_of(file), file, {}, diagnostics);
  return list.document ? toml_of(*list.document) : diagnostics.all.at(0).message;
}
}  // namespace

TEST_CASE(
    "a list saved as CSV in English and in German, as .xlsx and .ods gives the same appliances" *
    doctest::skip(!has_soffice())) {
  const std::string kept = HOUSEPOWER_SOURCE_DIR "/tests/design/spreadsheet";
  const std::string folder = "/tmp/housepower-spreadsheet-" + std::to_string(getpid());
  std::filesystem::create_directory(folder);
  REQUIRE(std::system(("bash '" + kept + "/make.sh' '" + folder + "'").c_str()) == 0);
  const auto english = loads(folder + "/loads-en-US.csv");
  CHECK(english == loads(folder + "/loads-de-DE.csv"));
  CHECK(english == loads(kept + "/loads-en-US.csv"));
  for (const char* name : {"/loads.xlsx", "/loads.ods"}) {
    CAPTURE(name);
    Diagnostics diagnostics;
    const std::string bytes = housepower::test::text_of(folder + name);
    const auto cells = read_workbook(bytes, name, {}, diagnostics);
    REQUIRE(cells);
    const auto list = lists::read_loads(*cells, {}, diagnostics);
    REQUIRE(list.document);
    CHECK(toml_of(*list.document) == english);
  }
  std::filesystem::remove_all(folder);
}

}  // namespace reference_spreadsheet_lists

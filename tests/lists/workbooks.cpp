// SPDX-License-Identifier: Apache-2.0
// Workbooks as lists: what stands in their cells, which sheet is taken, and such as are damaged,
// protected or made to fill the memory. make.py beside them says what is in each; nothing here is
// printed by our own code.
#include <doctest/doctest.h>

#include "housepower/lists/lists.hpp"
#include "housepower/lists/workbook.hpp"
#include "housepower/reading/write.hpp"
#include "support/command.hpp"

namespace lists_workbooks {

using namespace housepower;

namespace {

const std::string folder = HOUSEPOWER_SOURCE_DIR "/tests/lists/workbooks/";

std::optional<Csv> cells(const std::string& name, Diagnostics& diagnostics,
                         const std::optional<std::string>& sheet = {}) {
  const std::string bytes = test::text_of(folder + name);
  CHECK(is_workbook(bytes));
  return read_workbook(bytes, name, sheet, diagnostics);
}
Diagnostic problem_of(const std::string& name, const std::optional<std::string>& sheet = {}) {
  Diagnostics diagnostics;
  CHECK_FALSE(cells(name, diagnostics, sheet).has_value());
  REQUIRE(diagnostics.all.size() == 1);
  return diagnostics.all.front();
}
std::string loads(const std::string& name, Diagnostics& diagnostics) {
  const auto csv = cells(name, diagnostics);
  REQUIRE(csv);
  const auto list = lists::read_loads(*csv, {}, diagnostics);
  REQUIRE(list.document);
  return toml_of(*list.document);
}

}  // namespace

TEST_CASE("both kinds of workbook hold the same list, with all digits and percentages as such") {
  Diagnostics diagnostics;
  const std::string expected = R"([[appliance]]
name = "Fridge"
power = "45.5 W"
duty = "62.5 %"
per_day = "24 h"
note = "as told"

[[appliance]]
name = "Lamp"
power = "1.15 W"
per_day = "3 h"
)";
  CHECK(loads("loads.xlsx", diagnostics) == expected);
  CHECK(loads("loads.ods", diagnostics) == expected);
}

TEST_CASE("a spreadsheet program's workbooks hold the appliances of its CSV") {
  const std::string kept = HOUSEPOWER_SOURCE_DIR "/tests/design/spreadsheet/";
  Diagnostics diagnostics;
  const auto csv =
      lists::read_loads(test::text_of(kept + "loads-en-US.csv"), "a.csv", {}, diagnostics);
  REQUIRE(csv.document);
  for (const char* name : {"loads.xlsx", "loads.ods"}) {
    CAPTURE(name);
    const auto cells_there = read_workbook(test::text_of(kept + name), name, {}, diagnostics);
    REQUIRE(cells_there);
    const auto list = lists::read_loads(*cells_there, {}, diagnostics);
    REQUIRE(list.document);
    CHECK(toml_of(*list.document) == toml_of(*csv.document));
  }
}

TEST_CASE("cells of a workbook have their row and column, and a hidden row is told") {
  for (const char* name : {"loads.xlsx", "loads.ods"}) {
    CAPTURE(name);
    Diagnostics diagnostics;
    const auto csv = cells(name, diagnostics);
    REQUIRE(csv);
    CHECK(csv->sheet == "Loads");
    REQUIRE(csv->rows.size() == 4);
    CHECK(csv->blank_rows == 1);
    CHECK(csv->rows[1][1].text == "Power (W)");
    CHECK(csv->place_of(csv->rows[1][1]) == Place{name, 3, 3, 1});  // C3
    CHECK(csv->rows[2][0].text == "Fridge");                        // not what hangs on it
    CHECK(csv->rows[2][2].is_number);
    REQUIRE(diagnostics.all.size() == 1);
    CHECK(diagnostics.all[0].place.line == 5);
    CHECK(diagnostics.all[0].severity == Severity::warning);
  }
}

TEST_CASE("a time of the day is not taken for hours") {
  Diagnostics diagnostics;
  const auto csv = cells("time.xlsx", diagnostics);
  REQUIRE(csv);
  CHECK(csv->rows[1][2].text == "1:30");  // 0.0625 of a day
  CHECK_FALSE(lists::read_loads(*csv, {}, diagnostics).document.has_value());
  CHECK(diagnostics.all.back().place == Place{"time.xlsx", 2, 3, 1});
}

TEST_CASE("of several sheets one is asked for by its name") {
  CHECK(problem_of("several.xlsx").hint == "say which: --sheet \"Front\"");
  CHECK(problem_of("several.xlsx", "Middle").message == "has no sheet \"Middle\"");
  Diagnostics diagnostics;
  const auto csv = cells("several.xlsx", diagnostics, "Rear");
  REQUIRE(csv);
  CHECK(csv->sheet == "Rear");
  CHECK(cells("loads.xlsx", diagnostics, "Old").has_value());  // hidden, but asked for
}

TEST_CASE("an error of a formula and a formula without its result are told at their cell") {
  for (const char* name : {"error.xlsx", "no-result.xlsx"}) {
    const Diagnostic told = problem_of(name);
    CHECK(told.place == Place{name, 2, 2, 1});
    CHECK(told.severity == Severity::error);
  }
  CHECK(problem_of("error.xlsx").message == "holds #DIV/0!, the error of a formula");
}

TEST_CASE("what unpacks to too much is refused, also where the archive says otherwise") {
  CHECK(problem_of("large.xlsx").message ==
        "holds xl/worksheets/sheet1.xml, which unpacks to more than 16 MB");
  CHECK(problem_of("lies.xlsx").message ==
        "is damaged: xl/worksheets/sheet1.xml cannot be unpacked");
}

TEST_CASE("what is damaged, protected or no workbook is refused in words") {
  CHECK(problem_of("protected.ods").message == "is protected with a password");
  CHECK(problem_of("far.xlsx").message == "is damaged: a cell beyond every column");
  CHECK(problem_of("no-text.xlsx").place == Place{"no-text.xlsx", 1, 1, 1});
  CHECK(problem_of("no-xml.xlsx").message == "is damaged: xl/workbook.xml is not XML in UTF-8");
  CHECK(problem_of("no-workbook.zip").message == "is an archive, but not a workbook (.xlsx, .ods)");
  Diagnostics diagnostics;
  CHECK_FALSE(read_workbook("\xD0\xCF\x11\xE0 …", "old.xls", {}, diagnostics));
  CHECK(diagnostics.all[0].message == "is a workbook of an old kind, or one with a password");
  CHECK_FALSE(is_workbook("name,power\n"));
}

TEST_CASE("a workbook that ends anywhere, or has any byte put otherwise, is read or refused") {
  for (const char* name : {"loads.xlsx", "loads.ods"}) {
    const std::string whole = test::text_of(folder + name);
    int refused = 0;
    for (std::size_t at = 4; at < whole.size(); at += 3) {
      Diagnostics diagnostics;
      CHECK_FALSE(read_workbook(whole.substr(0, at), name, {}, diagnostics));
      CHECK(diagnostics.any_error());
      std::string other = whole;
      other[at] = static_cast<char>(other[at] ^ 0x55);
      Diagnostics more;
      const bool good = read_workbook(other, name, {}, more).has_value();
      CHECK(good != more.any_error());
      refused += good ? 0 : 1;
    }
    CHECK(refused > 100);
  }
}

}  // namespace lists_workbooks

// SPDX-License-Identifier: Apache-2.0
// CSV after RFC 4180 (section 2, rules 1 to 7), and nothing in it that a spreadsheet would run.
#include "housepower/page/csv.hpp"

#include <doctest/doctest.h>

#include "housepower/reading/csv.hpp"
#include "housepower/units/quantity.hpp"

namespace page_csv {
namespace {

using namespace housepower;

struct Row {
  std::string name;
  std::optional<Mass> mass;
  std::optional<Energy> balance;
};
page::Columns<Row> columns() {
  return {{"name", "name", &Row::name},
          {"mass_kg", "mass", "kg", &Row::mass},
          {"balance_Wh", "balance", "Wh", &Row::balance}};
}

}  // namespace

TEST_CASE("a cell stands in quotes where RFC 4180 wants them, and its quotes are doubled") {
  CHECK(csv_text("plain") == "plain");
  CHECK(csv_text("two, parts") == "\"two, parts\"");
  CHECK(csv_text("12\" wide") == "\"12\"\" wide\"");
  CHECK(csv_text("two\nlines") == "\"two\nlines\"");
  CHECK(csv_text("") == "");
}

TEST_CASE("a text that a spreadsheet would take for a formula is led by an apostrophe") {
  CHECK(csv_text("=SUM(A1)") == "'=SUM(A1)");
  CHECK(csv_text("+1") == "'+1");
  CHECK(csv_text("-1") == "'-1");
  CHECK(csv_text("@x") == "'@x");
  CHECK(csv_text("\tx") == "\"'\tx\"");
  CHECK(csv_text("=a,b") == "\"'=a,b\"");
  CHECK(csv_text("a=b") == "a=b");
}

TEST_CASE("the first line holds the keys, each line ends with CR LF, numbers are full and bare") {
  std::vector<Row> rows(2);
  rows[0].name = "one";
  rows[0].mass = 61.25 * kilogram;
  rows[0].balance = -1234.5 * watt_hour;
  rows[1].name = "=two";
  CHECK(page::csv(columns(), rows) == "name,mass_kg,balance_Wh\r\n"
                                      "one,61.25,-1234.5\r\n"
                                      "'=two,,\r\n");
}

}  // namespace page_csv

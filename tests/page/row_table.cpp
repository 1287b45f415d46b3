// SPDX-License-Identifier: Apache-2.0
// Lists of unlike rows as one table of CSV.
#include "housepower/page/row_table.hpp"

#include <doctest/doctest.h>

namespace page_row_table {

using namespace housepower::page;

namespace {

struct Cable {
  std::string name;
  int pieces = 0;
};
struct Lug {
  std::string stud, name;
};

std::vector<RowTable> lists() {
  return {row_table<Cable>("cables", "Cables",
                           {{"name", "name", &Cable::name}, {"pieces", "pieces", &Cable::pieces}},
                           {{"=1+1", 3}}),
          row_table<Lug>("lugs", "Lugs",
                         {{"stud", "stud", &Lug::stud}, {"name", "name", &Lug::name}},
                         {{"M8", "a, b"}, {"@M6", ""}})};
}

}  // namespace

TEST_CASE("a table knows its rows whatever they are, and copies share them") {
  RowTable copy;
  {
    const auto made = lists();
    copy = made[1];
  }
  REQUIRE(copy.size == 2);
  CHECK(csv(copy) == "stud,name\r\nM8,\"a, b\"\r\n'@M6,\r\n");
}

TEST_CASE("several lists are one table: equal keys share a column, the first tells the list") {
  CHECK(csv(lists(), "list") == "list,name,pieces,stud\r\n"
                                "cables,'=1+1,3,\r\n"
                                "lugs,\"a, b\",,M8\r\n"
                                "lugs,,,'@M6\r\n");
}

}  // namespace page_row_table

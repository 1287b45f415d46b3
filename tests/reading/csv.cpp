// SPDX-License-Identifier: Apache-2.0
// CSV: RFC 4180 (Common Format and MIME Type for CSV Files, 2005, section 2), and what spreadsheets
// write beside it.
#include <doctest/doctest.h>

#include "housepower/reading/csv.hpp"

namespace reading_csv {

using namespace housepower;

namespace {

std::vector<std::vector<std::string>> cells(std::string_view text,
                                            std::optional<char> delimiter = {}) {
  Diagnostics diagnostics;
  const auto csv = parse_csv(text, "a.csv", delimiter, diagnostics);
  std::vector<std::vector<std::string>> all;
  if (!csv) return {{diagnostics.all.at(0).message}};
  for (const auto& row : csv->rows) {
    all.emplace_back();
    for (const auto& cell : row) all.back().push_back(cell.text);
  }
  return all;
}
using Cells = std::vector<std::vector<std::string>>;

Diagnostic refused(std::string_view text) {
  Diagnostics diagnostics;
  CHECK_FALSE(parse_csv(text, "a.csv", {}, diagnostics).has_value());
  REQUIRE(diagnostics.all.size() == 1);
  return diagnostics.all[0];
}

}  // namespace

TEST_CASE("each line is a row, whichever way lines end, with or without an end after the last") {
  const Cells wanted{{"a", "b"}, {"c", "d"}};
  for (const std::string_view text : {"a,b\r\nc,d\r\n", "a,b\nc,d", "a,b\rc,d\r", "a,b\n\nc,d\n"}) {
    CAPTURE(text);
    CHECK(cells(text) == wanted);
  }
}

TEST_CASE("quotes hold commas, line breaks and doubled quotes (RFC 4180, section 2, 6 and 7)") {
  CHECK(cells("\"aaa\",\"b \r\nbb\",\"ccc\"\r\nzzz,\"b\"\"bb\",\"x,y\"\r\n") ==
        Cells{{"aaa", "b \nbb", "ccc"}, {"zzz", "b\"bb", "x,y"}});
  CHECK(cells("7\" screen,x\n1,2\n") == Cells{{"7\" screen", "x"}, {"1", "2"}});
}

TEST_CASE("a byte-order mark is no part of the first cell") {
  CHECK(cells("\xEF\xBB\xBFname,power\nx,1\n")[0][0] == "name");
}

TEST_CASE("the delimiter is the one that parts all rows alike") {
  CHECK(cells("a;b\n0,5;1\n") == Cells{{"a", "b"}, {"0,5", "1"}});
  CHECK(cells("a\tb\n0,5\t1\n") == Cells{{"a", "b"}, {"0,5", "1"}});
  CHECK(cells("a,b;c\n1,2\n") == Cells{{"a", "b;c"}, {"1", "2"}});
  CHECK(cells("name\nlamp\n") == Cells{{"name"}, {"lamp"}});
}

TEST_CASE("where two delimiters part all rows alike, it is asked for") {
  CHECK(refused("a,b;c\n1,2;3\n").message ==
        "does not show what separates its cells: it can be comma or semicolon");
  CHECK(cells("a,b;c\n1,2;3\n", ';') == Cells{{"a,b", "c"}, {"1,2", "3"}});
}

TEST_CASE("a cell's place counts lines and code points, also behind a cell of two lines") {
  Diagnostics diagnostics;
  const auto csv = parse_csv("ä,b\n\"x\ny\",é,z\n", "a.csv", {}, diagnostics);
  REQUIRE(csv);
  const auto at = [&](std::size_t row, std::size_t column) {
    const Place p = csv->place_of(csv->rows[row][column]);
    return std::pair{p.line, p.column};
  };
  CHECK(at(0, 1) == std::pair{1, 3});
  CHECK(at(1, 0) == std::pair{2, 1});
  CHECK(at(1, 2) == std::pair{3, 6});
}

TEST_CASE("what is no UTF-8 is refused with its place and what to do") {
  const auto latin = refused("name,power\nK\xFChlbox,45\n");
  CHECK(latin.place.line == 2);
  CHECK(latin.place.column == 2);
  CHECK(latin.hint.find("UTF-8") != std::string::npos);
  CHECK(refused("\xFF\xFEn\0a\0").message == "is UTF-16, not UTF-8");
  CHECK(refused(std::string_view("n\0a\0", 4)).place.column == 2);
}

TEST_CASE("a quote that nothing closes is told where it opens") {
  const auto open = refused("a,b\n1,\"x\n2,y\n");
  CHECK(open.place.line == 2);
  CHECK(open.place.column == 3);
  CHECK(refused("a,b\n\"x\"y,2\n").place.column == 4);
}

TEST_CASE("a file over 64 MB, or of more than a million cells, is refused") {
  CHECK(refused(std::string((64u << 20u) + 1, 'a')).message == "is larger than 64 MB");
  CHECK(refused(std::string(1'000'001, ',')).message == "holds more than a million cells");
}

TEST_CASE("a text comes back as it was, and none begins as a formula does") {
  for (const std::string_view text :
       {"lamp", "a,b", "a;b", "a\tb", "say \"x\"", "two\nlines", "=1+1", "+1", "-1", "@x", "\tx",
        "'=1", "''=1", "'t huis", " x ", ""}) {
    CAPTURE(text);
    const std::string written = csv_text(text);
    const auto first = written.find_first_not_of('"');
    if (first != std::string::npos)
      CHECK(std::string_view("=+-@\t\r").find(written[first]) == std::string_view::npos);
    for (const char delimiter : {',', ';', '\t'}) {
      Diagnostics diagnostics;
      const auto csv = parse_csv("x" + std::string(1, delimiter) + written + "\n", "a.csv",
                                 delimiter, diagnostics);
      REQUIRE(csv);
      REQUIRE(csv->rows[0].size() == 2);
      CHECK(without_guard(csv->rows[0][1].text) == text);
    }
  }
}

}  // namespace reading_csv

// SPDX-License-Identifier: Apache-2.0
// Parts of a range and the whole that they make again: in any order the same bytes, and whatever is
// missing, there twice, of something else or cut short is told by name, never joined.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "housepower/report/range.hpp"

namespace report_range_parts {
namespace {

using namespace housepower;
using answers::Part;
using report::PartText;
using report::RangeReport;

/// Seven rows, with names that CSV has to quote.
std::vector<range::RangeRow> seven_rows() {
  std::vector<range::RangeRow> rows(7);
  const char* names[] = {"plain", "with, comma", "with \"quotes\"", "two\nlines", "=formula", "",
                         "ß"};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].name = names[i];
    rows[i].file = "van" + std::to_string(i) + ".toml";
    rows[i].verdict = "pass";
    rows[i].autonomy = (0.1 + double(i)) * day;
  }
  return rows;
}

RangeReport whole(std::vector<range::RangeRow> rows = seven_rows()) {
  RangeReport report;
  report.designs = report.all_rows = int(rows.size());
  report.rows = std::move(rows);
  return report;
}

PartText part(std::size_t number, std::size_t of, const std::string& question = "0123456789abcdef",
              std::vector<range::RangeRow> rows = seven_rows()) {
  const auto holds = answers::rows_of({number, of}, rows.size());
  RangeReport report = whole({rows.begin() + long(holds.first), rows.begin() + long(holds.end)});
  report.part = RangeReport::PartOf{{number, of}, holds, rows.size(), question};
  return {"p" + std::to_string(number) + ".csv", report::range_csv_part(report)};
}
std::vector<PartText> parts(std::size_t of) {
  std::vector<PartText> all;
  for (std::size_t number = 1; number <= of; ++number) all.push_back(part(number, of));
  return all;
}

std::string problems_of(const std::vector<PartText>& given) {
  const auto joined = report::join_range(given);
  CHECK(joined.csv.empty());
  std::string text;
  for (const auto& problem : joined.problems) text += (text.empty() ? "" : " | ") + problem;
  return text;
}

}  // namespace

TEST_CASE("parts hold as many rows each as any other, or one fewer, and all of them once") {
  // 10 = 3 + 3 + 2 + 2; 2 = 1 + 1 + 0.
  const auto sizes = [](std::size_t rows, std::size_t of) {
    std::vector<std::size_t> found;
    std::size_t next = 0;
    for (std::size_t number = 1; number <= of; ++number) {
      const auto holds = answers::rows_of({number, of}, rows);
      CHECK(holds.first == next);
      next = holds.end;
      found.push_back(holds.end - holds.first);
    }
    CHECK(next == rows);
    return found;
  };
  CHECK(sizes(10, 4) == std::vector<std::size_t>{3, 3, 2, 2});
  CHECK(sizes(2, 3) == std::vector<std::size_t>{1, 1, 0});
  CHECK(sizes(7, 1) == std::vector<std::size_t>{7});
}

TEST_CASE("parts in any order make the bytes of the whole, also where some are empty") {
  const std::string bytes = report::range_csv(whole());
  std::mt19937 engine(3);
  for (const std::size_t of : {1, 2, 3, 7, 9}) {
    CAPTURE(of);
    auto all = parts(of);
    for (int round = 0; round < 5; ++round) {
      std::shuffle(all.begin(), all.end(), engine);
      const auto joined = report::join_range(all);
      CHECK(joined.problems.empty());
      CHECK(joined.csv == bytes);
      CHECK_FALSE(joined.fails);
    }
  }
}

TEST_CASE("empty parts need not be there: they have nothing to miss") {
  auto all = parts(9);
  all.resize(7);
  CHECK(report::join_range(all).csv == report::range_csv(whole()));
}

TEST_CASE("what fails or was not read is told of the whole") {
  auto rows = seven_rows();
  rows[2].verdict = "fail";
  rows[3].verdict = "not-read";
  const std::vector<PartText> both{part(1, 2, "q", rows), part(2, 2, "q", rows)};
  const auto joined = report::join_range(both);
  CHECK(joined.fails);
  CHECK(joined.not_read);
}

TEST_CASE("a missing part is named with its rows") {
  // 7 rows in 3 parts: 1 to 3, 4 and 5, 6 and 7.
  CHECK(problems_of({part(1, 3), part(3, 3)}) == "part 2/3 is missing: rows 4 to 5 of 7");
  CHECK(problems_of({part(6, 7)}).find("part 7/7 is missing: row 7 of 7") != std::string::npos);
}

TEST_CASE("a part that is there twice is named with both files") {
  auto all = parts(3);
  all.push_back(all[1]);
  all.back().name = "again.csv";
  CHECK(problems_of(all) == "again.csv: part 2/3 is there already, as p2.csv");
}

TEST_CASE("a part of another question, or of another division, is foreign") {
  CHECK(problems_of({part(1, 3), part(2, 3, "fedcba9876543210"), part(3, 3)}) ==
        "p2.csv: part 2/3 is foreign: it is of other designs, tables or options than the others | "
        "part 2/3 is missing: rows 4 to 5 of 7");
  const std::string divided = problems_of({part(1, 3), part(2, 3), part(3, 3), part(2, 4)});
  CHECK(divided == "p2.csv: part 2/4 is foreign: it is of a range in 4 parts, the others in 3");
  CHECK(problems_of({{"x.csv", "a,b\r\n1,2\r\n"}}).find("x.csv: it is not a part") == 0);
  CHECK(problems_of({{"whole.csv", report::range_csv(whole())}}).find("is not a part") !=
        std::string::npos);
}

TEST_CASE("rows that are not in their place are told") {
  auto rows = part(1, 1);
  const auto line = rows.text.find("with, comma") - 1;
  const auto next = rows.text.find("\r\n", line) + 2;
  PartText without = rows;
  without.text.erase(line, next - line);
  CHECK(problems_of({without}).find("where row 2 belongs there is row 3") != std::string::npos);
  PartText twice = rows;
  twice.text.insert(next, rows.text.substr(line, next - line));
  CHECK(problems_of({twice}).find("where row 3 belongs there is row 2") != std::string::npos);
}

TEST_CASE("a part that was cut anywhere is never joined, and says that it was cut") {
  const auto first = part(1, 2), second = part(2, 2);
  for (std::size_t length = 0; length < second.text.size(); ++length) {
    CAPTURE(length);
    const auto joined = report::join_range(
        std::vector<PartText>{first, {"cut.csv", second.text.substr(0, length)}});
    CHECK(joined.csv.empty());
    REQUIRE(!joined.problems.empty());
    CHECK(joined.problems.front().find("cut.csv: ") == 0);
    CHECK(joined.problems.front().find("cut short") != std::string::npos);
  }
}

TEST_CASE("no byte that is changed in a part's own cells goes unseen") {
  const auto first = part(1, 2), second = part(2, 2);
  const auto begin = second.text.find(",4,7,1,2");  // row 5 is the first of the second part
  CHECK(begin == std::string::npos);
  const auto at = second.text.find(",5,7,2,2,");
  REQUIRE(at != std::string::npos);
  for (std::size_t i = at + 1; i < at + 8; i += 2) {
    PartText changed = second;
    changed.text[i] = '9';
    CHECK_FALSE(report::join_range(std::vector<PartText>{first, changed}).problems.empty());
  }
}

}  // namespace report_range_parts

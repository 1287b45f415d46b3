// SPDX-License-Identifier: Apache-2.0
// Tables and bars on screens of several widths: nothing reaches over the edge, no figure is lost.
#include <doctest/doctest.h>

#include <chrono>
#include <cstdlib>
#include <iterator>
#include <set>
#include <sstream>

#include "checks/examples.hpp"
#include "housepower/reading/shown.hpp"
#include "housepower/report/results.hpp"

namespace report_text {

using namespace housepower;
using namespace housepower::report;

namespace {

constexpr int widths[] = {60, 80, 100, 140, 200};

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}
std::multiset<std::string> words_of(const std::string& text) {
  std::istringstream in(text);
  return {std::istream_iterator<std::string>(in), {}};
}
/// How often a sign stands in a text.
std::size_t count_of(const std::string& text, const std::string& sign) {
  std::size_t count = 0;
  for (auto at = text.find(sign); at != text.npos; at = text.find(sign, at + sign.size())) ++count;
  return count;
}

Page page_of(TableBlock table) {
  Page page{"Title", {}};
  page.blocks.emplace_back(std::move(table));
  return page;
}

TableBlock amounts() {
  TableBlock t{"Amounts", {"of", "amount, Wh"}, {false, true}, {{"a", "80"}, {"b", "20"}}};
  t.bars.lengths = {80.0, 20.0};
  return t;
}

}  // namespace

TEST_CASE("no line of an answer is longer than the screen, and every figure is there") {
  for (const auto* name : {"marrowick.toml", "pellibri.toml", "quondelay.toml"}) {
    const auto opened = examples::opened(examples::folder + name);
    const auto checked = examples::checked(opened);
    for (const Page& page :
         {energy_page(opened.design, checked.energy), wiring_page(opened.design, checked.wiring)})
      for (const int width : widths) {
        CAPTURE(std::string(name));
        CAPTURE(width);
        const std::string out = text(page, {width, false, true});
        for (const auto& line : lines_of(out)) {
          CAPTURE(line);
          CHECK(shown_width(line) <= static_cast<std::size_t>(width));
        }
        const auto words = words_of(out);
        for (const Block& block : page.blocks) {
          const auto* table = std::get_if<TableBlock>(&block);
          if (!table) continue;
          for (const auto& row : table->rows)
            for (std::size_t c = 0; c < row.size(); ++c) {
              if (!table->numbers[c] || row[c].empty()) continue;
              CAPTURE(row[c]);
              for (const auto& word : words_of(row[c])) CHECK(words.count(word) > 0);
            }
        }
      }
  }
}

TEST_CASE("heads wrap before words, and words before figures") {
  const TableBlock t{"Runs",
                     {"run", "its greatest current, A"},
                     {false, true},
                     {{"from the bank to the panel", "12"}, {"from the sun", "1234567"}}};
  // "  " + 26 + "  " + 23 = 53 columns as it is; the longest word of the head is "greatest", 8.
  CHECK(lines_of(text(page_of(t), {53})).at(3) ==
        "  run                         its greatest current, A");
  const auto wrapped = lines_of(text(page_of(t), {40}));
  CHECK(wrapped.at(3) == "                                     its");
  CHECK(wrapped.at(6) == "  from the bank to the panel          12");
  // 16 columns of words, 2 + 2 + 8 beside them.
  const auto narrow = lines_of(text(page_of(t), {28}));
  CHECK(narrow.at(7) == "  from the bank           12");
  CHECK(narrow.at(8) == "   to the panel");
  CHECK(narrow.at(9) == "  from the sun       1234567");
  // Two columns cannot part; the words break once more, the figure does not.
  CHECK(lines_of(text(page_of(t), {22})).at(10) == "  from the     1234567");
}

TEST_CASE("a table too wide goes on below, and each part tells which row is which") {
  TableBlock t{
      "Ends",
      {"run", "end", "rating, A", "fault, A"},
      {false, false, true, true},
      {{"conductor number one", "from", "10", "100"}, {"conductor number one", "to", "20", "200"}}};
  t.heads[2] = "rating-of-the-device, A", t.heads[3] = "largest-fault-there, A";
  const std::string out = text(page_of(t), {50});
  CHECK(count_of(out, "  run ") == 2);
  CHECK(count_of(out, " from ") == 2);  // the run alone would name two rows alike
  for (const char* figure : {"10", "20", "100", "200"}) CHECK(words_of(out).count(figure) == 1);
}

TEST_CASE("a figure in words keeps its unit beside it, a long path breaks after a slash") {
  const TableBlock t{"Devices",
                     {"at", "what"},
                     {false, false},
                     {{"run/bank to main bar/protection/0", "fuse of 40 A at 0.15 m; isolator"}}};
  // 36 - 2 - 2 = 32 columns for both, at least 12 each.
  const std::string out = text(page_of(t), {36});
  CHECK(count_of(out, "40 A") == 1);
  CHECK(count_of(out, "0.15 m;") == 1);
  CHECK(count_of(out, "protection/") == 1);
}

TEST_CASE("a bar is drawn to the largest, in eighths of a cell") {
  const auto rows = lines_of(text(page_of(amounts()), {100}));
  // The longest bar has 32 cells, so 20 of 80 are 8.
  const std::string eight = "████████";
  CHECK(rows.at(4) == "  a           80  " + eight + eight + eight + eight);
  CHECK(rows.at(5) == "  b           20  " + eight);
  TableBlock odd = amounts();
  odd.bars.lengths = {80.0, 1.0};  // 32 / 80 = 0.4 of a cell: four eighths, never less than it is
  CHECK(lines_of(text(page_of(odd), {100})).at(5) == "  b           20  ▌");
  odd.bars.lengths = {80.0, 0.0};
  CHECK(lines_of(text(page_of(odd), {100})).at(5) == "  b           20");
}

TEST_CASE("a mark stands beside or in a bar") {
  TableBlock t = amounts();
  t.bars.marks = {40.0, 40.0};
  const auto rows = lines_of(text(page_of(t), {100}));
  CHECK(rows.at(4) == "  a           80  ████████████████│███████████████");
  CHECK(rows.at(5) == "  b           20  ████████        │");
}

TEST_CASE("a screen without block signs gets ASCII, and a narrow one no bars") {
  const auto ascii = lines_of(text(page_of(amounts()), {100, false, false}));
  CHECK(ascii.at(5) == "  b           20  ########");
  CHECK(count_of(text(page_of(amounts()), {100, false, false}), "█") == 0);
  // "  of  amount, Wh" has 16 columns; with its head wrapped 13, and a bar wants 2 + 10.
  CHECK(count_of(text(page_of(amounts()), {25}), "█") > 0);
  CHECK(count_of(text(page_of(amounts()), {24}), "█") == 0);
  for (int width = 10; width <= 60; ++width)
    for (const auto& line : lines_of(text(page_of(amounts()), {width})))
      if (line.find("█") != line.npos) CHECK(shown_width(line) <= static_cast<std::size_t>(width));
}

TEST_CASE("wide signs and combining marks are counted as the terminal shows them") {
  const TableBlock t{"Names",
                     {"name", "A"},
                     {false, true},
                     {{"冷蔵庫", "1"}, {"Ku\u0308hler", "2"}, {"fridge", "3"}}};
  const auto rows = lines_of(text(page_of(t), {100}));
  CHECK(rows.at(4) == "  冷蔵庫  1");
  CHECK(rows.at(5) == "  Ku\u0308hler  2");
  CHECK(rows.at(6) == "  fridge  3");
}

TEST_CASE("a name in a file cannot drive the terminal, nor make a line of its own") {
  Page page{"Van \x1b[31m", {}};
  page.blocks.emplace_back(Paragraph{"named \x1b]0;x\a"});
  page.blocks.emplace_back(
      TableBlock{"T\n", {"a", "b"}, {false, true}, {{"x\x1b[2J\ny", "1"}, {"\u202Ez", "2"}}});
  const std::string out = text(page, {100});
  CHECK(out.find('\x1b') == out.npos);
  CHECK(out.find('\a') == out.npos);
  CHECK(out.find("\u202E") == out.npos);
  CHECK(out.find("x\\u001B[2J\\u000Ay  1") != out.npos);
}

TEST_CASE("colour stands beside words, never in their place") {
  Page page{"Title", {}};
  page.blocks.emplace_back(Heading{"Head"});
  page.blocks.emplace_back(amounts());
  std::string coloured = text(page, {100, true, true});
  const std::string plain = text(page, {100, false, true});
  CHECK(coloured != plain);
  for (const char* code : {"\x1b[1m", "\x1b[0m"})
    for (auto at = coloured.find(code); at != coloured.npos; at = coloured.find(code))
      coloured.erase(at, 4);
  CHECK(coloured == plain);
}

TEST_CASE("the time that a table takes grows with the length of a name, not with its square") {
  const auto seconds = [](std::size_t letters) {
    TableBlock table{"T", {"name", "figure", "where"}, {false, true, false}, {}};
    for (int i = 0; i < 20; ++i)
      table.rows.push_back({std::string(letters, 'n') + " of " + std::to_string(i), "12.5",
                            "beside " + std::string(letters, 'w')});
    const Page page{"P", {table}};
    double best = 1e9;
    for (int i = 0; i < 3; ++i) {
      const auto begin = std::chrono::steady_clock::now();
      const std::string out = page::text(page, {80});
      best = std::min(
          best, std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count());
      CHECK(out.size() > 40 * letters);
    }
    return best;
  };
  const double short_ones = seconds(1000), long_ones = seconds(16000);
  CHECK(long_ones < 4.0 * 16.0 * short_ones + 0.01);                    // by the square: 256 times
  if (std::getenv("UBSAN_OPTIONS") == nullptr) CHECK(long_ones < 1.0);  // sanitized, ten times that
}

}  // namespace report_text

// SPDX-License-Identifier: Apache-2.0
// What acts unseen is shown as an escape, with the room that it takes.
#include "housepower/reading/shown.hpp"

#include <doctest/doctest.h>

#include "housepower/lists/sheet.hpp"
#include "housepower/reading/csv.hpp"
#include "housepower/reading/write.hpp"

namespace lists_shown {

using namespace housepower;

TEST_CASE("controls, turns of direction, separators and what has no width are escaped") {
  for (const std::uint32_t c :
       {0x00U,   0x07U,   0x0AU,   0x1BU,   0x7FU,   0x80U,   0x85U,   0x9FU,   0xADU,
        0x61CU,  0x180EU, 0x200BU, 0x200CU, 0x200DU, 0x200EU, 0x200FU, 0x2028U, 0x2029U,
        0x202AU, 0x202EU, 0x2060U, 0x2066U, 0x2069U, 0xFEFFU, 0xE0041U})
    CHECK_MESSAGE(is_unseen(c), c);
  // A letter, a figure, a no-break space, a combining mark, Hebrew, Chinese, a pictograph and its
  // variation selector are seen, or belong to what is.
  for (const std::uint32_t c : {0x41U, 0x39U, 0xA0U, 0x301U, 0x5D0U, 0x4E2DU, 0x1F600U, 0xFE0FU})
    CHECK_MESSAGE(!is_unseen(c), c);
  CHECK(escape_of(0x1B) == "\\u001B");
  CHECK(escape_of(0x202E) == "\\u202E");
  CHECK(escape_of(0xE0041) == "\\U000E0041");
  CHECK(with_escapes("a\u202Eb\xC2\x9B\x1b[2J\n") == "a\\u202Eb\\u009B\\u001B[2J\\u000A");
  CHECK(with_escapes("a\nb\u200B", "\n") == "a\nb\\u200B");
  CHECK(with_escapes("\xff\xE2\x80") == "\uFFFD\uFFFD\uFFFD");
  CHECK(with_escapes("Küche 中 שלום é") == "Küche 中 שלום é");
}

TEST_CASE("the width of a text is that of its escapes") {
  for (const std::string text : {"a\u202Eb", "\x1b", "\u200B\u200D", "\U000E0041", "é中"}) {
    CAPTURE(with_escapes(text));
    std::size_t cells = 0;
    for (const auto& cell : shown_cells(text)) cells += static_cast<std::size_t>(cell.width);
    CHECK(shown_width(text) == cells);
    CHECK(shown_width(shown(text)) == cells);
  }
  CHECK(shown_width("a\u202Eb") == 8);
}

TEST_CASE("a cell of CSV holds an escape, but for the tabs and line breaks that CSV knows") {
  CHECK(csv_text("a\u202Eb") == "a\\u202Eb");
  CHECK(csv_text("\r=1") == "\\u000D=1");
  CHECK(csv_text("two\nlines\tx") == "\"two\nlines\tx\"");
  CHECK(csv_text("=1\u200B") == "'=1\\u200B");
}

TEST_CASE("a text comes back from TOML as it was, its unseen signs written as escapes") {
  const std::string text = "a\u202Eb\u009B\x1b\u2028\U000E0041 \\ \" \t\n é";
  const Node node{Node::Table{{"name", {}, {text, {}}}}, {}};
  const std::string toml = toml_of(node);
  CHECK(toml.find("\\u202E") != toml.npos);
  for (const std::string raw : {"\u202E", "\u009B", "\x1b", "\u2028", "\U000E0041"})
    CHECK(toml.find(raw) == toml.npos);
  Diagnostics none;
  const auto back = parse_toml(toml, "x.toml", none);
  REQUIRE(back);
  CHECK(back->text_at("name") == text);
}

}  // namespace lists_shown

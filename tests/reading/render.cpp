// SPDX-License-Identifier: Apache-2.0
// Diagnostics as a person reads them.
#include <doctest/doctest.h>

#include "housepower/reading/diagnostic.hpp"

namespace reading_render {

using namespace housepower;

namespace {
FileReader one_file(std::string text) {
  return [text](std::string_view path) -> std::optional<std::string> {
    if (path == "van.toml") return text;
    return std::nullopt;
  };
}
std::string rendered(const std::string& text, Place place, std::string hint = {}) {
  Diagnostics d;
  d.error(std::move(place), "run/x/length", "is wrong", std::move(hint));
  return render(d, one_file(text));
}
std::size_t count(std::string_view text, std::string_view part) {
  std::size_t n = 0;
  for (auto at = text.find(part); at != text.npos; at = text.find(part, at + 1)) ++n;
  return n;
}
}  // namespace

TEST_CASE("a diagnostic shows message, place, line, caret and help") {
  CHECK(rendered("a\nb\nlength = \"4 A\"\n", {"van.toml", 3, 10, 5}, "write \"4 m\"") ==
        "error: `run/x/length` is wrong\n"
        " --> van.toml:3:10\n"
        "  |\n"
        "3 | length = \"4 A\"\n"
        "  |          ^^^^^\n"
        "  = help: write \"4 m\"\n"
        "\n"
        "1 error in van.toml\n");
}

TEST_CASE("nothing to say is nothing shown") { CHECK(render({}, one_file("")).empty()); }

TEST_CASE("a file as a whole, or one that cannot be read, is shown by its name") {
  CHECK(rendered("a", {"van.toml"}) ==
        "error: `run/x/length` is wrong\n --> van.toml\n\n1 error in van.toml\n");
  CHECK(rendered("a", {"gone.toml", 7, 2, 1}) ==
        "error: `run/x/length` is wrong\n --> gone.toml:7:2\n\n1 error in gone.toml\n");
  CHECK(rendered("a", {"van.toml", 9, 1, 1}).find(" | ") == std::string::npos);
}

TEST_CASE("carets stand below tabs, wide and combining characters") {
  struct Row {
    std::string_view line;
    int column;
    std::string_view shown, carets;
  };
  for (const Row& row :
       {Row{"\tx", 2, "1 |     x", "  |     ^"}, Row{"ab\tx", 4, "1 | ab  x", "  |     ^"},
        Row{"é°x", 3, "1 | é°x", "  |   ^"}, Row{"電x", 2, "1 | 電x", "  |   ^"},
        Row{"e\u0301x", 3, "1 | e\u0301x", "  |  ^"}, Row{"x\r", 1, "1 | x", "  | ^"},
        Row{"ab", 9, "1 | ab", "  |   ^"}}) {
    CAPTURE(row.line);
    const auto text = rendered(std::string(row.line), {"van.toml", 1, row.column, 1});
    CHECK(text.find(std::string(row.shown) + "\n" + std::string(row.carets) + "\n") != text.npos);
  }
}

TEST_CASE("what a terminal would obey is never sent to it") {
  Diagnostics d;
  d.error({"van.toml", 1, 1, 1}, "a\x1b[2J", "got \"\x1b]0;x\x07\" and \u202E", "\x9b");
  const auto text = render(d, one_file("# \x1b[31m \x7f \xC2\x9B \xff\n"));
  for (const char c : {'\x1b', '\x07', '\x7f', '\xff'}) CHECK(text.find(c) == text.npos);
  CHECK(text.find("\u202E") == text.npos);
  CHECK(text.find("\xC2\x9B") == text.npos);
  // ESC, ESC and BEL, U+202E; the lone 0x9B; in the line ESC, DEL, U+009B and the lone 0xFF.
  CHECK(count(text, "\\u001B") == 3);
  for (const char* escape : {"\\u0007", "\\u202E", "\\u007F", "\\u009B"})
    CHECK(count(text, escape) == 1);
  CHECK(count(text, "\uFFFD") == 2);
}

TEST_CASE("a long line is cut around the caret") {
  const std::string line = std::string(500, 'a') + "HERE" + std::string(20000000, 'b');
  const auto text = rendered(line, {"van.toml", 1, 501, 4});
  CHECK(text.size() < 600);
  const auto shown = text.find("…a"), caret = text.find("^^^^");
  REQUIRE(shown != text.npos);
  REQUIRE(caret != text.npos);
  // The ellipsis is three bytes and one column.
  const auto line_start = text.rfind('\n', shown) + 1, caret_start = text.rfind('\n', caret) + 1;
  CHECK(text.find("HERE") - line_start - 2 == caret - caret_start);
  CHECK(count(text, "…") == 2);
}

TEST_CASE("diagnostics are sorted by place and counted") {
  Diagnostics d;
  d.warning({"van.toml", 2, 1, 1}, "second", "w");
  d.error({"van.toml", 1, 5, 1}, "later", "e");
  d.error({"base.toml", 1, 1, 1}, "other", "e");
  d.error({"van.toml", 1, 2, 1}, "first", "e");
  d.warning({"van.toml", 2, 1, 1}, "third", "w");
  d.sort_by_place();
  std::string order;
  for (const auto& one : d.all) order += one.key + " ";
  CHECK(order == "first later second third other ");
  const auto text = render(d, one_file("a\nb\n"), 2);
  CHECK(count(text, "error: ") == 2);
  CHECK(text.find("and 3 more\n") != text.npos);
  CHECK(text.find("3 errors, 2 warnings in van.toml, base.toml\n") != text.npos);
  Diagnostics only;
  only.warning({"van.toml"}, "", "is odd");
  CHECK(!only.any_error());
  CHECK(render(only, nullptr) == "warning: is odd\n --> van.toml\n\n1 warning in van.toml\n");
}

}  // namespace reading_render

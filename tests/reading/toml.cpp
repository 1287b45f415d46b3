// SPDX-License-Identifier: Apache-2.0
// The tree of a document: places, order, and texts that would hurt a careless parser.
#include <doctest/doctest.h>

#include <ctime>

#include "housepower/reading/node.hpp"

namespace reading_toml {

using namespace housepower;

namespace {
Node tree(std::string_view text) {
  Diagnostics d;
  auto node = parse_toml(text, "f", d);
  REQUIRE(node);
  CHECK(d.all.empty());
  return *node;
}
Diagnostic refused(std::string_view text) {
  Diagnostics d;
  CHECK(!parse_toml(text, "f", d));
  REQUIRE(d.all.size() == 1);
  CHECK(d.all[0].place.file == "f");
  return d.all[0];
}
std::string repeated(std::string_view part, int times) {
  std::string out;
  for (int i = 0; i < times; ++i) out += part;
  return out;
}
}  // namespace

TEST_CASE("every key and value knows its place, columns counted in code points") {
  const auto node = tree("b = \"4 A\"\na = \"é°\" # °\n[x.y]\nl = [1, {z = 2}]\n");
  CHECK(node.at("b")->place == Place{"f", 1, 5, 5});
  CHECK(node.find("b")->place == Place{"f", 1, 1, 1});
  CHECK(node.at("a")->place == Place{"f", 2, 5, 4});
  CHECK(node.at("x/y/l/0")->place == Place{"f", 4, 6, 1});
  CHECK(node.at("x/y/l/1/z")->place == Place{"f", 4, 14, 1});
  CHECK(node.at("x/y")->place.line == 3);
}

TEST_CASE("entries stand in the order of the text") {
  const auto node = tree("z = 1\nm = 2\na = 3\n[q]\n[b]\n");
  std::string keys;
  for (const auto& entry : std::get<Node::Table>(node.value)) keys += entry.key;
  CHECK(keys == "zmaqb");
}

TEST_CASE("values keep their type") {
  const auto node = tree("a = true\nb = 1\nc = 1.0\nd = 'x'\ne = []\n");
  CHECK(std::get<bool>(node.at("a")->value));
  CHECK(std::get<std::int64_t>(node.at("b")->value) == 1);
  CHECK(std::get<double>(node.at("c")->value) == 1.0);
  CHECK(std::get<std::string>(node.at("d")->value) == "x");
  CHECK(std::get<Node::List>(node.at("e")->value).empty());
}

TEST_CASE("a path leads by key, by name and by position") {
  const auto node = tree("[[run]]\nname = \"1\"\nx = 10\n[[run]]\nname = \"to fridge\"\nx = 20\n"
                         "[[run.guard]]\nr = 30\n[[run]]\nx = 40\n");
  const auto number = [&](std::string_view path) {
    const Node* at = node.at(path);
    return at ? std::get<std::int64_t>(at->value) : -1;
  };
  CHECK(number("run/to fridge/x") == 20);
  CHECK(number("run/to fridge/guard/0/r") == 30);
  CHECK(number("run/0/x") == 10);
  CHECK(number("run/1/x") == 10);  // a name comes before a position
  CHECK(number("run/2/x") == 40);
  for (const std::string_view path : {"run/3/x", "run/x", "run/-1/x", "run/99999999999/x", "runs",
                                      "run//x", "run/0/x/y", "/run/0/x", "run/0x0/x"}) {
    CAPTURE(path);
    CHECK(node.at(path) == nullptr);
  }
  CHECK(node.at("") == &node);
}

TEST_CASE("a byte order mark and Windows line ends are harmless") {
  const auto node = tree("\xEF\xBB\xBF# é\r\na = 1\r\nb = \"x\"\r\n");
  CHECK(node.at("b")->place == Place{"f", 3, 5, 3});
  CHECK(std::get<std::string>(node.at("b")->value) == "x");
}

TEST_CASE("a line-ending backslash may be followed by any character") {
  const auto node = tree("a = \"\"\"x \\\n   °C\"\"\"\n");
  CHECK(std::get<std::string>(node.at("a")->value) == "x °C");
  CHECK(refused("a = \"\"\"\\°\"\"\"").place.line == 1);
}

TEST_CASE("text that is no TOML gives one error at its place") {
  struct Row {
    std::string_view text;
    int line, column;
  };
  using namespace std::string_view_literals;
  for (const Row& row : {Row{"[\n", 1, 2},
                         Row{"[# x\n", 1, 2},
                         Row{"[[\x7f", 1, 3},
                         Row{"[[", 1, 3},
                         Row{"[", 1, 2},
                         Row{"a = 1\nb = \"x", 2, 7},
                         Row{"a = \"\"\"x\ny", 2, 2},
                         Row{"a =", 1, 4},
                         Row{"a = 1\na = 2", 2, 5},
                         Row{"a = 40 °C", 1, 8},
                         Row{"°C = 1", 1, 1},
                         Row{"a = \"x\"\nb = 5 Ω # Ω", 2, 7},
                         Row{"a = \"\xff\"", 1, 5},
                         Row{"a = 'x\xb0'", 1, 6},
                         Row{"a = 1\n# \xff", 2, 2},
                         Row{"a\xff = 1", 1, 2},
                         Row{"a = 1\"°\"", 1, 6},
                         Row{"a = [1.'°']", 1, 8},
                         Row{"a = 1\n\0"sv, 2, 1},
                         Row{"a = \"\0\""sv, 1, 6},
                         Row{"# \0"sv, 1, 3},
                         Row{"a = 99999999999999999999", 1, 25}}) {
    CAPTURE(row.text);
    const auto said = refused(row.text);
    CAPTURE(said.message);
    CHECK(said.place.line == row.line);
    CHECK(said.place.column == row.column);
    CHECK(!said.message.empty());
  }
  CHECK(refused("a = 40 °C").hint.find("quotes") != std::string::npos);
  CHECK(refused("\n  [\n").message.substr(0, 16) == "not valid TOML: ");
}

TEST_CASE("keys of up to 64 parts and 256 levels are read, deeper ones refused") {
  tree("a" + repeated(".a", 63) + " = 1.5");
  tree("[a" + repeated(".a", 63) + "]\nb" + repeated(".b", 63) + " = 1.5");
  CHECK(refused("x = 1\na" + repeated(".a", 64) + " = 1").place.line == 2);
  CHECK(refused("[a" + repeated(".a", 64) + "]").message.find("64 dotted parts") !=
        std::string::npos);
  CHECK(refused("[a" + repeated(".a", 100000) + "]").place.line == 1);
  CHECK(refused("x = {a" + repeated("  .  a", 100000) + " = 1}").place.line == 1);
  CHECK(refused("\"a\"" + repeated(".'a'", 100000) + " = 1").place.line == 1);
  tree("a = " + repeated("[", 255) + repeated("]", 255));
  CHECK(refused("a = " + repeated("[", 257) + repeated("]", 257)).message.find("256 levels") !=
        std::string::npos);
  CHECK(refused("a = " + repeated("[", 1000000)).place.column == 261);
  CHECK(refused("a = " + repeated("{a=", 100000)).place.line == 1);
  CHECK(
      refused("a = " + repeated("{" + std::string("a") + repeated(".a", 60) + "=", 5)).place.line ==
      1);
  CHECK(refused(repeated("[\n", 100000)).place.line > 0);
}

TEST_CASE("dots, brackets and signs in strings and comments count for nothing") {
  const std::string dots = repeated(".[{\u00B0", 400);
  const auto node =
      tree("# " + dots + " \" ' \"\"\"\na = \"" + dots + " \\\" # '\"\nb = '" + dots +
           "\\'\nc = \"\"\"" + dots + "\n\\\"\"\" " + dots + "\"\"\"\"\"\nd = '''" + dots +
           "\n'' \\'''''\n\"" + dots + "\" = \"\" # " + dots + "\ne = '' # \"\nf = 1.5\n");
  CHECK(node.at("f")->place.line == 10);
  CHECK(tree("a = [" + repeated("1.5, ", 1000) + "]").at("a/999") != nullptr);
  CHECK(tree("a = [" + repeated("[1.5], {b.c = 2.5}, ", 1000) + "]").at("a/1999/b/c") != nullptr);
}

TEST_CASE("a string that is not closed hides nothing from the limits") {
  for (const std::string_view start :
       {"a = \"x\n", "a = 'x\n", "a = \"\\\n", "a = \"\"\"\"\"\"\n", "a = ''''''\n"}) {
    CAPTURE(start);
    CHECK(refused(std::string(start) + "[a" + repeated(".a", 100000) + "]").place.line == 2);
  }
}

TEST_CASE("a text of more than 64 MB is refused") {
  CHECK(refused(std::string((64u << 20u) + 1, '#')).message == "is larger than 64 MB");
}

TEST_CASE("large documents are quick") {
  const auto seconds = [](const std::string& text) {
    const auto start = std::clock();  // of this process: others on the machine do not count
    tree(text);
    return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
  };
  const double string = seconds("a = \"" + std::string(20000000, 'x') + "\"");
  std::string lines;
  for (int i = 0; i < 5000; ++i)
    lines += "[[run]]\nname = \"run number " + std::to_string(i) +
             "\"\nlength = \"2.5 m\"\nlaid = \"free\"\n";
  const double many = seconds(lines);
  CAPTURE(string);
  CAPTURE(many);
  // The goal is 0.5 s each in a release build; sanitizers are some ten times slower, and what grows
  // with the square of the size takes minutes.
  CHECK(string < 10.0);
  CHECK(many < 10.0);
}

}  // namespace reading_toml

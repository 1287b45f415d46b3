// SPDX-License-Identifier: Apache-2.0
// Documents that extend others, and keys overridden from the command line.
#include <doctest/doctest.h>

#include <map>

#include "housepower/reading/parsed_files.hpp"
#include "small_document.hpp"

namespace reading_document {

using namespace housepower;

namespace {

using Files = std::map<std::string, std::string, std::less<>>;

FileReader reader_of(const Files& files) {
  return [&files](std::string_view path) -> std::optional<std::string> {
    const auto found = files.find(path);
    if (found == files.end()) return std::nullopt;
    return found->second;
  };
}
Node document(const Files& files) {
  Diagnostics d;
  auto node = read_document("van.toml", reader_of(files), d);
  for (const auto& one : d.all) CAPTURE(one.message);
  REQUIRE(node);
  CHECK(d.all.empty());
  return *node;
}
Diagnostic refused(const Files& files) {
  Diagnostics d;
  CHECK(!read_document("van.toml", reader_of(files), d));
  REQUIRE(d.all.size() == 1);
  return d.all[0];
}
std::int64_t number(const Node& node, std::string_view path) {
  const Node* at = node.at(path);
  REQUIRE(at);
  return std::get<std::int64_t>(at->value);
}
std::size_t size(const Node& node, std::string_view path) {
  return std::get<Node::List>(node.at(path)->value).size();
}

}  // namespace

TEST_CASE("a document adds to the one that it extends") {
  const Files files{
      {"van.toml", "extends = \"base.toml\"\na = 2\nlist = [9]\n[t]\nx = 20\n"
                   "[[run]]\nname = \"two\"\nlength = 22\n[[run]]\nname = \"new\"\nlength = 5\n"
                   "[[run]]\nname = \"three\"\nremove = true\n"},
      {"base.toml",
       "a = 1\nb = 1\nlist = [1, 2]\n[t]\nx = 1\ny = 1\n[[run]]\nname = \"one\"\nlength = 1\n"
       "[[run]]\nname = \"two\"\nlength = 2\nwidth = 2\n[[run]]\nname = \"three\"\nlength = 3\n"}};
  const auto node = document(files);
  CHECK(number(node, "a") == 2);
  CHECK(number(node, "b") == 1);
  CHECK(number(node, "t/x") == 20);
  CHECK(number(node, "t/y") == 1);
  CHECK(size(node, "list") == 1);  // a list of values is replaced
  CHECK(size(node, "run") == 3);
  CHECK(number(node, "run/two/length") == 22);
  CHECK(number(node, "run/two/width") == 2);
  CHECK(number(node, "run/new/length") == 5);
  CHECK(node.at("run/three") == nullptr);
  CHECK(node.find("extends") == nullptr);
  // Each key keeps the place where it stands.
  CHECK(node.at("run/two/length")->place.file == "van.toml");
  CHECK(node.at("run/two/width")->place.file == "base.toml");
  CHECK(node.at("run/one")->place.file == "base.toml");
}

TEST_CASE("a list of keys takes these away, in any table; what is set beside it stands") {
  const Files files{
      {"van.toml",
       "remove = [\"a\", \"t\"]\n[[run]]\nname = \"one\"\nremove = [\"width\", \"box\"]\nwidth = "
       "7\nextra = 1\n[box]\nremove = [\"x\"]\n"},
      {"base.toml", "a = 1\nb = 1\n[t]\nx = 1\n[box]\nx = 1\ny = 2\n"
                    "[[run]]\nname = \"one\"\nlength = 1\nwidth = 2\nbox = { x = 1 }\n"}};
  Files chain = files;
  chain["van.toml"] = "extends = \"base.toml\"\n" + chain["van.toml"];
  const auto node = document(chain);
  for (const char* gone : {"a", "t", "remove", "run/one/box", "run/one/remove", "box/x"}) {
    CAPTURE(gone);
    CHECK(node.at(gone) == nullptr);
  }
  CHECK(number(node, "b") == 1);
  CHECK(number(node, "box/y") == 2);
  CHECK(number(node, "run/one/length") == 1);
  CHECK(number(node, "run/one/width") == 7);
  CHECK(number(node, "run/one/extra") == 1);
}

TEST_CASE("a key to take away that is not there stays, to be told at its place") {
  const Files files{{"van.toml", "extends = \"b\"\n[t]\nremove = [\"x\", \"z\"]\n"},
                    {"b", "[t]\nx = 1\n"}};
  const auto node = document(files);
  REQUIRE(node.at("t/remove/0") != nullptr);
  CHECK(std::get<std::string>(node.at("t/remove/0")->value) == "z");
  CHECK(node.at("t/remove/0")->place.line == 3);
  CHECK(node.at("t/remove/0")->place.column == 16);
  CHECK(node.at("t/remove/1") == nullptr);
  CHECK(node.at("t/x") == nullptr);
}

TEST_CASE("merging hides no mistake") {
  const Files twice{{"van.toml", "extends = \"b\"\n[[run]]\nname = \"x\"\n[[run]]\nname = \"x\"\n"},
                    {"b", "[[run]]\nname = \"x\"\n"}};
  CHECK(size(document(twice), "run") == 2);  // the duplicate stays, to be found
  const Files nothing{{"van.toml", "extends = \"b\"\n[[run]]\nname = \"y\"\nremove = true\n"},
                      {"b", "[[run]]\nname = \"x\"\n"}};
  CHECK(document(nothing).at("run/y/remove") !=
        nullptr);  // the reader says that it removes nothing
}

TEST_CASE("lists of tables without names are replaced, not mixed") {
  const Files files{{"van.toml", "extends = \"b\"\n[[g]]\nr = 1\n"},
                    {"b", "[[g]]\nr = 2\n[[g]]\nr = 3\n"}};
  const auto node = document(files);
  CHECK(size(node, "g") == 1);
  CHECK(number(node, "g/0/r") == 1);
}

TEST_CASE("an extended file is looked for beside the one that names it, and may extend another") {
  const Files files{{"van.toml", "extends = \"lib/./middle.toml\"\na = 3\n"},
                    {"lib/middle.toml", "extends = \"../other/base.toml\"\na = 2\nb = 2\n"},
                    {"other/base.toml", "extends = \"/root.toml\"\na = 1\nb = 1\nc = 1\n"},
                    {"/root.toml", "d = 0\n"}};
  const auto node = document(files);
  CHECK(number(node, "a") == 3);
  CHECK(number(node, "b") == 2);
  CHECK(number(node, "c") == 1);
  CHECK(number(node, "d") == 0);
}

TEST_CASE("two documents may rest on the same base") {
  const Files files{{"van.toml", "extends = \"base.toml\"\n"},
                    {"bus.toml", "extends = \"base.toml\"\na = 2\n"},
                    {"base.toml", "a = 1\n"}};
  CHECK(number(document(files), "a") == 1);
  Diagnostics d;
  CHECK(number(*read_document("bus.toml", reader_of(files), d), "a") == 2);
}

TEST_CASE("files parsed for one document serve the next, as long as their text is the same") {
  Files files{{"van.toml", "extends = \"base.toml\"\nb = 1\n"},
              {"bus.toml", "extends = \"base.toml\"\na = 2\n"},
              {"base.toml", "a = 1\nb = 2\n"}};
  ParsedFiles bases;
  Diagnostics d;
  const auto read = [&](const char* file) {
    return read_document(file, reader_of(files), d, &bases);
  };
  CHECK(number(read("van.toml").value(), "b") == 1);
  CHECK(number(read("bus.toml").value(), "b") == 2);  // untouched by what went over it
  CHECK(read("bus.toml")->at("b")->place == Place{"base.toml", 2, 5, 1});
  files["base.toml"] = "a = 1\nb = 3\n";
  CHECK(number(read("bus.toml").value(), "b") == 3);
  CHECK(d.all.empty());
  files["base.toml"] = "a =";
  CHECK(!read("van.toml"));
  CHECK(!read("bus.toml"));
  CHECK(d.all.size() == 2);  // each is told
}

TEST_CASE("a ring, a missing file, a wrong path and an endless chain are errors at their place") {
  const auto ring = refused(
      {{"van.toml", "extends = \"a/b.toml\"\n"}, {"a/b.toml", "\nextends = \"./../van.toml\"\n"}});
  CHECK(ring.message == "goes round in a ring: van.toml → a/b.toml → van.toml");
  CHECK(ring.place == Place{"a/b.toml", 2, 11, 15});
  const auto itself = refused({{"van.toml", "extends = \"van.toml\"\n"}});
  CHECK(itself.message == "goes round in a ring: van.toml → van.toml");
  const auto missing = refused({{"van.toml", "extends = \"no.toml\"\n"}});
  CHECK(missing.message == "cannot read the file \"no.toml\"");
  CHECK(missing.place == Place{"van.toml", 1, 11, 9});
  CHECK(refused({}).place == Place{"van.toml"});
  CHECK(refused({{"van.toml", "extends = 5\n"}}).key == "extends");
  CHECK(refused({{"van.toml", "extends = \"\"\n"}}).key == "extends");
  CHECK(refused({{"van.toml", "extends = \"b\"\n"}, {"b", "a ="}}).place.file == "b");
  Diagnostics d;
  const FileReader endless = [](std::string_view) {
    return std::optional<std::string>("extends = \"x/y\"");
  };
  CHECK(!read_document("van.toml", endless, d));
  REQUIRE(d.all.size() == 1);
  CHECK(d.all[0].message == "more than 16 files extend one another");
}

namespace {
constexpr std::string_view van = "schema = 1\n[[wire]]\nname = \"to fridge\"\nlength = \"2 "
                                 "m\"\npower = \"4 W\"\ntimes = [\"1 s\", \"2 s\"]\n"
                                 "[[wire.guard]]\ntype = \"a\"\nrating = \"5 A\"\n";

struct Changed {
  Diagnostics diagnostics;
  Node node;
  bool done = false;
};
Changed changed(std::string_view assignment) {
  Changed c;
  c.node = *parse_toml(van, "van.toml", c.diagnostics);
  c.done = set(c.node, assignment, c.diagnostics);
  return c;
}
}  // namespace

TEST_CASE("one key is overridden by its path") {
  auto c = changed("wire/to fridge/length = 5 m");
  CHECK(c.done);
  CHECK(std::get<std::string>(c.node.at("wire/to fridge/length")->value) == "5 m");
  CHECK(c.node.at("wire/to fridge/length")->place == Place{"--set", 1, 25, 3});
  CHECK(std::get<std::string>(
            changed("wire/0/guard/0/rating=\"8 A\"").node.at("wire/0/guard/0/rating")->value) ==
        "8 A");
  CHECK(std::get<std::string>(changed("wire/0/times/1=9 s").node.at("wire/0/times/1")->value) ==
        "9 s");
  CHECK(std::get<std::int64_t>(changed("schema=2").node.at("schema")->value) == 2);
  CHECK(std::get<double>(changed("wire/0/duty=0.5").node.at("wire/0/duty")->value) == 0.5);
  CHECK(std::get<bool>(changed("wire/0/earthed=true").node.at("wire/0/earthed")->value));
  CHECK(changed("wire/0/times=[\"1 h\"]").node.at("wire/0/times/0")->place.file == "--set");
  // What is no TOML by itself is text: a date, a window of time, more than one line.
  for (const std::string_view value : {"2024-05-01", "22:00-06:00", "40 °C", "a\nb = 3", "50 %"}) {
    CAPTURE(value);
    const auto with = changed("wire/0/ambient=" + std::string(value));
    CHECK(std::get<std::string>(with.node.at("wire/0/ambient")->value) == value);
  }
}

TEST_CASE("a key or a single table that is not there yet is added") {
  const auto key = changed("wire/to fridge/ambient=40 °C");
  CHECK(key.done);
  CHECK(key.node.find("wire") != nullptr);
  CHECK(key.node.at("wire/0")->find("ambient")->place.file == "--set");
  const auto table = changed("box/depth=0.4 m");
  CHECK(table.done);
  CHECK(std::get<std::string>(table.node.at("box/depth")->value) == "0.4 m");
}

TEST_CASE("a mistyped last key is refused by the reader, at --set") {
  auto c = changed("wire/to fridge/lenght=5 m");
  CHECK(c.done);
  Reading reading{c.diagnostics};
  CHECK(!read<small::File>(c.node, reading));
  REQUIRE(c.diagnostics.all.size() == 1);
  CHECK(c.diagnostics.all[0].place == Place{"--set", 1, 1, 21});
  CHECK(c.diagnostics.all[0].hint == "did you mean \"length\"?");
}

TEST_CASE("a path that leads nowhere is an error with what may have been meant") {
  struct Row {
    std::string_view assignment, key, message, hint;
  };
  for (const Row& row :
       {Row{"wire/to frigde/length=5 m", "wire/to frigde",
            "leads nowhere: there is no \"to frigde\" in \"wire\"", "did you mean \"to fridge\"?"},
        Row{"wire/sink/length=5 m", "wire/sink", "leads nowhere: there is no \"sink\" in \"wire\"",
            "there is \"to fridge\""},
        Row{"wrie/to fridge/length=5 m", "wrie", "leads nowhere: there is no \"wrie\"",
            "did you mean \"wire\"?"},
        Row{"wire/to fridge/guard/7/rating=5 A", "wire/to fridge/guard/7",
            "leads nowhere: there is no \"7\" in \"wire/to fridge/guard\"", ""},
        Row{"wire/sink=5", "wire/sink", "leads nowhere: there is no \"sink\" in \"wire\"",
            "there is \"to fridge\""},
        Row{"schema/x=5", "schema/x", "leads nowhere: there is no \"x\" in \"schema\"", ""},
        Row{"no value", "", "wants a path, \"=\" and a value, got \"no value\"",
            "for example --set 'run/fridge/length=5 m'"},
        Row{"=5", "", "wants a path, \"=\" and a value, got \"=5\"",
            "for example --set 'run/fridge/length=5 m'"}}) {
    CAPTURE(row.assignment);
    const auto c = changed(row.assignment);
    CHECK(!c.done);
    REQUIRE(c.diagnostics.all.size() == 1);
    CHECK(c.diagnostics.all[0].key == row.key);
    CHECK(c.diagnostics.all[0].message == row.message);
    CHECK(c.diagnostics.all[0].hint == row.hint);
    CHECK(c.diagnostics.all[0].place.file == "--set");
  }
}

}  // namespace reading_document

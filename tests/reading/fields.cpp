// SPDX-License-Identifier: Apache-2.0
// What else walks a field list: defaults, the JSON Schema, the manual page and the starter.
#include <doctest/doctest.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <regex>

#include "housepower/reading/schema.hpp"
#include "small_document.hpp"

namespace reading_fields {

using namespace housepower;
using Json = nlohmann::json;

namespace {
struct Filled {
  small::File file;
  std::vector<Assumption> assumptions;
  [[nodiscard]] std::string value(std::string_view path) const {
    for (const auto& a : assumptions)
      if (a.path == path) return a.value;
    return "(not assumed)";
  }
};
Filled filled(std::string_view text, Defaults which) {
  const auto read = small::read_text_of_file(text);
  REQUIRE(read.file);
  Filled out{*read.file, {}};
  fill_defaults(fields<small::File>, &out.file, which, "", out.assumptions);
  return out;
}
Json schema() { return Json::parse(json_schema(fields<small::File>, "small \"file\"")); }
Json wire_schema() { return schema().at("properties").at("wire").at("items"); }
bool has(std::string_view text, std::string_view part) { return text.find(part) != text.npos; }
}  // namespace

TEST_CASE("what was left out is filled in and listed under its path") {
  const auto f = filled(small::wire_with("[box]\n") +
                            "[[wire]]\nname = \"x\"\nlength = \"1 m\"\npower = \"1 W\"\n"
                            "duty = 0.5\ntimes = [\"1 s\"]\n",
                        Defaults::ordinary);
  const auto& wire = f.file.wire[0];
  CHECK(wire.duty->value() == 1.0);
  CHECK(*wire.lie == small::Lie::clipped);
  CHECK(!*wire.earthed);
  CHECK(*wire.count == 1);
  CHECK(!wire.ambient);
  CHECK(f.file.box->depth->value() == 0.5);
  CHECK(f.value("wire/fridge/lie") == "clipped");
  CHECK(f.value("wire/fridge/duty") == "100 %");
  CHECK(f.value("box/depth") == "0.5 m");
  CHECK(f.value("wire/x/duty") == "(not assumed)");
  CHECK(f.value("wire/x/lie") == "clipped");
  for (const auto& a : f.assumptions) CHECK(!a.why.empty());
}

TEST_CASE("a default stays away where another key of its group is stated") {
  const auto f = filled(small::wire_with("times = [\"1 s\"]"), Defaults::ordinary);
  CHECK(!f.file.wire[0].count);
  CHECK(f.value("wire/fridge/count") == "(not assumed)");
}

TEST_CASE("the kindest default stands in where it differs, else the ordinary one") {
  const auto f = filled(small::wire_with(""), Defaults::kindest);
  CHECK(*f.file.wire[0].lie == small::Lie::free);
  CHECK(*f.file.wire[0].count == 3);
  CHECK(f.file.wire[0].duty->value() == 1.0);
  CHECK(f.value("wire/fridge/lie") == "free");
}

TEST_CASE("the schema is JSON and has every key with its description") {
  const auto all = schema();
  CHECK(all.at("$schema") == "https://json-schema.org/draft/2020-12/schema");
  CHECK(all.at("title") == "small \"file\"");
  CHECK(all.at("required") == Json{"schema"});
  CHECK(all.at("additionalProperties") == false);
  CHECK(all.at("properties").contains("extends"));
  const auto wire = wire_schema();
  CHECK(wire.at("additionalProperties") == false);
  CHECK(wire.at("required") == Json{"name", "length"});
  for (const auto& f : fields<small::Wire>) {
    if (f.role != Field::Role::member) continue;
    CAPTURE(f.key);
    REQUIRE(wire.at("properties").contains(std::string(f.key)));
    CHECK(has(wire["properties"][std::string(f.key)]["description"].get<std::string>(), f.says));
  }
  for (const auto* key : {"note", "own", "remove"}) CHECK(wire["properties"].contains(key));
  const auto guard = wire["properties"]["guard"]["items"];
  CHECK(!guard["properties"].contains("remove"));  // without a name nothing can be removed
  CHECK(guard["properties"]["rating"]["description"] == "Rated current. Must be more than 0 A.");
  CHECK(all["properties"]["box"]["properties"]["guard"]["properties"].contains("type"));
}

TEST_CASE("in a pack a member can be dropped, and keys of any table") {
  const auto pack = Json::parse(json_schema(fields<small::File>, "pack", SchemaOf::pack));
  const auto keys = pack["properties"];
  CHECK(keys["remove"]["type"] == "array");
  CHECK(keys["box"]["properties"]["remove"]["items"]["type"] == "string");
  const auto wire = keys["wire"]["items"]["properties"]["remove"]["anyOf"];
  CHECK(wire[0]["type"] == "boolean");
  CHECK(wire[1]["type"] == "array");
  CHECK(!schema()["properties"].contains("remove"));
}

TEST_CASE("the schema knows the shapes, the defaults and the limits") {
  const auto keys = wire_schema()["properties"];
  CHECK(keys["lie"]["enum"] == Json{"free", "clipped"});
  CHECK(keys["lie"]["default"] == "clipped");
  CHECK(keys["earthed"]["type"] == "boolean");
  CHECK(keys["earthed"]["default"] == false);
  CHECK(keys["count"]["type"] == "integer");
  CHECK(keys["count"]["default"] == 1);
  CHECK(keys["count"]["minimum"] == 1);
  CHECK(keys["count"]["maximum"] == 9);
  CHECK(keys["duty"]["anyOf"][0]["type"] == "number");
  CHECK(keys["duty"]["anyOf"][0]["maximum"] == 1);
  CHECK(keys["times"]["type"] == "array");
  CHECK(keys["times"]["items"]["type"] == "string");
  CHECK(keys["name"]["type"] == "string");
  CHECK(keys["length"]["examples"] == Json{"2.4 m"});
}

TEST_CASE("the pattern of a quantity takes what the reader takes") {
  struct Row {
    std::string_view key, text;
    bool fits;
  };
  const auto keys = wire_schema()["properties"];
  for (const Row& row :
       {Row{"length", "2.4 m", true}, Row{"length", "12 ft", true}, Row{"length", "-2mm", true},
        Row{"length", "\u22122 mm", true}, Row{"length", "1e3 m", true},
        Row{"length", "2.4", false}, Row{"length", "2.4 A", false}, Row{"length", "m", false},
        Row{"length", "2,4 m", true}, Row{"length", "2,45 m", true}, Row{"length", "0,125 m", true},
        Row{"length", "1,250 m", false}, Row{"length", "1,2500 m", true},
        Row{"length", "1,2,3 m", false}, Row{"ambient", "40 °C", true},
        Row{"ambient", "40 degC", true}, Row{"duty", "90 %", true}, Row{"duty", "0.9", true},
        Row{"duty", "0.9 m", false}}) {
    CAPTURE(row.key);
    CAPTURE(row.text);
    const auto& key = keys[std::string(row.key)];
    const auto pattern = key.contains("anyOf") ? key["anyOf"][1]["pattern"] : key["pattern"];
    CHECK(std::regex_search(std::string(row.text), std::regex(pattern.get<std::string>())) ==
          row.fits);
    const auto read = small::read_text_of_file(
        row.key == "length"
            ? "schema = 1\n[[wire]]\nname = \"x\"\npower = \"1 W\"\nlength = \"" +
                  std::string(row.text) + "\""
            : small::wire_with(std::string(row.key) + " = \"" + std::string(row.text) + "\""));
    if (!row.text.ends_with("mm")) CHECK(read.file.has_value() == row.fits);
  }
}

TEST_CASE("the schema keeps groups of keys") {
  const auto groups = wire_schema()["allOf"];
  REQUIRE(groups.size() == 2);
  CHECK(groups[0]["oneOf"] == Json::parse(R"([{"required":["power"]},{"required":["current"]}])"));
  CHECK(groups[1]["oneOf"].size() == 3);  // neither, or just one of the two
  CHECK(groups[1]["oneOf"][0].contains("not"));
}

TEST_CASE("the manual has one table for each kind of table and names every key") {
  const auto page = manual(fields<small::File>, "The file");
  for (const auto* part :
       {"# The file\n", "## `[box]`", "## `[box.guard]`", "## `[[wire]]`", "## `[[wire.guard]]`",
        "| `length` | a length, more than 0 m | needed | One way. | `\"2.4 m\"` |",
        "| `lie` | one of free, clipped | `\"clipped\"` |", "How many \\| alike.",
        "Exactly one of `power`, `current`.", "At most one of `count`, `times`."}) {
    CAPTURE(part);
    CHECK(has(page, part));
  }
}

TEST_CASE("every key is named once, and the file parses without its signs of comment") {
  const auto text = every_key(fields<small::File>);
  CHECK(has(text, "# schema = 1  # Format.\n"));
  CHECK(has(text, "# [[wire]]\n"));
  CHECK(has(text, "# length = \"2.4 m\"  # One way.\n"));
  CHECK(has(text, "# [[wire.guard]]\n"));
  CHECK(has(text, "## Its fuses.\n"));
}

TEST_CASE("a default that its own field cannot read is our mistake") {
  struct Bad {
    std::optional<Length> length;
  };
  const std::array list{field<&Bad::length>("length", "").or_else("4 A")};
  Bad bad;
  std::vector<Assumption> assumptions;
  CHECK_THROWS_AS(fill_defaults(list, &bad, Defaults::ordinary, "", assumptions), std::logic_error);
}

}  // namespace reading_fields

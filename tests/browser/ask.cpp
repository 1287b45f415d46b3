// SPDX-License-Identifier: Apache-2.0
// A page's door: what is asked through it is answered as the program answers it.
#include "ask.hpp"

#include <doctest/doctest.h>

#include <map>
#include <nlohmann/json.hpp>

#include "support/command.hpp"

extern "C" {
char* housepower_ask(const char* request);
void housepower_free(char* answer);
}

namespace browser_ask {

using namespace housepower::test;
using Json = nlohmann::json;
using Texts = std::map<std::string, std::string>;

namespace {

/// Through the door itself, as JavaScript does.
Json answer(const std::string& request) {
  char* text = housepower_ask(request.c_str());
  REQUIRE(text != nullptr);
  const Json json = Json::parse(text, nullptr, false);
  housepower_free(text);
  REQUIRE(!json.is_discarded());
  return json;
}

Json ask(const std::vector<std::string>& arguments, const Texts& files = {}) {
  return answer(Json{{"arguments", arguments}, {"files", files}}.dump());
}

Texts shipped(const std::vector<std::string>& names) {
  Texts texts;
  for (const auto& name : names) texts[name] = text_of(HOUSEPOWER_SOURCE_DIR "/" + name);
  return texts;
}

void same_as_program(const std::vector<std::string>& arguments, const Texts& files) {
  std::string line;
  for (const auto& one : arguments) line += one + " ";
  CAPTURE(line);
  const Ran ran = run_program(line);
  const Json json = ask(arguments, files);
  CHECK(json["exit"] == ran.exit);
  CHECK(json["out"] == ran.out);
  CHECK(json["err"] == ran.err);
}

const std::string van = "examples/marrowick.toml", pack = "examples/packs/marrowick-winter.toml";

}  // namespace

TEST_CASE("what is warned of beside an answer comes with its place") {
  Texts files = shipped({van});
  files["warm.toml"] = "schema = 1\nextends = \"" + van + "\"\n[place]\nrecord_low = \"15 °C\"\n";
  const Json warm = ask({"check", "warm.toml", "--format", "json"}, files);
  REQUIRE(warm["warned"]["diagnostics"].size() == 1);
  const Json& one = warm["warned"]["diagnostics"][0];
  CHECK(one["severity"] == "warning");
  CHECK(one["file"] == "warm.toml");
  CHECK(one["line"] == 4);
  CHECK(one["column"] == 14);
  CHECK(ask({"check", van, "--format", "json"}, files)["warned"]["diagnostics"].empty());
}

TEST_CASE("a page is answered as the program answers, question after question") {
  const Texts files = shipped({van, pack, "examples/two-berth.toml"});
  for (int again = 0; again < 2; ++again) {  // the tables are kept from one to the next
    same_as_program({"check", van, "--format", "json"}, files);
    same_as_program({"check", pack, "--quick", "--format", "json"}, files);
    same_as_program({"energy", van, "--units", "us"}, files);
    same_as_program({"stay", "examples/two-berth.toml", "--years", "3"}, files);
  }
}

TEST_CASE("a page's words follow the reader's units, and no number does") {
  const Texts files = shipped({van});
  const auto said = [&](std::vector<std::string> arguments) {
    arguments.insert(arguments.end(), {"--format", "json"});
    return Json::parse(ask(arguments, files)["out"].get<std::string>());
  };
  const Json usual = said({"check", van, "--quick"}),
             us = said({"check", van, "--quick", "--units", "us"});
  int other_words = 0;
  const auto flat = usual.flatten(), flat_us = us.flatten();
  REQUIRE(flat.size() == flat_us.size());
  for (const auto& [key, value] : flat.items()) {
    CAPTURE(key);
    if (value.is_string()) other_words += value != flat_us[key];
    else CHECK(value == flat_us[key]);
    if (key.ends_with("/unit") || key.ends_with("/subject")) CHECK(value == flat_us[key]);
  }
  CHECK(other_words > 20);
  const Json cable = said(
      {"cable", "--current", "20 A", "--length", "16 ft", "--ambient", "104 °F", "--units", "us"});
  CHECK(cable.dump().find("AWG") != std::string::npos);
}

TEST_CASE("a page is refused as the program refuses") {
  same_as_program({"check", "examples/nowhere.toml"}, {});
  same_as_program({"check", "examples", "--format", "json"}, shipped({van}));
  same_as_program({"check", "tests/cli/mistakes.toml"}, shipped({"tests/cli/mistakes.toml"}));
  same_as_program({"chek"}, {});
  same_as_program({"page", "nowhere"}, {});
}

TEST_CASE("what a command writes comes back under its name, and no file that it read is lost") {
  const Texts files = shipped({van});
  const Json made = ask({"diagram", van, "-o", "out/./van.svg"}, files);
  CHECK(made["exit"] == 0);
  CHECK(made["out"] == "");
  REQUIRE(made["made"].contains("out/van.svg"));
  CHECK(made["made"]["out/van.svg"].get<std::string>().find("<svg") != std::string::npos);

  const Json refused = ask({"diagram", van, "-o", "./examples/../" + van}, files);
  CHECK(refused["exit"] == 2);
  CHECK(refused["made"].empty());
  CHECK(refused["err"].get<std::string>().find("would be lost") != std::string::npos);
}

TEST_CASE("a file by another way is the same file, and a folder holds what is in it") {
  const Texts files = shipped({van, pack});
  CHECK(ask({"check", "./examples/packs/../../" + pack, "--quick"}, files)["exit"] ==
        ask({"check", pack, "--quick"}, files)["exit"]);
  const Json all = ask({"range", "examples", "--stays", "none", "--format", "json"}, files);
  const Json rows = Json::parse(all["out"].get<std::string>())["designs"];
  CHECK(rows.size() == 2);
}

TEST_CASE("a request that is none is wrong use") {
  for (const char* request :
       {"", "{", "[]", "{}", "\"check\"", R"({"arguments": "check"})", R"({"arguments": [1]})",
        R"({"arguments": [], "files": []})", R"({"arguments": [], "files": {"a": 1}})"}) {
    CAPTURE(request);
    const Json json = answer(request);
    CHECK(json["exit"] == 2);
    CHECK(json["out"] == "");
    CHECK(json["err"].get<std::string>().find("a request is") != std::string::npos);
  }
  const std::string deep(100000, '[');
  CHECK(answer(R"({"arguments": )" + deep)["exit"] == 2);
  CHECK(answer(R"({"arguments": ["help"], "files": )" + deep + std::string(100000, ']') +
               "}")["exit"] == 2);
}

TEST_CASE("no name in a file becomes part of a message by itself") {
  const Json json = ask({"check", "x\u001b[31m.toml"}, {{"x\u001b[31m.toml", "[a\u001b"}});
  CHECK(json["exit"] == 3);
  CHECK(json["err"].get<std::string>().find('\x1b') == std::string::npos);
}

}  // namespace browser_ask

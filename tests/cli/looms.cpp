// SPDX-License-Identifier: Apache-2.0
// looms from the shell: the keys of the contract, and the same wires in every form.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "support/json_answer.hpp"
#include "support/schedule_files.hpp"
#include "support/xml.hpp"

namespace cli_looms {

using namespace housepower;
using namespace housepower::test;

namespace {

const std::string modular = "looms examples/packs/marrowick-modular.toml";

const Json& loom_of(const Json& json, const std::string& assembly) {
  for (const Json& loom : json["looms"])
    if (loom["assembly"] == assembly) return loom;
  FAIL("no loom of " << assembly);
  return json["looms"][0];
}

}  // namespace

TEST_CASE("looms answers with the keys of the contract") {
  const Json json = json_of(modular, 0);
  CHECK(json["looms"].size() == 4);
  for (const Json& loom : json["looms"]) {
    for (const char* key : {"assembly", "wires", "connectors"}) CHECK(loom.contains(key));
    for (const Json& wire : loom["wires"]) {
      for (const char* key : {"label", "conductor", "colour", "length_m", "ends"})
        CHECK(wire.contains(key));
      REQUIRE(wire["ends"].size() == 2);
      for (const Json& end : wire["ends"])
        for (const char* key : {"place", "connector", "cavity", "lug", "strip_mm"})
          CHECK(end.contains(key));
    }
    for (const Json& connector : loom["connectors"])
      for (const char* key : {"name", "cavities", "mate"}) CHECK(connector.contains(key));
  }
}

// Read from examples/packs/marrowick-modular.toml and marrowick.toml: the fridge's run of 2.5 m passes
// X1 at 1.0 m, in cavities 1 and 2.
TEST_CASE("a wire tells both ends, its length and how it is made up") {
  const Json json = json_of(modular, 0);
  const Json& kitchen = loom_of(json, "kitchen");
  const auto& wires = kitchen["wires"];
  const auto fridge =
      std::find_if(wires.begin(), wires.end(), [](const Json& w) { return w["label"] == "W07−"; });
  REQUIRE(fridge != wires.end());
  CHECK((*fridge)["run"] == "compressor fridge");
  CHECK((*fridge)["length_m"].get<double>() == doctest::Approx(1.5));
  CHECK((*fridge)["ends"][0]["connector"] == "X1");
  CHECK((*fridge)["ends"][0]["cavity"] == 2);
  CHECK((*fridge)["ends"][0]["lug"] == "blade 6");
  CHECK((*fridge)["ends"][0]["strip_mm"].get<double>() == doctest::Approx(7.0));
  CHECK((*fridge)["ends"][1]["place"] == "Compressor fridge");
  CHECK((*fridge)["ends"][1]["lug"].is_null());  // nothing is stated of it
  CHECK(kitchen["connectors"][0]["mate"] == "wall");
  CHECK(kitchen["connectors"][0]["cavities"] == 8);
}

TEST_CASE("runs that pass from one assembly to another without a plug are listed by name") {
  const Json plugged = json_of(modular, 0), joined = json_of("looms examples/marrowick.toml", 0);
  CHECK(plugged["crossings"] == Json::array({"roof to controller"}));
  const std::set<std::string> expected{"roof to controller",
                                       "compressor fridge",
                                       "diesel water heater",
                                       "water pump",
                                       "tank valves",
                                       "main bar to bunk panel",
                                       "lights",
                                       "fans"};
  CHECK(joined["crossings"].get<std::set<std::string>>() == expected);
}

TEST_CASE("CSV and JSON hold the same wires") {
  const Json json = json_of(modular, 0);
  std::size_t wires = json["on_line"].size();
  for (const Json& loom : json["looms"]) wires += loom["wires"].size();
  const Ran csv = run_program(modular + " --format csv");
  CHECK(csv.exit == 0);
  std::size_t rows = 0;
  for (auto at = csv.out.find("\nwires,"); at != csv.out.npos;
       at = csv.out.find("\nwires,", at + 1))
    ++rows;
  CHECK(rows == wires);
}

TEST_CASE("a loom is drawn with all its places, connectors and labels") {
  const Ran ran = run_program(modular + " --assembly kitchen --format svg");
  CHECK(ran.exit == 0);
  CHECK(XmlReader(ran.out).document().has_value());
  for (const char* what :
       {"X1", "Compressor fridge", "Water pump", "Tank valves", "W07+", "W07−", "1.5 m", "6 mm2"})
    CHECK_MESSAGE(ran.out.find(what) != ran.out.npos, what);
}

TEST_CASE("what cannot be asked for is told with the next step") {
  const Ran drawing = run_program(modular + " --format svg");
  CHECK(drawing.exit == 2);
  CHECK(drawing.err.find("--assembly") != drawing.err.npos);
  const Ran unknown = run_program(modular + " --assembly kichen");
  CHECK(unknown.exit == 2);
  CHECK(unknown.err.find("did you mean \"kitchen\"?") != unknown.err.npos);
  CHECK(run_program(modular + " --format xlsx").exit == 2);
}

TEST_CASE("the spreadsheet of the looms is a file with every list") {
  const Folder folder;
  const Ran ran = run_program(modular + " -o '" + folder.path + "/looms.xlsx'");
  CHECK(ran.exit == 0);
  CHECK(text_of(folder.path + "/looms.xlsx").rfind("PK", 0) == 0);
}

TEST_CASE("a design without assemblies is wired on the line, all of it") {
  const Json json = json_of("looms examples/pellibri.toml", 0);
  CHECK(json["looms"].empty());
  CHECK(json["crossings"].empty());
  CHECK(json["on_line"].size() > 20);
}

}  // namespace cli_looms

// SPDX-License-Identifier: Apache-2.0
// test-sheet --readings: the keys that others rely on, exit codes, and the sheet's way to the bench and
// back.
#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <sstream>
#include <string>

#include "support/json_answer.hpp"

namespace cli_readings {
namespace {

using namespace housepower::test;

const std::string sheet = "test-sheet examples/marrowick.toml";

struct Written {
  std::string path;
  Written(const std::string& text, const std::string& ending)
      : path("/tmp/housepower-readings-" + std::to_string(getpid()) + ending) {
    std::ofstream(path, std::ios::binary) << text;
  }
  ~Written() { std::remove(path.c_str()); }
};

/// The sheet with what is expected written into `read`.
std::string filled(const std::string& csv) {
  std::istringstream lines(csv);
  std::string line, out;
  for (bool head = true; std::getline(lines, line); head = false) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    if (line.find(",checked/") == 0) {
      line += line.find("yes or no") != std::string::npos ? "yes" : "5";
    } else if (!head) {  // the fifth cell from the end holds what is expected
      std::size_t end = line.size();
      for (int comma = 0; comma < 4; ++comma) end = line.rfind(',', end - 1);
      const std::size_t begin = line.rfind(',', end - 1) + 1;
      line += line.substr(begin, end - begin);
    }
    out += line + "\n";
  }
  return out;
}

}  // namespace

TEST_CASE("a sheet filled in with what is expected finds nothing") {
  const Ran csv = run_program(sheet + " --format csv --resting-voltage '13.3 V'");
  REQUIRE(csv.exit == 0);
  CHECK(csv.out.find("case,point,label,leads,expected,low,high,unit,read\r\n") == 0);
  CHECK(csv.out.find("W04+") != std::string::npos);
  const Written file(filled(csv.out), ".csv");
  const Json json = json_of(sheet + " --readings " + file.path, 0);
  CHECK(json["verdict"] == "pass");
  CHECK(json["causes"].empty());
  CHECK(json["readings"].size() > 80);
  for (const Json& r : json["readings"]) {
    CAPTURE(r["path"].get<std::string>());
    CHECK(r["in_band"] == true);
  }
}

TEST_CASE("readings of a van with a loose joint answer with the keys of the contract") {
  const Json json = json_of(sheet + " --readings examples/readings/marrowick-0431.toml", 0);
  for (const Json& r : json["readings"])
    for (const char* key :
         {"path", "label", "measured", "expected", "low", "high", "unit", "in_band"})
      CHECK(r.contains(key));
  REQUIRE(json["causes"].size() == 1);
  const Json& cause = json["causes"].front();
  for (const char* key : {"element", "what", "value", "unit", "sigma", "heat_W", "heat_full_W",
                          "odds", "cannot_be_told_from"})
    CHECK(cause.contains(key));
  CHECK(cause["element"] == "run/main bar to night panel/outgoing");
  CHECK(cause["unit"] == "Ω");
  // the van was drawn with 12 mΩ there
  CHECK(std::abs(cause["value"].get<double>() - 0.012) < 3.0 * cause["sigma"].get<double>());
  CHECK(cause["odds"].get<double>() >= 20.0);
  CHECK(json["verdict"] == "caution");
  CHECK(json["could_hide"].size() > 20);
  for (const Json& h : json["could_hide"]) CHECK((h.contains("element") && h.contains("value")));
}

TEST_CASE("of a sound van's readings no cause is named, and how much could hide is said") {
  const Json json = json_of(sheet + " --readings examples/readings/marrowick-0417.toml", 0);
  CHECK(json["causes"].empty());
  const Ran page = run_program(sheet + " --readings examples/readings/marrowick-0417.toml");
  CHECK(page.exit == 0);
  CHECK(page.out.find("what was tested passes") != std::string::npos);
  CHECK(page.out.find("would not have shown") != std::string::npos);
}

TEST_CASE("with runs that were not tested no readings pass, and the first line says how many") {
  const std::string one = " --readings examples/readings/marrowick-0417.toml";
  const Json json = json_of(sheet + one, 0);
  CHECK(json["verdict"] == "caution");
  // all but what the case "dinner" sends no current through: 29 runs, 15 of them read
  CHECK(json["untested"].size() == 14);
  for (const Json& run : json["untested"]) {
    CHECK_FALSE(run["why"].get<std::string>().empty());
    CHECK(run["tested_dead"] == false);
  }
  CHECK(json["dead_tests_not_recorded"].size() > 60);
  CHECK(json["dead_tests_not_recorded"][0] == "bank to chassis");
  CHECK(run_program(sheet + one)
            .out.find("caution  what was tested passes; 14 runs were not "
                      "tested; ") != std::string::npos);
  // the whole sheet with its dead tests
  const Json whole = json_of(sheet + " --readings examples/readings/marrowick-0417.csv", 0);
  CHECK(whole["verdict"] == "pass");
  CHECK(whole["dead_tests_not_recorded"].empty());
  for (const Json& run : whole["untested"]) CHECK(run["tested_dead"] == true);
}

TEST_CASE("one dead test left open makes the whole sheet a caution") {
  const std::string whole = text_of(HOUSEPOWER_SOURCE_DIR "/examples/readings/marrowick-0417.csv");
  for (const std::string gone : {",checked/polarity W04,", ",checked/bank to chassis,",
                                 ",checked/230 V: residual-current device,"}) {
    CAPTURE(gone);
    const auto at = whole.find(gone);
    REQUIRE(at != std::string::npos);
    std::string text = whole;
    text.erase(at, whole.find('\n', at) + 1 - at);
    const Written file(text, ".csv");
    const Json json = json_of(sheet + " --readings " + file.path, 0);
    CHECK(json["verdict"] == "caution");
    CHECK(json["dead_tests_not_recorded"].size() == 1);
  }
}

TEST_CASE("readings of a van that was built to another design are warned of") {
  const std::string path = HOUSEPOWER_SOURCE_DIR "/examples/readings/marrowick-0417.toml";
  CHECK(json_of(sheet + " --readings " + path, 0)["diagnostics"].empty());
  std::string text = text_of(path);
  const std::string from = "design = \"marrowick.toml\"";
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  const Written file(text.replace(at, from.size(), "design = \"models/pellibri.toml\""), ".toml");
  const Json json = json_of(sheet + " --readings " + file.path, 0);
  REQUIRE(json["diagnostics"].size() == 1);
  CHECK(json["diagnostics"][0]["severity"] == "warning");
  CHECK(json["diagnostics"][0]["key"] == "van/design");
  const Ran page = run_program(sheet + " --readings " + file.path);
  CHECK(page.err.find("built to \"models/pellibri.toml\"; they are judged by \"marrowick.toml\"") !=
        std::string::npos);
}

TEST_CASE("bad readings exit with 3 and their place, a file that is not there with 4") {
  const Written file(
      "schema = 1\n[[measured]]\ncase = \"dinner\"\nvalues = { \"W99+\" = \"1 mV\" }\n", ".toml");
  const Ran ran = run_program(sheet + " --readings " + file.path);
  CHECK(ran.exit == 3);
  CHECK(ran.err.find(file.path + ":4:12") != std::string::npos);
  CHECK(ran.err.find("the sheet has no point \"W99+\"") != std::string::npos);
  CHECK(run_program(sheet + " --readings /tmp/no-such-readings.toml").exit == 4);
  CHECK(run_program(sheet + " --format csv --readings " + file.path).exit == 2);
}

TEST_CASE("readings that pass do not hide that the design fails") {
  const std::string failing = sheet + " --set \"run/lights/protection/0/rating=100 A\"" +
                              " --readings examples/readings/marrowick-0417.toml";
  const Json json = json_of(failing, 0);
  CHECK(json["verdict"] == "caution");  // of what was read
  CHECK(json["design_verdicts"]["verdict_safety"] == "fail");
  const Ran page = run_program(failing);
  CHECK(page.out.find("the design fails its check") < page.out.find("what was tested passes"));
  CHECK(json_of(sheet + " --readings examples/readings/marrowick-0417.toml",
                0)["design_verdicts"]["verdict_safety"] == "pass");
}

TEST_CASE("points of a test sheet carry path and label") {
  const Json json = json_of(sheet, 0);
  for (const Json& p : json["points"]) {
    CHECK(p["path"] == p["name"]);
    CHECK_FALSE(p["label"].get<std::string>().empty());
  }
}

TEST_CASE("a conductor that carried current and was not read makes it a caution, and is named") {
  std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/examples/readings/marrowick-0417.toml");
  const auto at = text.find("\"W05−\"");
  REQUIRE(at != std::string::npos);
  text.erase(at, text.find('\n', at) + 1 - at);
  const Written file(text, ".toml");
  const Json json = json_of(sheet + " --readings " + file.path, 0);
  CHECK(json["verdict"] == "caution");
  CHECK(json["causes"].empty());
  REQUIRE(json["unread"].size() == 1);
  CHECK(json["unread"][0]["element"] == "run/main bar to night panel/return");
  CHECK(json["unread"][0]["case"] == "dinner");
  const Ran page = run_program(sheet + " --readings " + file.path);
  CHECK(page.out.find("its drop was not read: W05− (dinner)") != std::string::npos);
}

TEST_CASE("what was checked by hand stands in the answer, and a no fails it") {
  const std::string sound = text_of(HOUSEPOWER_SOURCE_DIR "/examples/readings/marrowick-0417.toml");
  const auto with = [&](const std::string& checked, int exit) {
    const Written file(sound + "\n[[checked]]\n" + checked, ".toml");
    return json_of(sheet + " --readings " + file.path, exit);
  };
  const Json good = with("what = \"bank to chassis\"\nvalue = \"3.4 MΩ\"\nby = \"line 4\"\n", 0);
  CHECK(good["verdict"] == "caution");  // some runs were not switched on
  REQUIRE(good["checked"].size() == 1);
  CHECK(good["checked"][0]["what"] == "bank to chassis");
  CHECK(good["checked"][0]["holds"] == true);
  CHECK(with("what = \"W05 fuse seated\"\nresult = \"no\"\n", 1)["verdict"] == "fail");
  CHECK(with("what = \"bank to chassis\"\nvalue = \"120 kΩ\"\n", 1)["verdict"] == "fail");
}

TEST_CASE("hand checks alone are judged, and no run is tested by them") {
  const auto alone = [](const char* value, int exit) {
    const Written file("schema = 1\n[[checked]]\nwhat = \"bank to chassis\"\nvalue = \"" +
                           std::string(value) + "\"\n",
                       ".toml");
    return json_of(sheet + " --readings " + file.path, exit);
  };
  CHECK(alone("1 kΩ", 1)["verdict"] == "fail");
  const Json good = alone("5 MΩ", 0);
  CHECK(good["verdict"] == "caution");
  CHECK(good["untested"].size() == 29);  // the runs of the example
}

TEST_CASE("what looks like millivolts written as volts is admitted, warned of and no pass") {
  std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/examples/readings/marrowick-0417.toml");
  const std::string from = "\"W10+\" = \"8.5 mV\"";
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  text.replace(at, from.size(), "\"W10+\" = \"8.5 V\"");
  const Written file(text, ".toml");
  // as read, it would be a wire thinner than any table rates, behind a device of 3 A
  const Json json = json_of(sheet + " --readings " + file.path, 1);
  CHECK(json["verdict"] == "fail");
  REQUIRE(json["diagnostics"].size() == 1);
  CHECK(json["diagnostics"][0]["severity"] == "warning");
  CHECK(json["diagnostics"][0]["hint"] == "were millivolts meant?");
  const Ran page = run_program(sheet + " --readings " + file.path);
  CHECK(page.err.find("were millivolts meant?") != std::string::npos);
}

TEST_CASE("each limit by which a cause is told says where it comes from") {
  const Json json = json_of(sheet + " --readings examples/readings/marrowick-0417.toml", 0);
  CHECK(json["limits"].size() >= 4);
  for (const Json& limit : json["limits"]) {
    CHECK_FALSE(limit["source"]["kind"].get<std::string>().empty());
    CHECK_FALSE(limit["source"]["title"].get<std::string>().empty());
  }
}

TEST_CASE("a whole sheet tests each run once or says why not, dead tests first") {
  for (const std::string design : {"examples/marrowick.toml", "examples/quondelay.toml",
                                   "examples/pellibri.toml", "examples/two-berth.toml"}) {
    CAPTURE(design);
    const Json json = json_of("test-sheet " + design, 0);
    std::vector<std::string> tested;
    for (const Json& step : json["switch_ons"])
      for (const Json& label : step["tests"]) tested.push_back(label);
    for (const Json& one : json["untested"]) {
      CHECK_FALSE(one["why"].get<std::string>().empty());
      tested.push_back(one["label"]);
    }
    std::sort(tested.begin(), tested.end());
    CHECK(std::adjacent_find(tested.begin(), tested.end()) == tested.end());
    CHECK(tested.size() ==
          Json::parse(
              run_program("check " + design + " --format json").out)["wiring"]["cases"][0]["runs"]
              .size());
    CHECK(json["dead_tests"][0]["what"] == "bank to chassis");
    const Ran page = run_program("test-sheet " + design);
    const auto dead = page.out.find("1. Isolated"), rest = page.out.find("2. At rest"),
               on = page.out.find("3. Switch on");
    CHECK((dead < rest && rest < on && on != std::string::npos));
    CHECK(page.out.find("ask again") == std::string::npos);
  }
}

}  // namespace cli_readings

// SPDX-License-Identifier: Apache-2.0
// test-sheet --readings: the keys that others rely on, exit codes, and the sheet's way to the bench and
// back.
#include <doctest/doctest.h>
#include <unistd.h>

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
    if (!head) {  // the fifth cell from the end holds what is expected
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
  CHECK(page.out.find("nothing is found") != std::string::npos);
  CHECK(page.out.find("may be there and not have shown") != std::string::npos);
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

TEST_CASE("points of a test sheet carry path and label") {
  const Json json = json_of(sheet, 0);
  for (const Json& p : json["points"]) {
    CHECK(p["path"] == p["name"]);
    CHECK_FALSE(p["label"].get<std::string>().empty());
  }
}

}  // namespace cli_readings

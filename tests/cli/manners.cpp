// SPDX-License-Identifier: Apache-2.0
// What the machine contract promises of every command, and what is told where a word is not known.
#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdio>
#include <fstream>
#include <sstream>

#include "support/json_answer.hpp"

namespace cli_manners {
namespace {

using namespace housepower;
using namespace housepower::test;

bool has(const std::string& text, std::string_view word) { return text.find(word) != text.npos; }
std::string scratch(const std::string& name) {
  return "/tmp/housepower-manners-" + std::to_string(getpid()) + "-" + name;
}
std::string text_of(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path).rdbuf();
  return text.str();
}

}  // namespace

TEST_CASE("a record that is made or added to is answered in JSON where that is asked for") {
  const std::string path = scratch("record");
  std::remove(path.c_str());
  const std::string make = "record new examples/two-berth.toml --serial T2-1 --at 2026-03-14";
  const Json made = json_of(make + " -o " + path, 0);
  CHECK(made["entries"].size() == 1);
  CHECK(made["intact"] == true);
  CHECK(made["text"] == text_of(path));
  CHECK(json_of(make, 0)["seal"] == made["seal"]);  // on standard output nothing is but the JSON
  const Json added =
      json_of("record add " + path + " --note checked --at '2026-03-15 08:00 UTC'", 0);
  CHECK(added["entries"].size() == 2);
  CHECK(added["seal"] == json_of("record show " + path, 0)["seal"]);
  std::remove(path.c_str());
}

TEST_CASE("what is no file of readings is refused with its place, and the record stays as it was") {
  const std::string path = scratch("kept"), wrong = scratch("wrong.toml");
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/marrowick.toml --serial M4-1 -o " + path).exit == 0);
  const std::string before = text_of(path);
  std::ofstream(wrong) << "garbage here\n";
  const Ran text = run_program("record add " + path + " --readings " + wrong);
  CHECK(text.exit == 3);
  CHECK(has(text.err, wrong + ":1:"));
  const Json json = json_of("record add " + path + " --readings " + wrong, 3);
  REQUIRE(json["diagnostics"].size() > 0);
  CHECK(json["diagnostics"][0]["file"] == wrong);
  CHECK(json["diagnostics"][0]["line"] == 1);
  CHECK(json["diagnostics"][0]["column"].get<int>() > 0);
  CHECK(text_of(path) == before);
  std::remove(path.c_str()), std::remove(wrong.c_str());
}

TEST_CASE("an entry is made on a day that the calendar has") {
  const std::string path = scratch("dated");
  std::remove(path.c_str());
  const std::string make = "record new examples/two-berth.toml --serial T2-1 -o " + path + " --at ";
  for (const std::string wrong :
       {"yesterday", "2026-02-30", "2026-13-01", "'2026-03-14 24:00'", "'2026-03-14 10:61'"}) {
    CAPTURE(wrong);
    const Ran ran = run_program(make + wrong);
    CHECK(ran.exit == 2);
    CHECK(has(ran.err, "is no date"));
    CHECK(text_of(path).empty());
  }
  REQUIRE(run_program(make + "2026-03-14").exit == 0);
  const std::string before = text_of(path);
  CHECK(run_program("record add " + path + " --note x --at tomorrow").exit == 2);
  CHECK(text_of(path) == before);
  std::remove(path.c_str());
}

TEST_CASE(
    "a range says null for what there is not, a price as a number, and why a file is not read") {
  const Json range = json_of("range examples/two-berth.toml --stays none", 0);
  const Json& row = range["designs"][0];
  for (const char* key : {"stay_month", "problem", "worst_rule", "mass_missing"})
    for (const auto& [name, value] : row.items())
      if (name == key) CHECK_MESSAGE(!(value == ""), name);
  CHECK(row["stay_month"].is_null());
  CHECK((row["price"].is_number() || row["price"].is_null()));
  CHECK_FALSE(range.contains("diagnostics"));
  const Json priced = json_of("range examples/marrowick.toml --stays none");
  for (const Json& one : priced["designs"])
    if (one["prices"].size() == 1) {
      CHECK(one["price"] == one["prices"][0]["amount"]);
      CHECK(one["currency"] == one["prices"][0]["currency"]);
    }
  const Json missing = json_of("range /tmp/there-is-no-such.toml --stays none", 4);
  REQUIRE(missing["diagnostics"].size() == 1);
  CHECK(missing["diagnostics"][0]["file"] == "/tmp/there-is-no-such.toml");
  CHECK(missing["designs"][0]["place"].is_null());
  const Json folder = json_of("range /tmp/there-is-no-such-folder/ --stays none", 4);
  CHECK(folder["diagnostics"].size() == 1);
}

TEST_CASE("help is there under every name, and an option alone is a usage error in words") {
  const std::string help = run_program("help").out;
  for (const std::string line : {"--help", "-h", "help help"}) {
    const Ran ran = run_program(line);
    CHECK(ran.exit == 0);
    CHECK(ran.out == help);
  }
  for (const std::string line :
       {"--quiet", "--quiet check examples/two-berth.toml", "help --quiet"}) {
    CAPTURE(line);
    const Ran ran = run_program(line);
    CHECK(ran.exit == 2);
    CHECK(has(ran.err, "a command is wanted before \"--quiet\""));
    CHECK(has(ran.err, "= help: "));
  }
}

TEST_CASE("quiet, what programs read and what is a file is there as it always is") {
  for (const std::string line :
       {"check examples/two-berth.toml --format json", "schema",
        "formula voltage-drop --format json", "loads examples/two-berth.toml",
        "loads examples/loads-marrowick.csv", "new", "manual", "completions bash",
        "diagram examples/two-berth.toml",
        "range examples/two-berth.toml --stays none --format csv",
        "range examples/two-berth.toml --stays none --format json",
        "record show examples/readings/marrowick-0417.record --format json"}) {
    CAPTURE(line);
    const Ran loud = run_program(line), quiet = run_program(line + " --quiet");
    CHECK_FALSE(loud.out.empty());
    CHECK(quiet.out == loud.out);
    CHECK(quiet.exit == loud.exit);
    CHECK_FALSE(has(quiet.err, "warning:"));
  }
}

TEST_CASE("every formula says for what it holds") {
  for (const Json& f : json_of("formula", 0)["formulas"]) {
    const std::string says = f["range"];
    CHECK_MESSAGE(!says.empty(), f["name"]);
  }
  CHECK(has(run_program("formula pole-drop").out, "Holds for: any values"));
  CHECK(has(run_program("formula adiabatic-size").out, "Holds for: t up to 5 s"));
}

TEST_CASE("what cannot be an assignment is wrong use, whatever it is") {
  for (const std::string typed : {"''", "x", "'=5 m'"}) {
    CAPTURE(typed);
    const Ran ran = run_program("check examples/two-berth.toml --set " + typed);
    CHECK(ran.exit == 2);
    CHECK(has(ran.err, "--set wants a path, \"=\" and a value, got "));
  }
  CHECK(run_program("check examples/two-berth.toml --set run/nothing/length=5m").exit == 3);
}

TEST_CASE("names that begin so are offered") {
  CHECK(has(run_program("explain volt-drop").err, "\"voltage-drop\"?"));
  const std::string drop = run_program("formula drop").err;
  for (const std::string name : {"loop-drop", "pole-drop", "voltage-drop"}) CHECK(has(drop, name));
  CHECK(has(run_program("tables class-t").err, "ul-248-class-t"));
  CHECK(has(run_program("explain fuse").err, "fuse-above-load"));
}

TEST_CASE("the help offers what a command takes, and says what it is") {
  for (const std::string command : {"tables", "explain"})
    CHECK_FALSE(has(run_program("help " + command).out, "--with"));
  CHECK(has(run_program("help formula").out, "--with"));
  CHECK(has(run_program("help record").out, "--at DATE"));
  CHECK(has(run_program("help test-sheet").out, "--at NODE"));
  CHECK(has(run_program("help stay").out, "--at LAT,LON,HEIGHT"));
}

TEST_CASE(
    "a device type may be of several words, and an unknown one is answered by those there are") {
  const Ran ran = run_program("cable --current '20 A' --length '4 m' --fuse 'class T 40 A'");
  CHECK(ran.exit == 3);
  CHECK(has(ran.err, "\"class T\" is neither a fuse type"));
  CHECK(has(ran.err, "a class T fuse is written \"ul-248-class-t\""));
  const Ran other = run_program("cable --current '20 A' --length '4 m' --fuse 'quick one 40 A'");
  CHECK(has(other.err, "iso-8820-3-c"));
}

TEST_CASE("a bare size is among what was assumed") {
  const Json check = json_of("check examples/two-berth.toml --set run/fridge/conductor=6");
  bool told = false;
  for (const Json& one : check["assumed"])
    if (one["path"] == "run/fridge/conductor") {
      told = true;
      CHECK(one["value"] == "6 mm2");
      CHECK(has(one["why"], "is read as 6 mm2"));
    }
  CHECK(told);
}

TEST_CASE("a stay names its chance, and its tables say where the simulation ends") {
  const Json stay = json_of("stay examples/two-berth.toml --years 20");
  CHECK(has(stay["headline"], "of 10 stays"));
  const std::string january = "stay examples/two-berth.toml --years 20 --month january";
  bool at_the_end = false;  // else this says nothing
  const Json answer = json_of(january);
  for (const Json& lever : answer["levers"])
    at_the_end = at_the_end || lever["stay_d"] == answer["horizon_d"];
  REQUIRE(at_the_end);
  CHECK(has(run_program(january).out, "30+"));
}

TEST_CASE("what an inverter cannot run is said before the stay that counts it") {
  const std::string asked =
      "stay examples/pellibri.toml --years 20 --add 'Kettle: 2000 W, 0.1 h, inverter'";
  const std::string out = run_program(asked).out;
  const auto said = out.find("cannot run Kettle"), counted = out.find("Parked from");
  CHECK(said != out.npos);
  CHECK(said < counted);
  CHECK_FALSE(has(run_program("stay examples/pellibri.toml --years 20").out, "cannot run"));
}

TEST_CASE("a replacement in a van that fails already says so, and exits as a fail") {
  const std::string design = "examples/faulty/fuse-above-load.toml";
  const Ran ran = run_program("replace " + design + " --set bank/mass='12 kg'");
  CHECK(ran.exit == 1);
  CHECK(has(ran.out, "as built fails already"));
  CHECK(json_of("replace " + design + " --set bank/mass='12 kg'", 1)["verdict"] == "fail");
  CHECK_FALSE(has(run_program("replace examples/two-berth.toml --set bank/mass='12 kg'").out,
                  "fails already"));
}

TEST_CASE("without an operating point a cable would carry its current, and does not") {
  const Ran ran = run_program("cable --current '430 A' --length '40 m' --conductor 6");
  CHECK(ran.exit == 1);
  CHECK(has(ran.out, "would carry 430 A"));
  CHECK_FALSE(has(ran.out, "carries 430 A"));
}

TEST_CASE("names of cases stand in quotes, since they hold commas") {
  const Ran ran = run_program("wiring examples/pellibri.toml --case nothing-like-it");
  CHECK(ran.exit != 0);
  CHECK(has(ran.err, "it has \""));
}

TEST_CASE("what is wanted is shown as it is written, with its units") {
  const std::string open = run_program("check examples/two-berth.toml --open").out;
  CHECK(has(open, "bank/peak"));
  CHECK(has(open, "current = \""));
}

}  // namespace cli_manners

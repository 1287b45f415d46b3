// SPDX-License-Identifier: Apache-2.0
// What a person asks of a design beside its file: another place, another appliance, more people; and a
// design without any cable.
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <fstream>

#include "support/json_answer.hpp"
#include "tables/made_up_weather.hpp"

namespace cli_asked {

using namespace housepower::test;

namespace {

const std::string sketch = "tests/cli/no-runs.toml ";
const std::string stay = "stay " + sketch + "--years 2 ", energy = "energy " + sketch;

double wh_of(const Json& json, const std::string& name) {
  for (const Json& one : json["appliances"])
    if (one["name"] == name) return one["Wh_per_day"].get<double>();
  return -1.0;
}

bool says(const Json& json, const std::string& part) {
  for (const Json& note : json["notes"])
    if (note.get<std::string>().find(part) != std::string::npos) return true;
  return false;
}

doctest::Approx about(double value) { return doctest::Approx(value).epsilon(1e-9); }

}  // namespace

TEST_CASE("an appliance is added by what a person knows of it") {
  const Json none = json_of(energy);
  CHECK(wh_of(none, "Fan") == -1.0);
  struct Row {
    const char* typed;
    const char* name;
    double wh;
  };
  for (const Row& row : {
           Row{"Fan: 20 W, 8 h, dc", "Fan", 160.0},               // 20 · 8
           Row{"Fan: 8 h a day, dc, 20 W", "Fan", 160.0},         // in any order
           Row{"Fan: 2 A, 90 min, dc", "Fan", 2.0 * 12.0 * 1.5},  // a current at the system's 12 V
           Row{"Fan: 20 W, at 18:00-20:30, dc", "Fan", 50.0},     // 20 · 2.5, the whole window
           Row{"Fan: 20 watts, 8 hours a day, dc", "Fan", 160.0},
           Row{"Fan: 20 W, all day, DC", "Fan", 480.0},
           Row{"Fan: 20 W, 30 minutes, dc", "Fan", 10.0},
           Row{"Fan: 20 W, 1 h, 18-20, dc", "Fan", 20.0},
           Row{"Fan: 20 W, at 22:00–6:00, dc", "Fan", 160.0},             // 20 · 8, over midnight
           Row{"Air fryer: 800 W, 0.3 h, inverter", "Air fryer", 300.0},  // 800 · 0.3 / 0.8
           Row{"Air fryer: 800 W, 0.3 h/day, inverter main INVERTER", "Air fryer", 300.0},
           Row{"Air fryer: 800 W, 0.3 h, Main inverter", "Air fryer", 300.0},
           Row{"Air fryer: 800 W, 0.3 h", "Air fryer", 300.0},  // not said: what takes more
       }) {
    CAPTURE(row.typed);
    const Json json = json_of(energy + "--add '" + row.typed + "'");
    CHECK(wh_of(json, row.name) == about(row.wh));
    CHECK(wh_of(json, "Fridge") == about(wh_of(none, "Fridge")));
    CHECK(says(json, std::string("Added: ") + row.name));
    CHECK(says(json, "It has no cable or fuse in the design"));
  }
  CHECK(says(json_of(energy + "--add 'Fan: 20 W, 8 h'"), "not said"));
  const Json two = json_of(energy + "--add 'Fan: 20 W, 8 h, dc' --add 'Radio: 5 W, 2 h, dc'");
  CHECK(wh_of(two, "Fan") == about(160.0));
  CHECK(wh_of(two, "Radio") == about(10.0));
}

TEST_CASE("what is added shortens the stay, and is on no run of a drawn design either") {
  const std::string drawn = "stay examples/pellibri.toml --years 3 --month july ";
  const Json before = json_of(drawn), after = json_of(drawn + "--add 'Fan: 40 W, 10 h, dc'");
  CHECK(after["stay_d"].get<double>() < before["stay_d"].get<double>());
  CHECK(after["design"]["inputs_digest"] != before["design"]["inputs_digest"]);
  CHECK(says(after, "Added: Fan"));
  CHECK_FALSE(says(after, "no run of cable"));
}

TEST_CASE("an inverter that is too small for what was added is told") {
  const Ran ran = run_program(energy + "--add 'Oven: 1400 W, 0.3 h, inverter'");
  CHECK(ran.exit == 0);
  CHECK(ran.err.find("\"Main inverter\" is rated for 1 kW and cannot run Oven of 1.4 kW") !=
        std::string::npos);
  CHECK(says(json_of(energy + "--add 'Oven: 1400 W, 0.3 h, inverter'"), "cannot run Oven"));
}

TEST_CASE("what is typed wrongly is told with its place and the form") {
  struct Row {
    std::string typed;
    int exit;
    std::string says, at;
  };
  for (const Row& row : {
           Row{"--add 'Fan 20 W'", 3, "wants a name, a colon", "--add:1:1"},
           Row{"--add ': 20 W, 1 h'", 3, "wants a name before the colon", "--add:1:1"},
           Row{"--add 'Fan: 20 W'", 3, "wants how long \"Fan\" is used", "--add:1:1"},
           Row{"--add 'Fan: 2 h, dc'", 3, "wants the power of \"Fan\"", "--add:1:1"},
           Row{"--add 'Fan: 20 X, 2 h'", 3, "\"20 X\" is not a power", "--add:1:6"},
           Row{"--add 'Fan: 20 W, 2 h, 3 h'", 3, "a second time", "--add:1:17"},
           Row{"--add 'Fan: 20 W,, 2 h'", 3, "there is nothing between", "--add:1:"},
           Row{"--add 'Fan: 20 W, 25 h, dc'", 3, "at most 1 d", "--add:1:12"},
           Row{"--add 'Fan: 20 W, 3 h, at 18:00-20:00, dc'", 3, "do not fit", "--add"},
           Row{"--add 'Fan: 20 W, at 18:00-29:00, dc'", 3, "not a time of the day", "--add"},
           Row{"--add 'Fan: 20 W, 2 h, mian inverter'", 3, "did you mean \"Main inverter\"?",
               "--add:1:17"},
           Row{"--add 'A: 1 W, 1 h, dc' --add 'B: 1 W, x, dc'", 3, "\"x\" is not a power",
               "--add (2):1:9"},
           Row{"--add 'lights: 20 W, 2 h, dc'", 3, "the design has \"Lights\" already",
               "--add:1:1"},
           Row{"--add 'a/b: 20 W, 2 h, dc'", 3, "contains a \"/\"", "--add:1:1"},
           Row{"--at '42.1,146.6'", 3, "wants the height too", "--at:1:1"},
           Row{"--at '42.1'", 3, "got 1 part", "--at:1:1"},
           Row{"--at '42.1 S, 146.6 E, 730'", 3, "without a unit", "--at:1:18"},
           Row{"--at '42.1 S, 146.6 S, 730 m'", 3, "one latitude and one longitude", "--at:1:1"},
           Row{"--at '-42.1 S, 146.6 E, 730 m'", 3, "not a latitude or longitude", "--at:1:1"},
           Row{"--at '95 S, 146.6 E, 730 m'", 3, "at least -90°", "--at:1:1"},
           Row{"--at 'x,y,z'", 3, "\"x\" is not a latitude or longitude", "--at:1:1"},
           Row{"--weather nowhere.epw", 4, "cannot be read", "--weather:1:1"},
           Row{"--place hobat", 3, "did you mean \"hobart\"?", "--place:1:1"},
           Row{"--place hobart --at '42 S, 146 E, 0 m'", 2, "only one of", ""},
           Row{"--people 0", 2, "at least 1", ""},
           Row{"--people two", 2, "whole number", ""},
       }) {
    CAPTURE(row.typed);
    const Ran ran = run_program(energy + row.typed);
    CHECK(ran.exit == row.exit);
    CHECK_MESSAGE(ran.err.find(row.says) != std::string::npos, ran.err);
    CHECK_MESSAGE(ran.err.find(row.at) != std::string::npos, ran.err);
    CHECK(ran.out.empty());
  }
  // In JSON at the same place.
  const Json json = json_of(energy + "--add 'Fan: 20 X, 2 h'", 3);
  CHECK(json["diagnostics"][0]["file"] == "--add");
  CHECK(json["diagnostics"][0]["column"] == 6);
}

TEST_CASE("--with finds an appliance in any letters, one that is never used too") {
  CHECK(wh_of(json_of(energy), "Kettle") == about(0.0));
  const Json with = json_of(stay + "--with kettle");
  bool used = false;
  for (const Json& one : with["emptied_by"])
    if (one["name"] == "Kettle") {
      used = true;
      CHECK(one["Wh_per_day"].get<double>() == about(225.0));  // 900 · 0.2 / 0.8
    }
  CHECK(used);
  const Ran missing = run_program(stay + "--with 'Air fryer'");
  CHECK(missing.exit == 3);
  CHECK(missing.err.find("--add \"Air fryer: ") != std::string::npos);
  const Ran nearly = run_program(stay + "--without Kettl");
  CHECK(nearly.exit == 3);
  CHECK(nearly.err.find("did you mean \"Kettle\"?") != std::string::npos);
}

TEST_CASE("more people use what people use for longer, fewer what is theirs for less") {
  const Json two = json_of(energy), four = json_of(energy + "--people 4"),
             ten = json_of(energy + "--people 10"), one = json_of(energy + "--people 1");
  CHECK(wh_of(two, "Lights") == about(40.0));
  CHECK(wh_of(four, "Lights") == about(80.0));
  CHECK(wh_of(ten, "Lights") == about(100.0));  // to the end of the window: five hours
  CHECK(wh_of(one, "Lights") == about(20.0));
  // 60 W for 0.5 h; nobody said that people use it: it grows and does not shrink.
  CHECK(wh_of(two, "Pump") == about(30.0));
  CHECK(wh_of(four, "Pump") == about(60.0));
  CHECK(wh_of(one, "Pump") == about(30.0));
  CHECK(says(one, "Not shortened"));
  for (const Json* json : {&two, &four, &ten, &one})
    CHECK(wh_of(*json, "Fridge") == about(480.0));  // the van's own: 40 · 24 · 0.5
  CHECK(says(four, "For 4 people; the design's hours are for 2"));
  // What is typed with the people is meant for them.
  const Json added = json_of(energy + "--people 4 --add 'Fan: 20 W, 2 h, dc'");
  CHECK(wh_of(added, "Fan") == about(40.0));
  double last = 1e9;
  for (const char* people : {"1", "2", "4", "8"}) {
    const double days = json_of(stay + "--people " + people)["stay_d"];
    CHECK(days <= last);
    last = days;
  }
}

TEST_CASE("a place is typed in several ways, and a leading minus is no option") {
  const Json lake = json_of(stay + "--at '-42.1,146.6,730 m'");
  CHECK(says(lake, "Launceston (80 km, 178 m) and Hobart (110 km, 27 m)"));
  for (const char* same :
       {"--at -42.1,146.6,730m", "--at '42.1 S, 146.6 E, 730 m'", "--at '146.6E,42.1S,730 m'",
        "--at '-42.1°, 146.6°, 0.73 km'", "--at 'S 42.1, E 146.6, 730 m'"}) {
    CAPTURE(same);
    CHECK(json_of(stay + same)["stay_d"] == lake["stay_d"]);
  }
  const Ran text = run_program(stay + "--at '-42.1,146.6,730 m'");
  CHECK(text.out.substr(0, text.out.find('\n')).find("between Hobart and Launceston, 730 m") !=
        std::string::npos);
  const Json hobart = json_of(stay + "--place HOBART"), darwin = json_of(stay + "--place darwin");
  CHECK(hobart["place"] == "hobart");
  CHECK(darwin["place"] == "darwin");
  CHECK(json_of(stay + "--place 'alice springs' --month jan")["month"] == "January");
  CHECK(json_of(stay + "--place 'Alice Springs, Australia' --month 11")["month"] == "November");
  CHECK(json_of(energy + "--place darwin")["judged_month"] == "July");
  const Ran far = run_program(energy + "--at '47 S, 147.5 E, 27 m'");
  CHECK(far.exit == 0);
  CHECK(far.err.find("464 km away") != std::string::npos);
  CHECK(says(json_of(energy + "--at '47 S, 147.5 E, 27 m'"), "is within 300 km"));
  std::string screen = run_program(stay + "--at '47 S, 147.5 E, 27 m'").out;
  std::replace(screen.begin(), screen.end(), '\n', ' ');
  CHECK(screen.find("(far from every town of the climate table)") < screen.find(": "));
  CHECK(screen.find("the climate of Hobart (464 km") < 600);
}

TEST_CASE("a weather file is asked for by its path from where one is, and takes the town's place") {
  const std::string path = "/tmp/housepower-asked.epw";
  {
    std::ofstream file(path);
    for (const auto& line : housepower::tables::test::plain()) file << line << "\n";
  }
  const Json json = json_of(stay + "--weather " + path);
  CHECK(json["weather_kind"] == "typical year");
  CHECK(json_of("check examples/pellibri.toml --weather " + path)["design"]["inputs_digest"] !=
        json_of("check examples/pellibri.toml")["design"]["inputs_digest"]);
  std::remove(path.c_str());
}

TEST_CASE("energy, stay and size answer without any run, and say so; check asks for the runs") {
  for (const std::string& command : {energy, stay}) {
    CAPTURE(command);
    CHECK(says(json_of(command), "no run of cable"));
    CHECK(run_program(command).out.find("no run of cable") != std::string::npos);
  }
  CHECK(wh_of(json_of(energy), "Lights") == about(40.0));
  for (const std::string command : {"check", "wiring", "report", "test-sheet", "diagram"}) {
    CAPTURE(command);
    const Ran ran = run_program(command + " " + sketch);
    CHECK(ran.exit == 3);
    CHECK(ran.err.find("draw the runs from the bank to it") != std::string::npos);
  }
}

TEST_CASE("a pack that was sized for a place, people and an appliance says all of that itself") {
  const std::string pack = "/tmp/housepower-asked-pack.toml";
  const std::string asked = "--at '-42.1,146.6,730 m' --people 3 --add 'Fan: 20 W, 2 h, dc'";
  const Ran sized = run_program("size examples/sizing/pellibri.toml --month july --stay '1 d' "
                                "--autonomy '1 d' " +
                                asked + " -o " + pack);
  CHECK_MESSAGE(sized.exit == 0, sized.err);
  std::string flat = sized.out;
  std::replace(flat.begin(), flat.end(), '\n', ' ');
  CHECK(flat.find("judged between Hobart and Launceston, 730 m") != std::string::npos);
  const std::string text = text_of(pack);
  for (const std::string part : {"latitude = \"-42.1°\"", "height = \"730 m\"", "people = 3",
                                 "name = \"Fan\"", "remove = [\"name\"]"})
    CHECK_MESSAGE(text.find(part) != std::string::npos, text);
  // The pack alone says what the options said of the use; its bank is another.
  const Json of_pack = json_of("energy " + pack),
             of_options = json_of("energy examples/sizing/pellibri.toml " + asked);
  for (const Json& one : of_options["appliances"]) {
    const std::string name = one["name"];
    CAPTURE(name);
    if (name == "Fan" || name == "Water pump" || name == "Lights" || name == "Gas detector")
      CHECK(wh_of(of_pack, name) == about(one["Wh_per_day"].get<double>()));
  }
  std::remove(pack.c_str());
}

TEST_CASE("a pack is sized before any cable is drawn, and nothing is said of cables") {
  const std::string undrawn = "/tmp/housepower-asked-undrawn.toml";
  {
    std::ofstream file(undrawn);
    file << "schema = 1\nextends = \"" HOUSEPOWER_SOURCE_DIR
            "/examples/sizing/pellibri.toml\"\nremove = [\"run\"]\n";
  }
  const Json json = json_of("size " + undrawn + " --stay '2 d' --autonomy '1 d' --month july");
  CHECK(json["best"].is_object());
  CHECK(says(json, "No cable and no fuse was chosen or checked"));
  CHECK(json["best"]["wiring"].empty());
  std::remove(undrawn.c_str());
}

TEST_CASE("an appliance is known by one of its words, and is not asked for both ways") {
  const std::string july = "stay examples/pellibri.toml --years 2 --month july ";
  const Json all = json_of(july), by_name = json_of(july + "--without 'Compressor fridge'"),
             by_word = json_of(july + "--without fridge");
  CHECK(by_name["stay_d"] > all["stay_d"]);
  CHECK(by_word["emptied_by"] == by_name["emptied_by"]);
  const Ran heater = run_program(july + "--without heater");  // it has two
  CHECK(heater.exit == 3);
  const Ran both = run_program(july + "--with fridge --without 'compressor FRIDGE'");
  CHECK(both.exit == 3);
  CHECK(both.err.find("with and without \"Compressor fridge\"") != std::string::npos);
}

}  // namespace cli_asked

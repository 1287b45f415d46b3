// SPDX-License-Identifier: Apache-2.0
// `check` on one screen: what stands there, in which order, and what is asked for besides.
#include <algorithm>
#include <cstdio>
#include <fstream>
#include <sstream>

#include "support/json_answer.hpp"

namespace cli_check_screen {

using namespace housepower::test;

namespace {

const std::string first_van = "check tests/cli/first-van.toml";
const std::string three[] = {"examples/marrowick.toml", "examples/pellibri.toml",
                             "examples/quondelay.toml"};

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}
bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}
/// As one line, since a screen breaks sentences.
std::string flat(std::string text) {
  std::string out;
  for (const char c : text)
    if (c != '\n' && (c != ' ' || out.empty() || out.back() != ' ')) out += c;
    else if (!out.empty() && out.back() != ' ') out += ' ';
  return out;
}
std::size_t line_with(const std::vector<std::string>& lines, const std::string& part) {
  for (std::size_t i = 0; i < lines.size(); ++i)
    if (says(lines[i], part)) return i;
  return lines.size();
}

constexpr std::size_t screen = 45;

}  // namespace

TEST_CASE("a design is answered on one screen, in four figures") {
  std::vector<std::string> commands{first_van};
  for (const auto& example : three) commands.push_back("check " + example);
  for (const auto& command : commands) {
    CAPTURE(command);
    const auto lines = lines_of(run_program(command).out);
    CHECK(lines.size() <= screen);
    CHECK(says(lines.front(), "safety "));
    CHECK(says(lines.front(), "service "));
    for (const std::string figure : {"Stay parked", "Autonomy", "Used a day", "Largest drop"})
      CHECK_MESSAGE(line_with(lines, figure) < 36, figure);
  }
}

TEST_CASE(
    "what fails stands first and says what to do, a caution in a line, a source where asked") {
  const Ran ran = run_program(first_van);
  CHECK(ran.exit == 1);
  const auto lines = lines_of(ran.out);
  const Json json = json_of(first_van, 1);
  std::size_t cautions = 0, fixes = 0;
  for (const auto& line : lines) {
    cautions += line.rfind("caution  ", 0) == 0;
    fixes += line.rfind("    fix: ", 0) == 0;
  }
  CHECK(cautions == json["counts"]["caution"].get<std::size_t>());
  CHECK(fixes == json["counts"]["fail"].get<std::size_t>());
  CHECK(line_with(lines, "fail  ") < line_with(lines, "caution  "));
  CHECK(line_with(lines, "caution  ") < line_with(lines, "Stay parked"));
  CHECK(!says(ran.out, "source:"));
  CHECK(says(run_program(first_van + " --sources").out, "    source: IEC 60364-4-43:2008"));
}

TEST_CASE("many fails stand by their rule, each named") {
  std::string van = text_of(HOUSEPOWER_SOURCE_DIR "/tests/cli/first-van.toml");
  for (int i = 0; i < 8; ++i) {
    const std::string name = "lamp " + std::to_string(i);
    van += "[[appliance]]\nname = \"" + name + "\"\npower = \"10 W\"\n[[run]]\nname = \"" + name +
           "\"\nfrom = \"bank\"\nto = \"" + name + "\"\nlength = \"3 m\"\nconductor = \"1 mm2\"\n";
  }
  const std::string path = "/tmp/housepower-many-fails.toml";
  std::ofstream(path) << van;
  const Ran ran = run_program("check " + path);
  const Json json = json_of("check " + path, 1);
  CHECK(json["counts"]["fail"].get<int>() >= 10);
  CHECK(lines_of(ran.out).size() <= screen);
  CHECK(says(ran.out, "    also: "));
  const std::string words = flat(ran.out);
  for (const Json& f : json["findings"])
    if (f["verdict"] == "fail")
      CHECK_MESSAGE(says(words, f["subject"].get<std::string>()), f["subject"]);
  std::remove(path.c_str());
}

TEST_CASE("among fails that stand together copper melts rather than getting thousands of degrees") {
  const Ran ran = run_program(
      "check " HOUSEPOWER_SOURCE_DIR "/examples/two-berth.toml --set 'run/lights/conductor=1 mm2' "
      "--set 'run/lights/protection/0/rating=30 A' --set 'run/fridge/conductor=0.5 mm2' --set "
      "'run/controller/conductor=0.5 mm2'");
  CHECK(says(ran.out, "    also: "));
  CHECK(says(flat(ran.out), "(melts, at most 250 °C)"));
}

TEST_CASE("what was not checked is counted apart: to look at, and what needs a figure") {
  const Json json = json_of(first_van, 1);
  std::size_t look = 0, want = 0, wait = 0;
  for (const Json& f : json["findings"]) {
    if (f["verdict"] != "not-checked") continue;
    if (f["rule"] == "inspection") ++look;
    else ++(f["wants"].empty() ? wait : want);
  }
  CHECK(look > 0);
  CHECK(want > 0);
  const std::string counted =
      std::to_string(look + want + wait) + " not checked: " + std::to_string(look) +
      " to look at, " + std::to_string(want) + " need a figure" +
      (wait > 0 ? ", " + std::to_string(wait) + " depend on something else" : std::string());
  CHECK(says(flat(run_program(first_van).out), counted + " (housepower check --open lists them)"));
  const Ran open = run_program(first_van + " --open");
  CHECK(open.exit == 1);  // something fails, listed or not
  CHECK(says(flat(open.out), counted));
  std::string words = open.out;  // a long path is broken after a slash
  std::erase_if(words, [](char c) { return c == ' ' || c == '\n'; });
  for (const Json& f : json["findings"]) {
    if (f["verdict"] != "not-checked") continue;
    std::string what = f["rule"] == "inspection" ? f["case"] : f["rule"];
    std::erase(what, ' ');
    CHECK_MESSAGE(says(words, what), what);
  }
  for (const std::string key : {"bank/discharge_limit", "max_short_circuit_current"})
    CHECK_MESSAGE(says(words, key), key);
}

TEST_CASE("strict, a caution and what is not checked end with 1, too") {
  CHECK(run_program("check examples/faulty/base.toml").exit == 0);
  CHECK(run_program("check examples/faulty/base.toml --strict").exit == 0);
  CHECK(run_program("check examples/two-berth.toml").exit == 0);
  CHECK(run_program("check examples/two-berth.toml --strict").exit == 1);  // not checked
  CHECK(run_program("check examples/faulty/charge-headroom.toml").exit == 0);
  CHECK(run_program("check examples/faulty/charge-headroom.toml --strict").exit == 1);  // caution
}

TEST_CASE("a design of nothing says at once that there was nothing to check") {
  const std::string path = "/tmp/housepower-nothing.toml";
  std::ofstream(path) << "schema = 1\nvehicle = { name = \"Shell\", system_voltage = \"12 V\" }\n"
                         "rules = { profile = \"au-nz-caravan\" }\n";
  const Ran ran = run_program("check " + path);
  CHECK(ran.exit == 0);
  CHECK(lines_of(ran.out).front() ==
        "Shell: nothing to check, the design has no appliances and no runs");
  CHECK(run_program("check " + path + " --strict").exit == 1);
  std::remove(path.c_str());
}

TEST_CASE("all of it is there where it is asked for, and JSON does not mind what text shows") {
  const std::string pellibri = "check examples/pellibri.toml";
  const Ran full = run_program(pellibri + " --full");
  for (const std::string part : {"What passes", "\nEnergy\n", "\nWiring\n", "\nRuns\n",
                                 "Assumed, since the design does not say"})
    CHECK_MESSAGE(says(full.out, part), part);
  CHECK(lines_of(full.out).size() > 200);
  const Ran plain = run_program(pellibri + " --format json");
  for (const std::string option : {" --full", " --open", " --sources", " --passes", " --working"})
    CHECK_MESSAGE(run_program(pellibri + option + " --format json").out == plain.out, option);
}

TEST_CASE("the stay is told as `stay` tells it") {
  for (const auto& example : three) {
    CAPTURE(example);
    const auto lines = lines_of(run_program("check " + example).out);
    const std::size_t at = line_with(lines, "Stay parked");
    REQUIRE(at < lines.size());
    const auto begin = lines[at].find_first_not_of(' ', lines[at].find("Stay parked") + 11);
    const std::string told = lines[at].substr(begin, lines[at].find(',', begin) - begin);
    CHECK_MESSAGE(says(flat(run_program("stay " + example).out), ": " + told + " parked"), told);
  }
}

TEST_CASE("one finding is asked by its rule and its subject, with its working") {
  const std::string drop = "check examples/faulty/drop.toml --why ";
  const Ran ran = run_program(drop + "'drop appliance/Cooler'");
  CHECK(ran.exit == 1);
  CHECK(says(ran.out, "fail  drop: appliance/Cooler"));
  CHECK(says(ran.out, "U_path = "));
  CHECK(says(ran.out, "fix: 4 mm2"));
  const Json json = json_of(drop + "'drop appliance/Water pump'", 0);
  CHECK(json["finding"]["verdict"] == "pass");
  CHECK(json["finding"]["working"].size() > 5);
  const Ran misspelt = run_program(drop + "'drop appliance/Cooller'");
  CHECK(misspelt.exit == 2);
  CHECK(says(misspelt.err, "did you mean \"appliance/Cooler\"?"));
  CHECK(says(run_program(drop + "'drops appliance/Cooler'").err, "did you mean \"drop\"?"));
}

namespace {

const Json& finding_of(const Json& json, const std::string& rule, const std::string& subject) {
  static const Json none;
  for (const Json& f : json["findings"])
    if (f["rule"] == rule && f["subject"] == subject) return f;
  return none;
}

}  // namespace

TEST_CASE("what rests on unsaid values names only keys that move it, the strongest first") {
  const Json json = json_of(first_van, 1);
  const Json& ampacity = finding_of(json, "ampacity", "run/fridge");
  REQUIRE(ampacity["verdict"] == "caution");
  const auto& wants = ampacity["wants"];
  REQUIRE(wants.size() >= 2);
  // Each of them by itself moves the margin; the resistance of the bank does not.
  const std::string kinder[][2] = {{"run/fridge/laid", "free"},
                                   {"run/fridge/circuits_together", "1"},
                                   {"run/fridge/ambient", "30 °C"},
                                   {"run/fridge/insulation", "90 °C"},
                                   {"bank/resistance", "{ low = \"20 mΩ\" }"}};
  for (const auto& [key, value] : kinder) {
    CAPTURE(key);
    const Json with = json_of(first_van + " --set '" + key + "=" + value + "'", 1);
    const Json& now = finding_of(with, "ampacity", "run/fridge");
    const bool moves =
        std::abs(now["margin"].get<double>() - ampacity["margin"].get<double>()) > 1e-6;
    CHECK(moves == (std::find(wants.begin(), wants.end(), Json(key)) != wants.end()));
  }
  for (const Json& f : json["findings"]) {
    if (!says(f["message"], "this rests on values that the design does not state")) continue;
    if (f["verdict"] != "caution") continue;
    std::size_t named = 0;
    const std::string cure = f["cure"], word = " is assumed)";
    for (auto at = cure.find(word); at != cure.npos; at = cure.find(word, at + 1)) ++named;
    CHECK(named >= 1);
    CHECK(named <= 5);
  }
}

}  // namespace cli_check_screen

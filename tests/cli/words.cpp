// SPDX-License-Identifier: Apache-2.0
// Words for people: a formula without a solution, the sign of length in `explain ampacity`, and no
// term that only a mathematician knows.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "housepower/reading/text.hpp"
#include "housepower/units/unit.hpp"
#include "support/json_answer.hpp"

namespace cli_words {

using namespace housepower;
using namespace housepower::test;

/// The text without its line breaks and indents.
static std::string on_a_line(const std::string& text) {
  std::string flat;
  for (const char c : text)
    if (c != '\n' && c != ' ') flat += c;
    else if (flat.empty() || flat.back() != ' ') flat += ' ';
  return flat;
}

TEST_CASE("a formula without a solution says so, and its value is null with a reason") {
  // 4 · R · P ≤ U² holds for no real current here: 4 · 1 · 100 > 12².
  const std::string without =
      "formula constant-power-current --with U='12 V' --with R='1 ohm' --with P='100 W'";
  const Json json = json_of(without, 1);
  CHECK(json.contains("value"));
  CHECK(json["value"].is_null());
  CHECK(json["reason"].get<std::string>().find("no operating point") != std::string::npos);
  const Ran text = run_program(without);
  CHECK(text.exit == 1);
  CHECK(text.out.find("No solution: ") != std::string::npos);
  CHECK(text.out.find("nan") == std::string::npos);
  // With one it is as before: (12 - √(144 - 4 · 0.1 · 100)) / 0.2 = 9.01 A.
  const Json with = json_of(
      "formula constant-power-current --with U='12 V' --with R='0.1 ohm' --with P='100 W'", 0);
  CHECK(with["value"].get<double>() == doctest::Approx(9.0098).epsilon(1e-4));
  CHECK(!with.contains("reason"));
}

namespace {

/// Asked for a formula, the program divides by whatever the reader typed, a zero too; that is no
/// mistake of ours, as it is anywhere else.
struct DividesByZero {
  const char* before = std::getenv("UBSAN_OPTIONS");
  std::string kept = before ? before : "";
  DividesByZero() { setenv("UBSAN_OPTIONS", "halt_on_error=0:log_path=/dev/null", 1); }
  ~DividesByZero() {
    if (before) setenv("UBSAN_OPTIONS", kept.c_str(), 1);
    else unsetenv("UBSAN_OPTIONS");
  }
};

}  // namespace

TEST_CASE("no formula answers with what is no number, however far off its operands") {
  const DividesByZero so;
  const Json all = json_of("formula");
  for (const Json& f : all["formulas"]) {
    const std::string name = f["name"];
    CAPTURE(name);
    for (const std::string number : {"0", "-1", "1e-12", "1e15"}) {
      std::string line = "formula " + name;
      for (const Json& symbol : f["symbols"])
        line += " --with '" + symbol["symbol"].get<std::string>() + "=" + number + " " +
                (symbol["meaning"].get<std::string>().ends_with("in mm²")
                     ? std::string("mm²")
                     : symbol["unit"].get<std::string>()) +
                "'";
      const Ran ran = run_program(line + " --format json");
      if (ran.exit == 2) continue;  // no such temperature, say
      const Json json = Json::parse(ran.out);
      CHECK(json["value"].is_null() == (ran.exit == 1));
      CHECK(json.contains("reason") == (ran.exit == 1));
    }
  }
}

TEST_CASE("explain ampacity tells an electrician what length has to do with it") {
  const Ran ran = run_program("explain ampacity");
  CHECK(ran.exit == 0);
  const std::string flat = on_a_line(ran.out);
  for (const std::string says :
       {"hardly depends on its length", "within 1 m of a device or terminal",
        "What a longer run does lose is voltage"})
    CHECK_MESSAGE(flat.find(says) != std::string::npos, says);
}

TEST_CASE("the withstand of a conductor is printed as a pocket calculator redoes it") {
  // (115 · 2.5)² = 82,656.25 A²s: k in A·√s/mm², S in mm².
  const Ran ran = run_program("formula withstand --with k=115 --with S='2.5 mm2'");
  CHECK(ran.exit == 0);
  CHECK_MESSAGE(ran.out.find("(k · S)² = (115 · 2.5)² = 82660 A²s") != std::string::npos, ran.out);
  // √(I² · t) / k in mm²: √(1000² · 0.1) / 115 = 2.7498.
  const Ran least =
      run_program("formula adiabatic-size --with I='1000 A' --with t='0.1 s' --with k=115");
  CHECK_MESSAGE(least.out.find("/ 115 · 1 mm² = 2.75 mm²") != std::string::npos, least.out);
}

TEST_CASE("no text for people needs a mathematician") {
  const std::string root = HOUSEPOWER_SOURCE_DIR "/src/";
  for (const auto& entry : std::filesystem::recursive_directory_iterator(root)) {
    if (entry.path().extension() != ".cpp") continue;
    const std::string code = text_of(entry.path().string());
    std::size_t line_begins = 0;
    while (line_begins < code.size()) {
      const auto end = std::min(code.find('\n', line_begins), code.size());
      const std::string line = code.substr(line_begins, end - line_begins);
      line_begins = end + 1;
      const auto quote = line.find('"');
      if (quote == line.npos || line.find("//") < quote) continue;
      for (const std::string word : {"Jacobian", "positive definite", "eigenvalue"})
        CHECK_MESSAGE(line.find(word, quote) == line.npos, entry.path().string() << ": " << line);
    }
  }
  const Ran ran = run_program("check examples/pellibri.toml --passes --working");
  CHECK(ran.out.find("Jacobian") == std::string::npos);
  CHECK(on_a_line(ran.out).find("settle at a voltage at which they work") != std::string::npos);
}

// docs/GLOSSARY.md, "How we say it": what an electrician would not say aloud.
TEST_CASE("what is printed for everybody is in the words of the trade") {
  const std::string printed = [] {
    std::string all = run_program("schema --page").out + run_program("--help").out +
                      run_program("manual").out + run_program("tables lies").out;
    const Json rules = Json::parse(run_program("explain --format json").out);
    for (const Json& rule : rules["rules"]) all += rule.dump() + "\n";
    for (const char* design :
         {"marrowick", "pellibri", "faulty/drop", "faulty/voltage-collapse", "faulty/ampacity",
          "faulty/cold-charging", "faulty/inverter-reserve", "faulty/parallel-share"})
      all += run_program("check examples/" + std::string(design) + ".toml --full").out;
    return all;
  }();
  const std::string flat = on_a_line(printed);
  for (const std::string word :
       {" bears ", " for good", " as it lies", " where it lies", " its doubt", " is told ",
        " it tells ", " tells ", " is reckoned", " hangs on ", " asked for ", " lost on the way",
        "joint ones", " way home", " is no month", " parted by ", " all alike"}) {
    const auto at = flat.find(word);
    CHECK_MESSAGE(
        at == flat.npos,
        word << ": " << flat.substr(at == flat.npos ? 0 : at - std::min<std::size_t>(at, 60), 140));
  }
}

/// Whether it is there, however it is broken into lines.
static bool is_printed(const std::string& text, const std::string& words) {
  return on_a_line(text).find(words) != std::string::npos;
}

TEST_CASE("findings are said as an electrician would say them") {
  std::string printed;
  for (const char* design :
       {"bank-charge", "bank-loses-one", "breaking-capacity", "charge-headroom",
        "conductor-fits-terminal", "far-fault-clears", "fault-withstand", "fuse-below-conductor",
        "fuse-near-source", "left-unsaid", "lithium-outside", "parked-drain", "selectivity"})
    printed += run_program("check examples/faulty/" + std::string(design) +
                           ".toml --passes --working --quick")
                   .out;
  const std::string flat = on_a_line(printed);
  for (const std::string wrong :
       {"1 lugs", "within less than", "(no verdict", " carry that much", ") as it is",
        ") as they are", "charger/mains", "open to the living space; L", " want a figure",
        "Heaviest loss", ", the worst for heat"})
    CHECK_MESSAGE(flat.find(wrong) == flat.npos, wrong);
  CHECK(is_printed(flat, "is assumed)"));
  CHECK(is_printed(flat, "Largest drop"));
}

TEST_CASE("a lone source charges, several charge together; two equal figures are told apart") {
  const Json one =
      Json::parse(run_program("check examples/faulty/bank-charge.toml --quick --format json").out);
  for (const Json& f : one["findings"]) {
    const std::string says = f["message"];
    const auto at = says.find(" together charge with ");
    if (f["rule"] == "bank-charge" && at != says.npos)
      CHECK_MESSAGE(says.substr(0, at).find(", ") != std::string::npos, says);
  }
  const Json loses = Json::parse(
      run_program("check examples/faulty/bank-loses-one.toml --quick --format json").out);
  int told = 0;
  for (const Json& f : loses["findings"]) {
    const std::string says = f["message"];
    const auto from = says.find("falls from "), to = says.find(" to ", from),
               end = says.find(';', to);
    if (from == says.npos || end == says.npos) continue;
    CHECK_MESSAGE(says.substr(from + 11, to - from - 11) != says.substr(to + 4, end - to - 4),
                  says);
    ++told;
  }
  CHECK(told > 0);
}

TEST_CASE("copper that would melt melts") {
  const Ran melts = run_program(
      "cable --current '14 A' --length '4 m' --conductor '1 mm2' --fuse 'iso-8820-3-c 30 A' "
      "--bank-resistance '20 mohm'");
  CHECK_MESSAGE(!is_printed(melts.out, "settle at 8"), melts.out);
}

TEST_CASE("air hotter than the terminals are rated for is named as the cause") {
  const Ran ran = run_program("check examples/marrowick.toml --quick --set 'run/water "
                              "pump/ambient=84 °C'");
  CHECK(ran.exit == 1);
  CHECK_MESSAGE(is_printed(ran.out, "the air at its terminals has 84 °C, and they are rated for"),
                ran.out);
}

static const std::string van_here = "/tmp/housepower-words-van.toml";

/// What is said of the first design with these lines below it.
static std::string said_with(const std::string& lines) {
  std::ofstream(van_here) << "extends = \"" HOUSEPOWER_SOURCE_DIR "/examples/marrowick.toml\"\n"
                          << lines;
  return on_a_line(run_program("check " + van_here).err);
}

TEST_CASE("mistakes of writing are said in our words, with what to write") {
  const auto says = [](const std::string& lines, const std::string& words) {
    const std::string said = said_with(lines);
    CHECK_MESSAGE(said.find(words) != said.npos, said);
  };
  says("[promise]\nautonomy = \"2 d\"\nautonomy = \"3 d\"\n",
       "\"autonomy\" is given twice, first at line 3");
  says("[promise]\nautonomy = \"2 d\"\n[promise]\npeople = 2\n",
       "\"promise\" is given twice, first at line 2");
  says("[bank.box]\nenclosed = yes\n", "without quotes: enclosed = true");
  says("[promise]\npeople = two\n", "without quotes: people = 2");
  says("[promise]\nautonomy = \"2\001 d\"\n", "control character is inside quotes");
  says("[[run]]\nname = \"water pump\"\nlength = \"12'\"\n", "did you mean \"12 ft\"?");
  says("[drawing]\ndate = \"some day\"\n", "is not a date");
  says("[[inverter]]\nname = \"inverter\"\nprice = \"13 furlongs\"\n", "is not a price");
  says("[[appliance]]\nname = \"Lights\"\nbetween = []\n", "is empty");
  says("[[run]]\nname = \"water pump\"\nconductor = \"6\"\n", "`run/water pump/conductor` \"6\"");
  std::remove(van_here.c_str());
}

TEST_CASE("letters that changed places are understood, and --why says what to add") {
  CHECK(is_printed(run_program("chekc van.toml").err, "did you mean \"check\"?"));
  const Ran why = run_program("check examples/marrowick.toml --why drop");
  CHECK(why.exit == 2);
  CHECK_MESSAGE(is_printed(why.err, "say which, behind a space"), why.err);
}

TEST_CASE("options do what they say, or are not there") {
  CHECK(run_program("wiring examples/pellibri.toml --passes").exit == 2);
  CHECK(run_program("energy examples/pellibri.toml --working").exit == 2);
  CHECK(run_program("schedule examples/pellibri.toml --quiet").out.empty());
  CHECK(run_program("looms examples/quondelay.toml --quiet").out.empty());
  CHECK(!run_program("schedule examples/pellibri.toml --quiet --format csv").out.empty());
  const std::string looms = on_a_line(run_program("looms examples/quondelay.toml --units us").out);
  CHECK(looms.find(" ft") != looms.npos);
  CHECK(looms.find("length, m ") == looms.npos);
  CHECK(run_program("stay examples/pellibri.toml --chance '100 %' --years 3").exit == 0);
  const Ran sources = run_program("check examples/pellibri.toml --sources");
  CHECK(is_printed(sources.out, "--passes"));
  std::ofstream(van_here) << "extends = \"" HOUSEPOWER_SOURCE_DIR
                             "/examples/marrowick.toml\"\n[[run]]\nname = \"water "
                             "pump\"\nconductor = \"6\"\n";
  const Ran json = run_program("check " + van_here + " --quick --format json");
  CHECK(Json::parse(json.out).contains("findings"));
  CHECK_MESSAGE(is_printed(json.err, "is read as 6 mm2"), json.err);
  std::remove(van_here.c_str());
}

TEST_CASE("new --all shows which keys go with which kind of part") {
  std::string all = run_program("new --all").out, parts;
  for (std::size_t at = 0; at < all.size();) {
    const auto end = std::min(all.find('\n', at), all.size());
    if (all.compare(at, 2, "# ") == 0) parts += all.substr(at + 2, end - at - 2) + "\n";
    at = end + 1;
  }
  const auto first = parts.find("[[part]]"), after = parts.find("\n[", parts.rfind("[[part]]") + 8);
  REQUIRE(first != parts.npos);
  int kinds = 0;
  for (auto at = first; at != parts.npos; at = parts.find("[[part]]", at + 1)) ++kinds;
  CHECK(kinds == 7);
  std::ofstream(van_here) << "extends = \"" HOUSEPOWER_SOURCE_DIR "/examples/marrowick.toml\"\n"
                          << parts.substr(first, after == parts.npos ? after : after - first + 1);
  const std::string said = run_program("check " + van_here).err;
  CHECK_MESSAGE(said.find("is not a key of this table") == said.npos, said);
  std::remove(van_here.c_str());
}

TEST_CASE("no line of help or of an error's help is wider than a page") {
  std::string printed = run_program("--help").out +
                        run_program("check examples/marrowick.toml --why 'drop appliance/x'").err;
  for (const char* verb : {"record", "parts", "runs", "range", "build-list", "cable", "stay"})
    printed += run_program(std::string(verb) + " --help").out;
  for (std::size_t at = 0; at < printed.size();) {
    const auto end = std::min(printed.find('\n', at), printed.size());
    const std::string line = printed.substr(at, end - at);
    CHECK_MESSAGE(detail::count_code_points(line) <= 100, line);
    at = end + 1;
  }
  const std::string record = run_program("record --help").out;
  CHECK(record.find("record new van.toml") != std::string::npos);
  CHECK(record.find("PART=SERIAL") != std::string::npos);
  CHECK(run_program("runs --help").out.find("\"runs.toml\"") != std::string::npos);
  CHECK(run_program("parts --help").out.find("\"parts.toml\"") != std::string::npos);
}

}  // namespace cli_words

// SPDX-License-Identifier: Apache-2.0
// Words for people: a formula without a solution, the sign of length in `explain ampacity`, and no
// term that only a mathematician knows.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "support/json_answer.hpp"

namespace cli_words {

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

}  // namespace cli_words

// SPDX-License-Identifier: Apache-2.0
// What people type: help wherever it is looked for, a word that is not quite right, quiet answers,
// and errors that name what was typed.
#include <doctest/doctest.h>

#include <vector>

#include "support/json_answer.hpp"

namespace cli_typed {
namespace {

using namespace housepower::test;

bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// The names of the commands, as the help lists them.
std::vector<std::string> all_commands() {
  const std::string help = run_program("--help").out;
  std::vector<std::string> names;
  for (auto at = help.find("Commands:\n") + 10; help[at] == ' '; at = help.find('\n', at) + 1)
    names.push_back(help.substr(at + 2, help.find(' ', at + 2) - at - 2));
  return names;
}

const std::string van = "examples/pellibri.toml";

}  // namespace

TEST_CASE("the version and the help are where people look for them") {
  CHECK(run_program("-V").out == run_program("--version").out);
  CHECK(run_program("-V").exit == 0);
  CHECK(run_program("help").out == run_program("--help").out);
  for (const auto& command : all_commands()) {
    CAPTURE(command);
    const Ran told = run_program("help " + command);
    CHECK(told.exit == 0);
    CHECK(told.out == run_program(command + " --help").out);
  }
  const Ran wrong = run_program("help wirring");
  CHECK(wrong.exit == 2);
  CHECK(holds(wrong.err, "did you mean \"wiring\"?"));
}

TEST_CASE("the help of each command has two examples of it") {
  const auto commands = all_commands();
  REQUIRE(commands.size() >= 20);
  for (const auto& command : commands) {
    CAPTURE(command);
    const std::string help = run_program(command + " --help").out, call = "  housepower " + command;
    const auto first = help.find("For example:\n" + call);
    REQUIRE(first != help.npos);
    const auto second = help.find("\n" + call, first + 20);
    CHECK(second != help.npos);
    CHECK(second < help.find("Options:"));
  }
}

TEST_CASE("the examples of the help are understood as far as their files") {
  for (const auto& command : all_commands()) {
    const std::string help = run_program(command + " --help").out;
    const std::string call = "  housepower " + command;
    for (auto at = help.find("\n" + call); at != help.npos; at = help.find("\n" + call, at + 1)) {
      std::string line = help.substr(at + 14, help.find('\n', at + 1) - at - 14);
      CAPTURE(line);
      line = line.substr(0, line.find_first_of(">|"));
      if (holds(line, "new --ask")) line = "new";
      const Ran ran = run_shell("cd /tmp && " + program + " " + line + " < /dev/null");
      CHECK(ran.exit != 2);
    }
  }
}

TEST_CASE("the help says what an option takes") {
  const std::string cable = run_program("cable --help").out;
  for (const std::string says :
       {"--length LENGTH", "--current CURRENT", "--ambient TEMPERATURE", "--ampacity-table TABLE",
        "--conductor SIZE", "--joints NUMBER", "--sizes metric|awg", "--format text|json|html",
        "|clipped|", "--drop SHARE", "--units us|metric"})
    CHECK_MESSAGE(holds(cable, says), says);
  const std::string stay = run_program("stay --help").out;
  for (const std::string says :
       {"--month MONTH", "--place TOWN", "--use frugal|typical|heavy", "--age DURATION",
        "--set PATH=VALUE", "--tables FOLDER", "--weather FILE"})
    CHECK_MESSAGE(holds(stay, says), says);
  for (const auto& command : all_commands()) {
    const std::string help = run_program(command + " --help").out;
    CAPTURE(command);
    CHECK_FALSE(holds(help, "QUANTITY"));
    for (const std::string option : {"--set", "--format", "--tables", "--output", "--color"})
      CHECK_FALSE(holds(help, option + " TEXT"));
  }
}

TEST_CASE("quiet, the program tells errors only, and its exit code the rest") {
  for (const std::string& line :
       {"check " + van, std::string("check examples/faulty/drop.toml"), "energy " + van,
        "wiring " + van, std::string("cable --current '20 A' --length '4 m'"),
        std::string("range examples/faulty"), std::string("explain drop"), std::string("tables"),
        std::string("formula"), "build-list " + van, "test-sheet " + van}) {
    CAPTURE(line);
    const Ran loud = run_program(line), quiet = run_program(line + " --quiet");
    CHECK_FALSE(loud.out.empty());
    CHECK(quiet.out.empty());
    CHECK(quiet.exit == loud.exit);
    CHECK_FALSE(holds(quiet.err, "note:"));
    CHECK_FALSE(holds(quiet.err, "warning:"));
  }
  const Ran wrong = run_program("check tests/golden/half-written.toml --quiet");
  CHECK(wrong.exit == 3);
  CHECK(wrong.out.empty());
  CHECK(holds(wrong.err, "error: `vehicle/system_voltage`"));
  const Ran json = run_program("check tests/golden/half-written.toml --quiet --format json");
  CHECK(holds(json.out, "\"diagnostics\""));  // what programs read stays
  CHECK(json.exit == 3);
  CHECK(json.err.empty());
  for (const auto& command : all_commands()) {
    CAPTURE(command);
    CHECK(holds(run_program(command + " --help").out, "--quiet"));
  }
}

TEST_CASE("a folder in the place of a design points to the command for folders") {
  for (const std::string command : {"check", "energy", "stay", "wiring"}) {
    const Ran ran = run_program(command + " examples/faulty");
    CAPTURE(command);
    CHECK(ran.exit == 4);
    CHECK(holds(ran.err, "is a folder, not a design"));
    CHECK(holds(ran.err, "housepower range examples/faulty"));
  }
}

TEST_CASE("a word that is not quite right is told with the right one") {
  struct Row {
    std::string typed, says;
  };
  for (const Row& row :
       {Row{"chek " + van, "did you mean \"check\"?"}, Row{"build " + van, "\"build-list\"?"},
        Row{"test " + van, "\"test-sheet\"?"}, Row{van, "housepower check " + van},
        Row{"cable --curent '3 A' --lenght '3 m'", "did you mean \"--current\"?"},
        Row{"cable --curent '3 A' --lenght '3 m'", "did you mean \"--length\"?"},
        Row{"check " + van + " --work", "did you mean \"--working\"?"},
        Row{"check " + van + " --month july", "--month is an option of stay, size"},
        Row{"check " + van + " --format=jsn", "did you mean \"json\"?"},
        Row{"check " + van + " --unit us", "did you mean \"--units\"?"},
        Row{"cable --length '4 m'", "wants exactly one of --current, --power"},
        Row{"cable --length '4 m'", "for example --current \"20 A\""},
        Row{"check", "check wants FILE"}, Row{"cable --current '4 A'", "--length is required"},
        Row{"check " + van + " --units imperial", "\"us\", \"metric\""}}) {
    CAPTURE(row.typed);
    const Ran ran = run_program(row.typed);
    CHECK(ran.exit == 2);
    CHECK(ran.out.empty());
    CHECK_MESSAGE(holds(ran.err, row.says), ran.err);
  }
}

TEST_CASE("months and towns are understood as people write them") {
  const Json july = json_of("stay " + van + " --month july");
  for (const std::string month : {"jul", "JULY", "Jul.", "7"}) {
    CAPTURE(month);
    CHECK(json_of("stay " + van + " --month " + month)["stay_d"] == july["stay_d"]);
  }
  const Json lyon = json_of("energy " + van + " --place lyon");
  for (const std::string town : {"Lyon", "LYON", "'Lyon, France'"}) {
    CAPTURE(town);
    CHECK(json_of("energy " + van + " --place " + town)["energy"] == lyon["energy"]);
  }
}

TEST_CASE("an error of an option names the option that was typed") {
  struct Row {
    std::string typed, option;
  };
  for (const Row& row :
       {Row{"stay " + van + " --month jule", "--month"},
        Row{"size " + van + " --month jule", "--month"},
        Row{"stay " + van + " --place lyonn", "--place"},
        Row{"stay " + van + " --age '40 y'", "--age"},
        Row{"stay " + van + " --chance 1.5", "--chance"},
        Row{"cable --current '20 A' --length '4 m' --conductor '6 mm'", "--conductor"},
        Row{"cable --current '20 A' --length '4 m' --fuse 'iso-8820 25 A'", "--fuse"},
        Row{"cable --current '20 A' --length '4 kg'", "--length"}}) {
    CAPTURE(row.typed);
    const Ran ran = run_program(row.typed);
    CHECK((ran.exit == 2 || ran.exit == 3));
    CHECK_MESSAGE(holds(ran.err, row.option), ran.err);
    CHECK_MESSAGE(!holds(ran.err, "--set"), ran.err);
  }
}

TEST_CASE("a bare conductor of `cable` is of the series that is chosen from") {
  const std::string run = "cable --current '20 A' --length '4 m' ";
  const auto name = [&](const std::string& more) {
    return json_of(run + more)["conductor"].get<std::string>();
  };
  CHECK(name("--conductor 35") == "35 mm2");
  CHECK(name("--conductor 10.0") == "10 mm2");
  CHECK(name("--conductor 2/0 --sizes awg") == "2/0 awg");
  CHECK(name("--conductor 6 --sizes awg") == "6 awg");
  CHECK(name("--conductor 6 --conductor-table sae") == "6 sae");
  const Ran unclear = run_program("cable --current '20 A' --length '4 m' --conductor 2/0");
  CHECK(unclear.exit == 3);
  CHECK(holds(unclear.err, "--> --conductor:1:1"));
  CHECK(holds(unclear.err, "\"2/0 awg\" has 67.4 mm²"));  // NEC ch. 9 table 8: 67.43 mm²
}

TEST_CASE("what was typed may have decimal commas where they are clear") {
  const Json point = json_of("cable --current '12.5 A' --length '2.4 m'"),
             comma = json_of("cable --current '12,5 A' --length '2,4 m'");
  CHECK(point["voltage_drop_V"] == comma["voltage_drop_V"]);
  const Ran unclear = run_program("cable --power '1,200 W' --length '4 m'");
  CHECK(unclear.exit == 2);
  CHECK(holds(unclear.err, "--power: may be read in two ways, as 1.2 or as 1200"));
  const Ran mixed = run_program("cable --power '1.200 W' --length '2,4 m'");
  CHECK(mixed.exit == 2);
  CHECK(holds(mixed.err, "--power"));
  CHECK(run_program("cable --power '1.200 W' --length '2.4 m'").exit == 0);
}

}  // namespace cli_typed

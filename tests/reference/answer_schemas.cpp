// SPDX-License-Identifier: Apache-2.0
// The schemas of the answers, judged by the jsonschema package of Python where it is installed: each is
// a schema of its draft, answers hold against their own, and what the tests of the command line refuse
// is refused there, too.
#include <doctest/doctest.h>

#include <unistd.h>

#include <filesystem>

#include "support/command.hpp"

namespace reference_answer_schemas {
namespace {

using namespace housepower::test;

bool has_jsonschema() {
  return std::system("python3 -c 'import tomllib, jsonschema' >/dev/null 2>&1") == 0;
}

struct Folder {
  std::string path = "/tmp/housepower-answers-" + std::to_string(getpid()) + "/";
  Folder() { std::filesystem::create_directory(path); }
  ~Folder() { std::filesystem::remove_all(path); }
};

/// What the validator says of answers in files of that folder; empty: nothing.
std::string against(const Folder& folder, const std::string& command, const std::string& answers) {
  const std::string schema = folder.path + "schema";
  REQUIRE(run_program("schema --of answers " + (command.empty() ? "" : "--command " + command) +
                      " > " + schema)
              .exit == 0);
  return run_shell("python3 -W ignore tests/reference/files_against_schema.py " + schema + " " +
                   answers + " 2>&1 || echo refused")
      .out;
}

void write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

}  // namespace

TEST_CASE("the schema of each command's answers is one, and takes what the command answers" *
          doctest::skip(!has_jsonschema())) {
  const Folder folder;
  struct Asked {
    const char *command, *arguments;
  };
  for (const Asked& asked :
       {Asked{"check", "examples/quondelay.toml"},
        {"check", "examples/faulty/voltage-collapse.toml"},
        {"check", "no-such-file.toml"},
        {"energy", "examples/pellibri.toml"},
        {"wiring", "examples/marrowick.toml"},
        {"mend", "examples/faulty/drop.toml"},
        {"stay", "examples/pellibri.toml --years 2"},
        {"size", "examples/sizing/pellibri.toml"},
        {"range", "examples --stays none"},
        {"compare", "examples/pellibri.toml examples/quondelay.toml"},
        {"test-sheet", "examples/marrowick.toml --readings examples/readings/marrowick-0417.toml"},
        {"record", "show no-such-file"},
        {"build-list", "examples/pellibri.toml"},
        {"schedule", "examples/pellibri.toml"},
        {"cable", "--current '20 A' --length '4 m'"},
        {"loads", "examples/loads-marrowick.csv"},
        {"runs", "examples/runs-fennimarl.csv"},
        {"parts", "examples/parts.toml"},
        {"explain", "drop"},
        {"formula", "voltage-drop"},
        {"tables", "towns"}}) {
    CAPTURE(asked.command);
    const std::string answer = folder.path + "answer.json";
    write(answer,
          run_program(asked.command + std::string(" ") + asked.arguments + " --format json").out);
    CHECK(against(folder, asked.command, answer) == "");
  }
}

TEST_CASE("the schema of all answers takes one of them, and neither one key more nor one less" *
          doctest::skip(!has_jsonschema())) {
  const Folder folder;
  const std::string answer = run_program("explain drop --format json").out;
  const auto changed = [&](const std::string& piece, const std::string& other) {
    std::string text = answer;
    const auto at = text.find(piece);
    REQUIRE(at != std::string::npos);
    write(folder.path + "changed.json", text.replace(at, piece.size(), other));
    return folder.path + "changed.json";
  };
  CHECK(against(folder, "", changed("\"rule\"", "\"rule\"")) == "");
  for (const char* other : {"\"rool\"", "\"more\": 1, \"rule\""})
    CHECK(against(folder, "", changed("\"rule\"", other)).find("refused") != std::string::npos);
}

}  // namespace reference_answer_schemas

// SPDX-License-Identifier: Apache-2.0
// Each .txt here is one run: the command after "$ housepower ", what it prints to stdout, then the
// line "--- stderr" and what it prints there, then "--- exit N". UPDATE_GOLDEN=1 writes them anew;
// the difference is read before it is kept. That a figure is right is proved elsewhere.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <vector>

#include "support/command.hpp"

namespace golden_golden {
namespace {

using namespace housepower::test;

std::vector<std::string> golden_files() {
  std::vector<std::string> names;
  for (const auto& entry :
       std::filesystem::directory_iterator(HOUSEPOWER_SOURCE_DIR "/tests/golden"))
    if (entry.path().extension() == ".txt") names.push_back(entry.path().string());
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace

TEST_CASE("what the program prints is what we say it prints") {
  const auto names = golden_files();
  REQUIRE(names.size() >= 9);  // one a command at least
  for (const auto& name : names) {
    CAPTURE(name);
    const std::string kept = text_of(name);
    const std::string command = kept.substr(0, kept.find('\n'));
    REQUIRE(command.rfind("$ housepower ", 0) == 0);
    const Ran ran = run_program(command.substr(13));
    const std::string now = command + "\n" + ran.out + "--- stderr\n" + ran.err + "--- exit " +
                            std::to_string(ran.exit) + "\n";
    if (std::getenv("UPDATE_GOLDEN") != nullptr) std::ofstream(name, std::ios::binary) << now;
    else CHECK(now == kept);
  }
}

}  // namespace golden_golden

// SPDX-License-Identifier: Apache-2.0
// A van with many mistakes of every kind: how often its author has to run the program until each has
// been told, correcting after each run no more than what it told.
#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdio>
#include <map>
#include <set>
#include <sstream>
#include <vector>

#include "support/command.hpp"

namespace cli_mistakes {
namespace {

using namespace housepower::test;

/// A file, and the lines that are wrong with what should stand there.
struct Van {
  std::vector<std::string> lines;
  std::map<int, std::string> right;  // by the number of the wrong line
};

Van read_van() {
  Van van;
  std::istringstream in(text_of(HOUSEPOWER_SOURCE_DIR "/tests/cli/mistakes.toml"));
  const std::string mark = "#= ";
  for (std::string line; std::getline(in, line);) {
    if (!van.lines.empty() && van.lines.back().substr(0, mark.size()) == mark) {
      std::string right = van.lines.back().substr(mark.size());
      if (const auto at = right.find("\\n"); at != right.npos) right.replace(at, 2, "\n");
      van.right[int(van.lines.size()) + 1] = right;
    }
    van.lines.push_back(line);
  }
  return van;
}

/// No line moves: of a correction of two lines, the first takes the place of its comment.
std::string text_with(const Van& van, const std::set<int>& corrected) {
  auto lines = van.lines;
  for (const int number : corrected) {
    const std::string& right = van.right.at(number);
    const auto end = right.find('\n');
    const auto line = std::size_t(number) - 1;
    if (end != right.npos) lines[line - 1] = right.substr(0, end);
    lines[line] = end == right.npos ? right : right.substr(end + 1);
  }
  std::string text;
  for (const auto& line : lines) text += line + "\n";
  return text;
}

struct Told {
  std::set<int> lines;
  int exit = -1;
};

/// The lines that one run tells of, each with its column.
Told run_of(const std::string& text) {
  const std::string path = "/tmp/housepower-mistakes-" + std::to_string(getpid()) + ".toml";
  std::ofstream(path, std::ios::binary) << text;
  const Ran ran = run_program("check " + path);
  std::remove(path.c_str());
  Told told{{}, ran.exit};
  const std::string arrow = "--> " + path + ":";
  for (auto at = ran.err.find(arrow); at != ran.err.npos; at = ran.err.find(arrow, at + 1)) {
    int line = 0, column = 0;
    CHECK(std::sscanf(ran.err.c_str() + at + arrow.size(), "%d:%d", &line, &column) == 2);
    CHECK(column >= 1);
    told.lines.insert(line);
  }
  return told;
}

}  // namespace

TEST_CASE("each of 24 mistakes is told in one run, with its line and column") {
  const Van van = read_van();
  REQUIRE(van.right.size() == 24);
  const Told first = run_of(text_with(van, {}));
  CHECK(first.exit == 3);
  for (const auto& wrong : van.right) {
    const int line = wrong.first;
    CAPTURE(line);
    CAPTURE(van.lines[std::size_t(line) - 1]);
    CHECK(first.lines.count(line) == 1);
  }
  for (const int line : first.lines) {  // and nothing of what is right
    CAPTURE(line);
    CAPTURE(van.lines[std::size_t(line) - 1]);
    CHECK(van.right.count(line) == 1);
  }
}

TEST_CASE("once they are corrected the van is checked") {
  const Van van = read_van();
  std::set<int> all;
  for (const auto& wrong : van.right) all.insert(wrong.first);
  const Told then = run_of(text_with(van, all));
  CHECK(then.lines.empty());
  CHECK(then.exit <= 1);  // its cables may fail
}

TEST_CASE("a mistake is told whichever other mistake stands beside it") {
  const Van van = read_van();
  for (const auto& wrong : van.right) {
    std::set<int> others;
    for (const auto& one : van.right)
      if (one.first != wrong.first) others.insert(one.first);
    const Told told = run_of(text_with(van, others));
    CAPTURE(van.lines[std::size_t(wrong.first) - 1]);
    CHECK(told.exit == 3);
    CHECK(told.lines.count(wrong.first) == 1);
  }
}

}  // namespace cli_mistakes

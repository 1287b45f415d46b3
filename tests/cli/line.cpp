// SPDX-License-Identifier: Apache-2.0
// docs/LINE.md is a day on the line: each command in it is run, and prints what stands below it.
#include <doctest/doctest.h>
#include <unistd.h>

#include <filesystem>
#include <sstream>
#include <vector>

#include "support/command.hpp"

namespace cli_line {
namespace {

using namespace housepower::test;
namespace fs = std::filesystem;

/// A command and what is shown of its answer; "…" stands for lines that are left out.
struct Shown {
  std::string command;
  std::vector<std::string> lines;
};

std::vector<Shown> shown_in(const std::string& text) {
  std::vector<Shown> all;
  std::istringstream lines(text);
  bool inside = false;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("```")) inside = !inside;
    else if (inside && line.starts_with("$ ")) all.push_back({line.substr(2), {}});
    else if (inside && !all.empty()) all.back().lines.push_back(line);
  }
  return all;
}

/// The lines in their order; between two that stand together nothing else may be printed.
bool is_printed(const std::string& out, const std::vector<std::string>& lines,
                std::string& missing) {
  std::size_t at = 0;
  bool anywhere = false;
  for (const auto& line : lines) {
    if (line == "…") {
      anywhere = true;
      continue;
    }
    missing = line;
    const std::string whole = line + "\n";
    const auto found = anywhere ? ("\n" + out).find("\n" + whole, at) : at;
    if (found == std::string::npos || out.compare(found, whole.size(), whole) != 0) return false;
    at = found + whole.size();
    anywhere = false;
  }
  return true;
}

struct Workshop {
  std::string path = "/tmp/housepower-line-" + std::to_string(getpid());
  Workshop() {
    fs::create_directories(path + "/build");
    (void)run_shell("ln -s " + program + " " + path + "/build/housepower");
    fs::create_directory_symlink(HOUSEPOWER_SOURCE_DIR "/examples", path + "/examples");
  }
  ~Workshop() { fs::remove_all(path); }
};

}  // namespace

TEST_CASE("a day on the line prints what docs/LINE.md says") {
  const Workshop workshop;
  const auto all = shown_in(text_of(HOUSEPOWER_SOURCE_DIR "/docs/LINE.md"));
  CHECK(all.size() >= 8);
  for (const Shown& one : all) {
    CAPTURE(one.command);
    const Ran ran = run_shell("cd " + workshop.path + " && " + one.command);
    std::string missing;
    const bool printed = is_printed(ran.out, one.lines, missing);
    CAPTURE(missing);
    CAPTURE(ran.out);
    CHECK(printed);
  }
}

}  // namespace cli_line

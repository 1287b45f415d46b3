// SPDX-License-Identifier: Apache-2.0
// Runs the program as a person would: from the project's folder, with what it prints and its exit.
#pragma once

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

namespace housepower::test {

struct Ran {
  std::string out, err;
  int exit = -1;
};

inline std::string text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// The program, as the shell finds it: the one built beside the tests, or that of the environment.
inline const std::string program = [] {
  const char* another = std::getenv("HOUSEPOWER_EXECUTABLE");
  return "'" + std::string(another ? another : HOUSEPOWER_EXECUTABLE) + "'";
}();

/// A line of the shell; standard error of its last command is kept apart in a file of its own.
/// COLUMNS is the tester's, not the test's.
inline Ran run_shell(const std::string& command) {
  Ran ran;
  char name[] = "/tmp/housepower-err-XXXXXX";
  const int kept = mkstemp(name);
  const std::string line =
      "unset COLUMNS; cd '" HOUSEPOWER_SOURCE_DIR "' && " + command + " 2>" + name;
  FILE* pipe = popen(line.c_str(), "r");
  if (pipe == nullptr || kept < 0) return ran;
  std::array<char, 4096> piece{};
  while (const std::size_t n = std::fread(piece.data(), 1, piece.size(), pipe))
    ran.out.append(piece.data(), n);
  const int status = pclose(pipe);
  ran.exit = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  ran.err = text_of(name);
  std::remove(name);
  return ran;
}

/// `arguments` go through the shell.
inline Ran run_program(const std::string& arguments) {
  return run_shell(program + " " + arguments);
}

}  // namespace housepower::test

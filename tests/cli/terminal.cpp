// SPDX-License-Identifier: Apache-2.0
// The program on a terminal of its own: how wide it writes, when it colours, which signs it draws.
#include <doctest/doctest.h>
#include <pty.h>
#include <unistd.h>

#include <algorithm>
#include <sstream>

#include "housepower/reading/shown.hpp"
#include "support/command.hpp"

namespace cli_terminal {
namespace {

using namespace housepower::test;

/// What the program writes on a terminal so wide; `surroundings` are variables, "A=1 B=2".
std::string on_terminal(const std::string& arguments, unsigned short columns,
                        const std::string& surroundings) {
  const std::string line =
      "cd '" HOUSEPOWER_SOURCE_DIR "' && env -i " + surroundings + " " + program + " " + arguments;
  winsize size{};
  size.ws_row = 40, size.ws_col = columns;
  int own = -1;
  const pid_t child = forkpty(&own, nullptr, nullptr, &size);
  if (child == 0) {
    execl("/bin/sh", "sh", "-c", line.c_str(), nullptr);
    _exit(127);
  }
  REQUIRE(child > 0);
  std::string out;
  std::array<char, 4096> piece{};
  for (ssize_t n = 0; (n = read(own, piece.data(), piece.size())) > 0;)
    out.append(piece.data(), static_cast<std::size_t>(n));
  waitpid(child, nullptr, 0);
  close(own);
  out.erase(std::remove(out.begin(), out.end(), '\r'), out.end());
  return out;
}

std::size_t widest_line(const std::string& text) {
  std::size_t widest = 0;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);)
    widest = std::max(widest, housepower::shown_width(line));
  return widest;
}
bool has_colour(const std::string& text) { return text.find("\x1b[1m") != text.npos; }

const std::string energy = "energy examples/faulty/base.toml";
const std::string wiring = "wiring examples/pellibri.toml";

}  // namespace

TEST_CASE("an answer is as wide as its terminal, or as COLUMNS says") {
  const std::string utf8 = "LANG=C.UTF-8 TERM=dumb";
  const auto narrow = widest_line(on_terminal(wiring, 70, utf8));
  CHECK(narrow <= 70);
  CHECK(narrow > 60);
  const auto wide = widest_line(on_terminal(wiring, 180, utf8));
  CHECK(wide > 100);  // its widest table, unwrapped
  CHECK(wide <= 180);
  CHECK(widest_line(on_terminal(wiring, 180, utf8 + " COLUMNS=64")) <= 64);
  CHECK(widest_line(on_terminal(wiring, 180, utf8 + " COLUMNS=none")) == wide);
  CHECK(widest_line(on_terminal(wiring, 0, utf8)) <= 100);  // a terminal that tells nothing
}

TEST_CASE("colour is for terminals that take it and people who want it") {
  CHECK(has_colour(on_terminal(energy, 100, "TERM=xterm")));
  CHECK_FALSE(has_colour(on_terminal(energy, 100, "TERM=xterm NO_COLOR=1")));
  CHECK(has_colour(on_terminal(energy, 100, "TERM=xterm NO_COLOR=")));
  CHECK_FALSE(has_colour(on_terminal(energy, 100, "TERM=dumb")));
  CHECK_FALSE(has_colour(on_terminal(energy + " --color never", 100, "TERM=xterm")));
  CHECK(has_colour(on_terminal(energy + " --color always", 100, "TERM=dumb NO_COLOR=1")));
  CHECK_FALSE(has_colour(run_program(energy).out));
  CHECK(has_colour(run_program(energy + " --color=always").out));
  CHECK_FALSE(has_colour(run_program(energy + " --color always --format json").out));
  const Ran wrong = run_program(energy + " --color alway");
  CHECK(wrong.exit == 2);
  CHECK(wrong.err.find("did you mean \"always\"?") != std::string::npos);
}

TEST_CASE("bars are of blocks where the locale says UTF-8, else of ASCII") {
  const auto blocks = [](const std::string& text) { return text.find("█") != text.npos; };
  CHECK(blocks(on_terminal(energy, 100, "LANG=en_AU.UTF-8")));
  CHECK(blocks(on_terminal(energy, 100, "LANG=C LC_CTYPE=C.utf8")));
  CHECK_FALSE(blocks(on_terminal(energy, 100, "LANG=C.UTF-8 LC_ALL=POSIX")));
  const auto plain = on_terminal(energy, 100, "TERM=dumb");
  CHECK_FALSE(blocks(plain));
  CHECK(plain.find("  ########") != plain.npos);
  CHECK(blocks(run_program(energy).out));  // a file is UTF-8 wherever it is made
  CHECK_FALSE(blocks(run_program(energy + " --format json").out));
}

}  // namespace cli_terminal

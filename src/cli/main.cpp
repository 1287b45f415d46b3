// SPDX-License-Identifier: Apache-2.0
// The program's edge: files, streams and the terminal. Everything else is a pure function.
#include <sys/ioctl.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <exception>
#include <fstream>
#include <iostream>
#include <iterator>
#include <sstream>

#include "command.hpp"

namespace {

using namespace housepower;

std::optional<std::string> read_file(std::string_view path) {
  std::ifstream file{std::string(path), std::ios::binary};
  if (!file) return std::nullopt;
  std::ostringstream text;  // a block at a time, unlike an iterator of characters
  if (file.peek() != std::ifstream::traits_type::eof()) text << file.rdbuf();
  return file.bad() ? std::nullopt : std::optional(std::move(text).str());
}

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

std::optional<int> terminal_columns() {
  if (isatty(STDOUT_FILENO) == 0) return std::nullopt;
  winsize size{};
  return ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 ? size.ws_col : 0;
}

}  // namespace

int main(int count, char** arguments) {
  std::signal(SIGPIPE, SIG_DFL);  // a reader that has seen enough ends the program quietly
  std::ios::sync_with_stdio(false);
  std::optional<std::string> typed_in;  // standard input can be read once only
  const FileReader read = [&](std::string_view path) -> std::optional<std::string> {
    if (path != "-") return read_file(path);
    if (!typed_in)
      typed_in.emplace(std::istreambuf_iterator<char>(std::cin), std::istreambuf_iterator<char>());
    return typed_in;
  };
  cli::World world{std::cout, std::cerr, read, cli::screen_of(terminal_columns(), variable)};
  try {
    const int code = cli::run(count, arguments, world);
    std::cout.flush();
    if (!std::cout) {
      std::cerr << "error: the answer could not be written\n";
      return cli::io_error;
    }
    return code;
  } catch (const std::exception& mistake) {
    std::cout.flush();
    std::cerr << "housepower " << report::version() << ": our own mistake: " << mistake.what()
              << "\nPlease report it with the command and the file that led here.\n";
    return cli::our_mistake;
  }
}

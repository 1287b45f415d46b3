// SPDX-License-Identifier: Apache-2.0
// The program's edge: files, streams and the terminal. Everything else is a pure function.
#include <sys/ioctl.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <exception>
#include <iostream>

#include "command.hpp"
#include "housepower/version.hpp"
#include "messages.hpp"

namespace {

using namespace housepower;

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
  std::signal(SIGXFSZ, SIG_IGN);  // a file that may not grow: writing fails, and is cleaned up
  std::ios::sync_with_stdio(false);
  cli::Files files;
  const FileReader read = [&](std::string_view path) { return files.read(path); };
  cli::Messages messages(std::cerr);
  cli::World world{std::cout,
                   messages.stream(),
                   messages.stream(),
                   std::cin,
                   read,
                   cli::screen_of(terminal_columns(), variable),
                   files};
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
    std::cerr << "housepower " << version() << ": an internal error: " << mistake.what()
              << "\nPlease report it with the command and the file that led here.\n";
    return cli::our_mistake;
  }
}

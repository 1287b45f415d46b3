// SPDX-License-Identifier: Apache-2.0
// The program's edge: files, streams and the terminal. Everything else is a pure function.
#include <sys/ioctl.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <iostream>

#include "command.hpp"
#include "machine_files.hpp"
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

/// Beside the program, and where it is installed.
std::vector<std::string> built_pages() {
  std::error_code none;
  const auto folder = std::filesystem::read_symlink("/proc/self/exe", none).parent_path();
  return {(folder / "housepower.html").string(),
          (folder.parent_path() / "share/housepower/housepower.html").string()};
}

}  // namespace

int main(int count, char** arguments) {
  std::signal(SIGPIPE, SIG_DFL);  // a reader that has seen enough ends the program quietly
  std::signal(SIGXFSZ, SIG_IGN);  // a file that may not grow: writing fails, and is cleaned up
  std::ios::sync_with_stdio(false);
  cli::MachineFiles machine;
  const cli::Files files = machine.files();
  cli::Messages messages(std::cerr);
  cli::World world{std::cout,
                   messages.stream(),
                   messages.stream(),
                   std::cin,
                   files.read,
                   cli::screen_of(terminal_columns(), variable),
                   files,
                   {},
                   false,
                   {},
                   built_pages()};
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
    std::cerr << cli::about_mistake(mistake);
    return cli::our_mistake;
  }
}

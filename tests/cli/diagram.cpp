// SPDX-License-Identifier: Apache-2.0
// Files that a command writes with -o are written whole or not at all.
#include <doctest/doctest.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>

#include "support/command.hpp"

namespace cli_diagram {

using namespace housepower::test;
namespace fs = std::filesystem;

namespace {

/// An empty folder, gone with the test.
struct Folder {
  std::string path;
  Folder() {
    char name[] = "/tmp/housepower-out-XXXXXX";
    path = mkdtemp(name);
  }
  ~Folder() { fs::remove_all(path); }
  [[nodiscard]] std::size_t files() const {
    return std::size_t(std::distance(fs::directory_iterator(path), fs::directory_iterator()));
  }
};

const std::string command = "diagram examples/faulty/base.toml";

}  // namespace

TEST_CASE("diagram writes the same drawing to a file as to standard output") {
  const Folder folder;
  const Ran shown = run_program(command);
  CHECK(shown.exit == 0);
  CHECK(shown.err.empty());
  CHECK(shown.out.rfind("<?xml", 0) == 0);
  const std::string file = folder.path + "/van.svg";
  const Ran kept = run_program(command + " -o " + file);
  CHECK(kept.exit == 0);
  CHECK(kept.out.empty());
  CHECK(text_of(file) == shown.out);
  CHECK(folder.files() == 1);
  CHECK(run_program(command + " --output -").out == shown.out);
}

TEST_CASE("a file that is replaced keeps its rights, and a link stays a link") {
  const Folder folder;
  const std::string file = folder.path + "/van.svg", link = folder.path + "/link.svg";
  std::ofstream(file) << "old";
  REQUIRE(chmod(file.c_str(), 0640) == 0);
  fs::create_symlink("van.svg", link);
  CHECK(run_program(command + " -o " + link).exit == 0);
  CHECK(fs::is_symlink(link));
  CHECK(text_of(file).rfind("<?xml", 0) == 0);
  struct stat now {};
  REQUIRE(stat(file.c_str(), &now) == 0);
  CHECK((now.st_mode & 0777) == 0640);
}

TEST_CASE("what cannot be written is told, exits with 4 and leaves nothing behind") {
  const Folder folder;
  for (const std::string& file :
       {folder.path + "/none/van.svg", folder.path, std::string("/dev/full")}) {
    const Ran ran = run_program(command + " -o " + file);
    CAPTURE(file);
    CHECK(ran.exit == 4);
    CHECK(ran.err.find("the file cannot be written") != std::string::npos);
  }
  CHECK(folder.files() == 0);
}

TEST_CASE("a case that the design has not is refused with those that it has") {
  const Ran ran = run_program(command + " --case evning");
  CHECK(ran.exit == 2);
  CHECK(ran.out.empty());
  CHECK(ran.err.find("did you mean \"evening\"?") != std::string::npos);
}

}  // namespace cli_diagram

// SPDX-License-Identifier: Apache-2.0
// The numbers of the header, the linked library and the command name the same version.
#include "housepower/version.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "support/command.hpp"

namespace cli_version {
namespace {

using namespace housepower::test;

TEST_CASE("header, library and command say the same version") {
  const auto numbers = fmt::format("{}.{}.{}", HOUSEPOWER_VERSION_MAJOR, housepower::version_minor,
                                   housepower::version_patch);
  CHECK(housepower::version_major == HOUSEPOWER_VERSION_MAJOR);
  CHECK(housepower::version() == numbers);
  const auto said = run_program("--version").out;
  CHECK(said.substr(0, said.find('\n')) == "housepower " + numbers);
}

}  // namespace
}  // namespace cli_version

// SPDX-License-Identifier: Apache-2.0
// What `stay` and `size` say of what was asked for and is not counted, and where their limits lie.
#include "support/json_answer.hpp"

namespace cli_energy_words {

using namespace housepower::test;

TEST_CASE("the largest chance that may be asked for is one for all commands") {
  for (const std::string command : {"stay", "size"}) {
    CAPTURE(command);
    CHECK(run_program(command + " no-such.toml --chance '100 %'").exit == 4);
    CHECK(run_program(command + " no-such.toml --chance '100.1 %'").exit == 2);
  }
}

TEST_CASE("driving without how often is said, and so is what the batteries do not let out") {
  const Ran ran =
      run_program("stay examples/two-berth.toml --years 1 --set 'travel/driving=2 h' --set "
                  "'travel/every=0 d' --add 'Heat gun: 2500 W, 0.1 h, dc'");
  CHECK(ran.exit == 0);
  CHECK(ran.out.find("not how often: state `travel/every`") != std::string::npos);
  CHECK(ran.out.find("simulating 1 year again") != std::string::npos);
  // 150 A at 12.8 V
  CHECK(ran.out.find("The batteries let out 1.92 kW at most and cannot run Heat gun") !=
        std::string::npos);
  CHECK(ran.err.find("the batteries let out 1.92 kW") != std::string::npos);
}

}  // namespace cli_energy_words

// SPDX-License-Identifier: Apache-2.0
// Answers that come soon, for those who turn a knob: each says that it is one, and none says other
// figures than the whole answer.
#include "support/json_answer.hpp"

namespace cli_soon {

using namespace housepower::test;

namespace {

const std::string van = "examples/pellibri.toml";

bool lies_in(const Json& length, const Json& between) {
  return length >= between[0] && length <= between[1];
}

}  // namespace

TEST_CASE(
    "the whole answer of a stay lies where its first figure says, which says that it is coarse") {
  const Json whole = json_of("stay " + van + " --month july");
  const Json first = json_of("stay " + van + " --month july --first");
  CHECK(first["coarse"] == true);
  CHECK(first["month"] == whole["month"]);
  CHECK(first["place"] == whole["place"]);
  CHECK(first["chance"] == whole["chance"]);
  CHECK(first["years"].get<int>() < whole["years"].get<int>());
  CHECK(first["headline"].get<std::string>().find("a first figure") != std::string::npos);
  CHECK(lies_in(whole["parked_d"], first["parked_between_d"]));
  CHECK(lies_in(whole["stay_d"], first["stay_between_d"]));
  const Ran text = run_program("stay " + van + " --month july --first");
  CHECK(text.exit == 0);
  CHECK(text.out.find("a first figure") != std::string::npos);
  CHECK(text.out.find("Coarse: ") != std::string::npos);
  CHECK(text.out.find("9 of 10 stays") != std::string::npos);  // the chance beside the days
}

TEST_CASE("a first figure of all years that are asked for is none, and is the whole answer's") {
  const Json whole = json_of("stay " + van + " --years 5");
  const Json first = json_of("stay " + van + " --years 5 --first");
  CHECK(first["coarse"] == false);
  CHECK(first["parked_d"] == whole["parked_d"]);
  CHECK(first["stay_d"] == whole["stay_d"]);
}

TEST_CASE("a first figure is of one month and one place") {
  for (const std::string all : {" --month all", " --place all", " --month ALL"}) {
    const Ran ran = run_program("stay " + van + " --first" + all);
    CHECK(ran.exit == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err.find("--first is of one place") != std::string::npos);
  }
}

TEST_CASE("a quick check finds what the whole one finds, without most workings") {
  for (const std::string file : {"examples/marrowick.toml", "examples/faulty/drop.toml"}) {
    CAPTURE(file);
    const int exit = run_program("check " + file + " --quiet").exit;
    const Json whole = json_of("check " + file, exit),
               quick = json_of("check " + file + " --quick", exit);
    CHECK(whole["quick"] == false);
    CHECK(quick["quick"] == true);
    for (const char* key : {"verdict", "counts", "energy", "wiring", "assumed", "silences"})
      CHECK_MESSAGE(quick.at(key) == whole.at(key), key);
    REQUIRE(quick["findings"].size() == whole["findings"].size());
    for (std::size_t i = 0; i < quick["findings"].size(); ++i) {
      const Json &one = quick["findings"][i], &full = whole["findings"][i];
      for (const char* key : {"rule", "subject", "verdict", "measured", "limit", "message", "at"})
        CHECK_MESSAGE(one.at(key) == full.at(key), key);
    }
    CHECK(2 * quick.dump().size() < whole.dump().size());
  }
}

TEST_CASE("quick wiring is the whole one without what is still to spare") {
  Json whole = json_of("wiring " + van), quick = json_of("wiring " + van + " --quick");
  CHECK(quick["quick"] == true);
  CHECK_FALSE(whole["headroom"].empty());
  CHECK(quick["headroom"].empty());
  CHECK(quick["what_if"].empty());
  for (const char* key : {"quick", "headroom", "what_if"}) whole.erase(key), quick.erase(key);
  CHECK(whole == quick);
}

}  // namespace cli_soon

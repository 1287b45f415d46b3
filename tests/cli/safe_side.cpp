// SPDX-License-Identifier: Apache-2.0
// Where a worse van once got a better answer than a bad one. Expectations: rulings on directions, rows
// between, shared returns and items on the way, and sums by hand that stand beside them.
#include <string>

#include "support/json_answer.hpp"

namespace cli_safe_side {

using namespace housepower::test;

namespace {

const std::string two_berth = "check examples/two-berth.toml";

Json finding(const Json& answer, const std::string& rule, const std::string& subject,
             const std::string& in_case = "") {
  for (const Json& f : answer["findings"])
    if (f["rule"] == rule && f["subject"] == subject && (in_case.empty() || f["case"] == in_case))
      return f;
  return Json();
}
std::string verdict(const Json& answer, const std::string& rule, const std::string& subject,
                    const std::string& in_case = "") {
  const Json f = finding(answer, rule, subject, in_case);
  return f.is_null() ? "none" : f["verdict"].get<std::string>();
}

}  // namespace

TEST_CASE("a conductor thinner than the tables begin fails as a thicker one does") {
  // the tables for cords begin at 0.5 mm2 (BS 7671 table 4F3A and its like)
  for (const char* size : {"0.5 mm2", "0.34 mm2", "0.22 mm2"}) {
    CAPTURE(size);
    const Json thin = json_of(
        two_berth + " --set run/lights/length='0.5 m' --set run/lights/conductor='" + size + "'",
        1);
    CHECK(thin["verdict_safety"] == "fail");
    CHECK(verdict(thin, "fuse-below-conductor", "run/lights/protection/0") == "fail");
    CHECK(verdict(thin, "fault-withstand", "run/lights/protection/0") == "fail");
  }
  const Json least = json_of(two_berth + " --set run/lights/conductor='0.22 mm2'", 1);
  const Json ampacity = finding(least, "ampacity", "run/lights");
  CHECK(ampacity["verdict"] == "fail");
  CHECK(ampacity["limit"] == 0.0);
  CHECK(ampacity["message"].get<std::string>().find("thinner than 0.5") != std::string::npos);
}

TEST_CASE("a cable whose worst is not rated for does not pass") {
  const Json cable = json_of("cable --current '1 A' --length '1 m' --conductor '18 awg' "
                             "--ampacity-table nec-310-16 --fuse 'iso-8820-3-c 3 A' "
                             "--bank-resistance '20 mohm'");
  // 18 AWG stands in the 90 °C column alone (NEC table 310.16), and 60 °C is the worst
  CHECK(cable["verdict"] == "caution");
  CHECK(cable["at_worst"]["ampacity_A"] == 0.0);
}

TEST_CASE("a size between two rows of a profile's limits counts as the thinner one") {
  // NEC table 552.10(E)(1), from memory: 18 AWG (0.823 mm2) 6 A, 16 AWG (1.31 mm2) 8 A
  const auto largest = [](const char* size) {
    return json_of(std::string("cable --current '5 A' --length '1 m' --conductor '") + size +
                   "' --ampacity-table nec-310-16")["largest_fuse_A"]
        .get<double>();
  };
  CHECK(largest("18 awg") == 6.0);
  CHECK(largest("1 mm2") == 6.0);
  CHECK(largest("16 awg") == 8.0);
}

TEST_CASE("a stated joint resistance is judged whatever number of joints is stated") {
  const std::string bad = two_berth + " --set run/main/joint_resistance='10.1 mohm'";
  CHECK(verdict(json_of(bad, 1), "hot-joint", "run/main/joint_resistance") == "fail");
  const Json none = json_of(bad + " --set run/main/joints=0", 1);
  CHECK(verdict(none, "hot-joint", "run/main/joint_resistance") == "fail");
}

TEST_CASE("an item that lies before its run's device is held against the device before the run") {
  const std::string item = " --set run/fridge/protection/0/distance='2.4 m' --set "
                           "'run/fridge/inline=[{kind=\"isolator\",rating=\"20 A\",breaks_load="
                           "true,resistance=\"0.2 mohm\"";
  const std::string at = "run/fridge/inline/0", against = "against the device before it";
  const Ran before = run_program(two_berth + item + ",distance=\"0.2 m\"}]' --format json");
  const Json f = finding(Json::parse(before.out), "conductor-fits-terminal", at, against);
  CHECK(f["verdict"] == "caution");
  CHECK(f["measured"] == 35.0);  // that of the run main
  const Ran behind = run_program(two_berth + item + ",distance=\"2.45 m\"}]' --format json");
  CHECK(verdict(Json::parse(behind.out), "conductor-fits-terminal", at, against) == "pass");
  const Ran unsaid = run_program(two_berth + item + "}]' --format json");
  CHECK(verdict(Json::parse(unsaid.out), "conductor-fits-terminal", at, against) == "caution");
}

TEST_CASE("a shared return counts, of a run without a device, the device before it") {
  // 10 A of the pump's device and 35 A before the trunk come home through 10 mm2 rated for 37.8 A
  const Ran ran = run_program("check tests/cli/shared-return.toml --format json");
  const Json answer = Json::parse(ran.out);
  bool told = false;
  for (const Json& f : answer["findings"])
    told = told || (f["rule"] == "return-ampacity" && f["subject"] == "run/trunk/return" &&
                    f["verdict"] == "caution" && f["measured"] == 45.0);
  CHECK(told);
}

}  // namespace cli_safe_side

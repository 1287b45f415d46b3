// SPDX-License-Identifier: Apache-2.0
// The fewest switch-ons that send a current through every run, and the walk through the van.
#include "housepower/wiring/test_plan.hpp"

#include <algorithm>

#include "rig.hpp"

namespace wiring_test_plan {

using namespace rig;

namespace {

std::string lamp(const std::string& name, const char* on, const char* current = "5 A") {
  return appliance(name, std::string("current = \"") + current + "\"\non = \"" + on +
                             "\"\nbehaves = \"constant-current\"");
}
/// Two panels with a lamp each, and a third lamp on a run of its own.
const std::string two_panels =
    bank + node("left") + node("right") + lamp("Lamp", "left") + lamp("Fan", "right") +
    appliance("Spot", "current = \"5 A\"\nbehaves = \"constant-current\"") +
    run("to left", "bank", "left", "2 m", "10 mm2") +
    run("to right", "bank", "right", "2 m", "10 mm2") + run("spot", "left", "Spot", "3 m", "4 mm2");

std::vector<std::string> names_of(const TestPlan& plan) {
  std::vector<std::string> names;
  for (const auto& step : plan.switch_ons) names.push_back(step.load.name);
  return names;
}
using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("one case that reaches every run is enough, and is taken before everything at once") {
  const Rig r(two_panels + "[[case]]\nname = \"left\"\nrunning = [\"Lamp\"]\n"
                           "[[case]]\nname = \"all of it\"\nrunning = [\"Spot\", \"Fan\"]\n");
  const auto plan = plan_tests(r.design(), r.found, {});
  CHECK(names_of(plan) == Names{"all of it"});
  CHECK(plan.untested.empty());
  CHECK(plan.switch_ons.at(0).tests.size() == 3);
}

TEST_CASE("everything at once stands for two cases where the bank bears it") {
  const std::string cases = "[[case]]\nname = \"left\"\nrunning = [\"Lamp\"]\n"
                            "[[case]]\nname = \"right\"\nrunning = [\"Fan\"]\n";
  const Rig r(two_panels + cases);
  CHECK(names_of(plan_tests(r.design(), r.found, {})) == Names{"all-appliances"});
  // 15 A are more than a bank of 10 A gives: the largest stay off, and another switch-on tests theirs
  const Rig weak(van::with(two_panels + cases, "capacity = \"100 Ah\"",
                           "capacity = \"100 Ah\"\ndischarge_limit = \"10 A\""));
  const auto plan = plan_tests(weak.design(), weak.found, {});
  CHECK(plan.switch_ons.size() == 2);
  CHECK(plan.untested.empty());
  for (const auto& step : plan.switch_ons) CHECK(step.bank.value() < 10.1);
}

TEST_CASE("each run is tested once or named with the reason") {
  const Rig r(two_panels + node("spare") + run("spare", "left", "spare", "1 m", "4 mm2"));
  const auto plan = plan_tests(r.design(), r.found, {});
  REQUIRE(plan.untested.size() == 1);
  CHECK(r.design()[plan.untested[0].run].name == "spare");
  CHECK(plan.untested[0].why == Untested::Why::no_load);
  std::size_t tested = 0;
  for (const auto& step : plan.switch_ons) tested += step.tests.size();
  CHECK(tested + plan.untested.size() == r.design()->runs.size());
}

TEST_CASE("a person walks each branch to its end before the next") {
  const Rig r(two_panels);
  Names runs;
  for (const auto id : walk_of(r.design()).runs) runs.push_back(r.design()[id].name);
  CHECK(runs == Names{"to left", "spot", "to right"});
  const auto plan = plan_tests(r.design(), r.found, {});
  Names points;
  for (const auto& p : plan.switch_ons.at(0).points)
    if (p.point.path.is(design::Subject::Part::outgoing) && p.point.path.key().empty())
      points.push_back(p.point.path.text());
  CHECK(points == Names{"run/to left/outgoing", "run/spot/outgoing", "run/to right/outgoing"});
}

}  // namespace wiring_test_plan

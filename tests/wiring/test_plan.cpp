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

TEST_CASE("everything at once leaves out what a device or an inverter on the way does not bear") {
  const auto at_once = [](const std::string& text) {
    const Rig r(text);
    const auto plan = plan_tests(r.design(), r.found, {});
    REQUIRE(plan.switch_ons.size() == 1);
    CHECK(plan.untested.empty());
    return plan.switch_ons[0].load.running.size();
  };
  // Lamp and Spot take 5 A each through the run to the left.
  const auto fused = [&](const char* rating) {
    return at_once(
        van::with(two_panels, "name = \"to left\"",
                  std::string("name = \"to left\"\nprotection = [{ end = \"from\", type = "
                              "\"iso-8820-3-c\", rating = \"") +
                      rating + "\", distance = \"0.1 m\" }]"));
  };
  CHECK(fused("15 A") == 3);
  CHECK(fused("7.5 A") == 2);
  // Of 15 A each of two batteries gives 7.5 A.
  const std::string post_fuse =
      "[[device]]\nname = \"post fuse\"\nbreaking_capacity = \"20 kA\"\nrated_voltage = \"32 V\"\n";
  const auto by_two = [&](const std::string& more) {
    return at_once(van::with(two_panels + post_fuse, "quantity = 1", "quantity = 2\n" + more));
  };
  const auto device = [](const std::string& rating) {
    return "each_battery = { lead = { conductor = \"16 mm2\", length = \"0.2 m\" }, protection = "
           "{ type = \"post fuse\", rating = \"" +
           rating + "\", breaking_capacity = \"20 kA\" } }";
  };
  CHECK(by_two(device("8 A")) == 3);
  CHECK(by_two(device("6 A")) == 2);
  CHECK(by_two("discharge_limit = \"8 A\"") == 3);
  CHECK(by_two("discharge_limit = \"6 A\"") == 2);
  // 150 W and, at a power factor of 0.5, 200 VA
  const auto inverter = [&](const std::string& rating) {
    const std::string ac = "supply = \"inverter\"\n";
    return at_once(bank + "[[inverter]]\nname = \"inverter\"\nrating = \"" + rating + "\"\n" +
                   appliance("Kettle", ac + "power = \"150 W\"") +
                   appliance("Pump", ac + "power = \"100 W\"\npower_factor = 0.5") +
                   run("inverter", "bank", "inverter", "1 m", "35 mm2"));
  };
  CHECK(inverter("351 W") == 2);
  CHECK(inverter("349 W") == 1);
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

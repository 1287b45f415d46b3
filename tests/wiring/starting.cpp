// SPDX-License-Identifier: Apache-2.0
// Starts beside the heaviest case, and how long devices hold.
#include "housepower/wiring/starting.hpp"

#include "rig.hpp"

namespace wiring_starting {

using namespace rig;

namespace {

design::resolved::Protection device(const std::string& protection, const std::string& more = "") {
  const Rig r(bank + more + appliance("Lamp", "power = \"10 W\"") +
              run("lamp", "bank", "Lamp", "1 m", "6 mm2",
                  "protection = [{ end = \"from\", distance = \"0.1 m\", " + protection + " }]"));
  return r.design()->runs.front().protection.front();
}
double seconds(const std::optional<Holds>& holds) {
  REQUIRE(holds);
  REQUIRE(holds->time);
  return holds->time->value();
}

}  // namespace

TEST_CASE("each starter has a case of its own beside what draws most") {
  LoadCase evening, night;
  evening.name = "evening", night.name = "night";
  evening.running = {{0}}, night.running = {{1}};
  evening.temperature = night.temperature = celsius(20);
  evening.charging = {"none"};
  const Rig r(
      bank + appliance("Lamp", "current = \"10 A\"\nbehaves = \"constant-current\"") +
          appliance("Pump", "power = \"60 W\"\nstarting = { current = \"30 A\", time = \"1 s\" }") +
          run("lamp", "bank", "Lamp", "1 m", "6 mm2") + run("pump", "bank", "Pump", "1 m", "6 mm2"),
      {night, evening});
  const auto starts = starting_cases(r.design(), r.found);
  REQUIRE(starts.size() == 1);
  const auto& start = starts.front();
  CHECK(start.load_case.name == "evening, Pump starting");
  REQUIRE(start.solved());
  CHECK(start.bank_current.value() == about(40.0));  // 10 A and, instead of its 5 A, 30 A
  CHECK(start.consumers.size() == 2);
}

TEST_CASE("an inverter is asked for what starts and what else runs on it") {
  const std::string ac = "supply = \"inverter\"\nrated_at = \"120 V\"\n";
  LoadCase c;
  c.name = "all";
  c.temperature = celsius(20);
  c.running = {{0}, {1}};
  const Rig r(
      bank + "[[inverter]]\nname = \"inverter\"\nrating = \"2000 W\"\n" +
          appliance("Air conditioner", "power = \"1560 W\"\n" + ac +
                                           "starting = { current = \"50 A\", time = \"0.1 s\" }") +
          appliance("Kettle", "power = \"700 W\"\n" + ac) +
          run("inverter", "bank", "inverter", "1 m", "70 mm2"),
      {c});
  const auto starts = starting_cases(r.design(), r.found);
  REQUIRE(starts.size() == 1);
  Working working;
  CHECK(asked_at_start(r.design(), starts.front().load_case, {0}, &working).value() ==
        about(50.0 * 120.0 + 700.0));
  adds_up(working);
}

TEST_CASE("an inverter is asked for what runs on it, each power over its power factor") {
  const std::string ac = "supply = \"inverter\"\nrated_at = \"230 V\"\n";
  LoadCase c;
  c.name = "some";
  c.temperature = celsius(20);
  c.running = {{0}, {1}, {3}};
  const Rig r(bank + "[[inverter]]\nname = \"inverter\"\nrating = \"500 W\"\n" +
                  appliance("Screen", "power = \"45 W\"\nquantity = 2\npower_factor = 0.6\n" + ac) +
                  appliance("Kettle", "power = \"700 W\"\n" + ac) +
                  appliance("Fan", "power = \"30 W\"\n" + ac) +
                  appliance("Lamp", "power = \"10 W\"") +
                  run("inverter", "bank", "inverter", "1 m", "70 mm2") +
                  run("lamp", "bank", "Lamp", "1 m", "6 mm2"),
              {c});
  Working working;
  // 2 · 45 W / 0.6 = 150 VA and 700 VA, more than it gives; the fan is off, the lamp is d.c.
  CHECK(asked_together(r.design(), c, {0}, &working).value() == about(850.0));
  adds_up(working);
  c.running = {{3}};
  CHECK(asked_together(r.design(), c, {0}).value() == 0.0);
  c.starting = design::resolved::ApplianceId{2};  // once started, it runs
  CHECK(asked_together(r.design(), c, {0}).value() == about(30.0));
}

TEST_CASE("within its rating a device holds for ever, without a curve nobody knows") {
  const auto blade = device("type = \"iso-8820-3-c\", rating = \"15 A\"");
  CHECK_FALSE(holds_for(blade, 15.0 * ampere)->time);
  const auto strip = device("type = \"strip\", rating = \"50 A\"");
  CHECK_FALSE(holds_for(strip, 60.0 * ampere));
  CHECK(holds_for(strip, 50.0 * ampere));
}

TEST_CASE("a published type holds for its fastest times, straight on logarithmic paper between") {
  // ISO 8820-3 type C: 1.35 · I_n 0.75 s at the fastest, 1.60 · I_n 0.25 s
  const auto blade = device("type = \"iso-8820-3-c\", rating = \"20 A\"");
  CHECK(seconds(holds_for(blade, 27.0 * ampere)) == about(0.75));
  CHECK(seconds(holds_for(blade, 32.0 * ampere)) == about(0.25));
  Working working;
  const double middle = std::sqrt(1.35 * 1.60);
  CHECK(seconds(holds_for(blade, 20.0 * middle * ampere, &working)) ==
        about(std::sqrt(0.75 * 0.25)));
  adds_up(working);
  CHECK(seconds(holds_for(blade, 21.0 * ampere)) == about(360000.0));  // up to 1.10 as there
}

TEST_CASE("a maker's device holds for its fast curve, or a tenth of its slow one, then I²t") {
  const std::string slow =
      "[[device]]\nname = \"maker's\"\ncurve = [[2.0, \"60 s\"], [6.0, \"0.2 s\"]]\n";
  const auto tenth = device("type = \"maker's\", rating = \"10 A\"", slow);
  const auto held = holds_for(tenth, 20.0 * ampere);
  CHECK(seconds(held) == about(6.0));
  CHECK(held->source.kind == SourceKind::from_memory);
  CHECK(seconds(holds_for(tenth, 12.0 * ampere)) == about(6.0));  // it may open as fast as at 2.0
  Working working;
  CHECK(seconds(holds_for(tenth, 120.0 * ampere, &working)) == about(0.02 * 36.0 / 144.0));
  adds_up(working);
  const auto fast = device("type = \"maker's\", rating = \"10 A\"",
                           slow + "curve_fast = [[2.0, \"20 s\"], [6.0, \"0.1 s\"]]\n");
  CHECK(seconds(holds_for(fast, 20.0 * ampere)) == about(20.0));
  CHECK(holds_for(fast, 20.0 * ampere)->source.kind == SourceKind::supplier);
}

}  // namespace wiring_starting

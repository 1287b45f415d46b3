// SPDX-License-Identifier: Apache-2.0
// Which devices stand before a post or a run, and faults at the end of a tap: against sums written
// out.
#include "housepower/wiring/devices_before.hpp"

#include "rig.hpp"

namespace wiring_devices_before {

using namespace rig;

namespace {

std::string fused(const std::string& rating, const std::string& end = "from") {
  return "protection = [{ end = \"" + end + "\", type = \"iso-8820-3-c\", rating = \"" + rating +
         "\", distance = \"0.1 m\" }]\n";
}
design::resolved::PostId post(const Rig& r, std::string_view name) {
  for (std::size_t i = 0; i < r.design()->posts.size(); ++i)
    if (r.design()->posts[i].name == name) return {int(i)};
  FAIL(name);
  return {};
}
std::vector<double> before(const Rig& r, std::string_view at, std::string* unheld = nullptr) {
  const auto found = devices_before(r.design(), r.found.plus, post(r, at));
  if (unheld) *unheld = found.unheld;
  std::vector<double> ratings;
  for (const auto& one : found.nearest) ratings.push_back(one.rating.value());
  return ratings;
}
/// Seen from the middle of a run of a metre or more, behind devices that stand 0.1 m from its ends.
double before_run(const Rig& r, std::string_view run) {
  design::resolved::InlineItem item;
  item.distance = 0.5 * metre;
  const auto most = largest_before_item(r.design(), r.found.plus, r.id(run), item);
  return most ? most->rating.value() : 0.0;
}
const std::string lamp = appliance("Lamp", "power = \"12 W\"");
const std::string tow =
    "[[feed]]\nname = \"car\"\nkind = \"tow-vehicle\"\nresistance = { low = \"5 mΩ\", high = \"10 "
    "mΩ\" }\n";

}  // namespace

TEST_CASE("the nearest device on each way to a source, none on the ways to loads") {
  const Rig r(bank + tow + node("bar") + node("panel") + lamp +
              run("main", "bank", "bar", "1 m", "16 mm2", fused("40 A")) +
              run("car", "car", "bar", "4 m", "10 mm2", fused("30 A")) +
              run("on", "bar", "panel", "1 m", "10 mm2", fused("20 A")) +
              run("lamp", "panel", "Lamp", "2 m", "2.5 mm2", fused("5 A")));
  CHECK(before(r, "bar") == std::vector{40.0, 30.0});
  CHECK(before(r, "panel") == std::vector{20.0});
  CHECK(before(r, "Lamp") == std::vector{5.0});
  CHECK(before_run(r, "on") == 20.0);  // its own
  CHECK(before_run(r, "lamp") == 5.0);
  CHECK(largest_before_post(r.design(), r.found.plus, post(r, "bar"))->rating.value() == 40.0);
}

TEST_CASE("a run without a device is walked through; a source without one is told") {
  std::string unheld;
  const Rig bare(
      bank + node("bar") + node("panel") + lamp + run("main", "bank", "bar", "1 m", "16 mm2") +
      run("on", "bar", "panel", "1 m", "10 mm2") + run("lamp", "panel", "Lamp", "2 m", "2.5 mm2"));
  CHECK(before(bare, "panel", &unheld).empty());
  CHECK(unheld == "bank");
  CHECK(before_run(bare, "on") == 0.0);
  const Rig held(bank + node("bar") + node("panel") + lamp +
                 run("main", "bank", "bar", "1 m", "16 mm2", fused("40 A")) +
                 run("on", "bar", "panel", "1 m", "10 mm2") +
                 run("lamp", "panel", "Lamp", "2 m", "2.5 mm2", fused("5 A", "to")));
  CHECK(before(held, "panel", &unheld) == std::vector{40.0});
  CHECK(unheld.empty());
  CHECK(before_run(held, "on") == 40.0);
  CHECK(before_run(held, "lamp") == 40.0);  // its own stands at the far end
}

TEST_CASE("a device at each battery counts as often as there are batteries") {
  const std::string star = van::with(
      bank, "quantity = 1",
      "quantity = 3\neach_battery = { lead = { conductor = \"16 mm2\", length = \"0.2 m\" }, "
      "protection = { type = \"ul-248-class-t\", rating = \"50 A\" } }");
  const Rig r(star + lamp + node("bar") + run("main", "bank", "bar", "1 m", "35 mm2") +
              run("lamp", "bar", "Lamp", "2 m", "2.5 mm2", fused("5 A")));
  CHECK(before(r, "bar") == std::vector{150.0});
  CHECK(before_run(r, "main") == 150.0);
  CHECK(r.found.ends[0].from.most.value() == about(150.0));
}

TEST_CASE("a ring has a device on each side") {
  const Rig r(bank + node("left") + node("right") + lamp +
              run("a", "bank", "left", "1 m", "6 mm2", fused("30 A")) +
              run("b", "bank", "right", "1 m", "6 mm2", fused("20 A")) +
              run("across", "left", "right", "1 m", "6 mm2") +
              run("lamp", "right", "Lamp", "1 m", "2.5 mm2"));
  const auto both = before(r, "right");
  CHECK(both.size() == 2);
  CHECK(before_run(r, "across") == 30.0);
}

TEST_CASE("a fault at a tap's end has the tap's hot conductor before it, out and back") {
  const std::string curve = "curve = [[1.35, \"600 s\"], [2.0, \"60 s\"], [6.0, \"0.2 s\"]]";
  const Rig r(bank + node("panel") + lamp +
              run("main", "bank", "panel", "1 m", "16 mm2",
                  "protection = [{ end = \"from\", type = \"ul-248-class-t\", rating = \"50 A\", "
                  "distance = \"0.1 m\", " +
                      curve + " }]") +
              run("tap", "panel", "Lamp", "4 m", "4 mm2", fused("10 A")));
  const auto at = post(r, "panel");
  const auto before_tap = devices_before(r.design(), r.found.plus, at, r.id("tap"));
  REQUIRE(before_tap.nearest.size() == 1);
  const auto fault = [&](double metres) {
    Working working;
    auto f = fault_at_tap(r.design(), r.found, r.id("tap"), at, metres * metre, before_tap,
                          before_tap.nearest.front(), &working);
    adds_up(working);
    return f;
  };
  const auto& panel = r.found.faults[at].smallest;
  REQUIRE(panel.has_value());
  CHECK(fault(0.0).smallest.value() == about(panel->value.value()));
  // IEC 60228 class 5: 4.95 mΩ/m at 20 °C, at 90 °C · 324.5 / 254.5
  const double hot = 4.95e-3 * 324.5 / 254.5;
  const double r2 = panel->seen.resistance.value() + 2 * 2.0 * hot;
  CHECK(fault(2.0).smallest.value() == about(panel->seen.open_circuit.value() / r2));
  CHECK(fault(2.0).clears);
  CHECK(fault(3.0).smallest < fault(2.0).smallest);
}

TEST_CASE("of a tap's fault that two equal ways feed each device sees half") {
  const std::string curve = "curve = [[1.35, \"600 s\"], [2.0, \"60 s\"], [6.0, \"0.2 s\"]]";
  const std::string device =
      "protection = [{ end = \"from\", type = \"ul-248-class-t\", rating = \"50 A\", "
      "distance = \"0.1 m\", " +
      curve + " }]";
  const Rig r(bank + node("panel") + lamp + run("one", "bank", "panel", "1 m", "16 mm2", device) +
              run("two", "bank", "panel", "1 m", "16 mm2", device) +
              run("tap", "panel", "Lamp", "4 m", "4 mm2", fused("10 A")));
  const auto at = post(r, "panel");
  const auto before_tap = devices_before(r.design(), r.found.plus, at, r.id("tap"));
  REQUIRE(before_tap.nearest.size() == 2);
  const auto& panel = r.found.faults[at].smallest;
  REQUIRE(panel.has_value());
  // 2 m out and back at 90 °C: IEC 60228 class 5, as above
  const double all = panel->seen.open_circuit.value() /
                     (panel->seen.resistance.value() + 2 * 2.0 * 4.95e-3 * 324.5 / 254.5);
  for (const DeviceBefore& one : before_tap.nearest) {
    Working working;
    const auto fault =
        fault_at_tap(r.design(), r.found, r.id("tap"), at, 2.0 * metre, before_tap, one, &working);
    adds_up(working);
    CHECK(fault.smallest.value() == about(0.5 * all));
  }
}

}  // namespace wiring_devices_before

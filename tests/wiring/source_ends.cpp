// SPDX-License-Identifier: Apache-2.0
// What can reach the end of a run, through jump posts and from one battery into another: against
// sums written out.
#include "housepower/wiring/source_ends.hpp"

#include "rig.hpp"

namespace wiring_source_ends {

using namespace rig;

namespace {

design::resolved::PostId post(const Rig& r, std::string_view name) {
  for (std::size_t i = 0; i < r.design()->posts.size(); ++i)
    if (r.design()->posts[i].name == name) return {int(i)};
  FAIL(name);
  return {};
}
design::resolved::RunId run_id(const Rig& r, std::string_view name) {
  for (std::size_t i = 0; i < r.design()->runs.size(); ++i)
    if (r.design()->runs[i].name == name) return {int(i)};
  FAIL(name);
  return {};
}
Reaching reaching_of(const Rig& r, std::string_view run, std::string_view end) {
  Working working;
  const auto found = reaching(r.design(), run_id(r, run), post(r, end), &working);
  if (found.unlimited.empty()) adds_up(working);
  return found;
}
std::string fused(const std::string& rating) {
  return "protection = [{ end = \"from\", type = \"iso-8820-3-c\", rating = \"" + rating +
         "\", distance = \"0.1 m\" }]";
}
const std::string lamp = appliance("Lamp", "power = \"12 W\"\non = \"panel\"");
const std::string mains = "[[charger]]\nname = \"shore\"\nkind = \"mains\"\ncurrent = \"20 A\"\n";

}  // namespace

TEST_CASE("a bank without a device on the way can drive any current; a device holds it") {
  const std::string runs =
      run("feed", "bank", "panel", "1 m", "6 mm2") + run("lamp", "panel", "Lamp", "1 m", "1.5 mm2");
  const std::string van_ = bank + node("panel") + appliance("Lamp", "power = \"12 W\"");
  CHECK(reaching_of(Rig(van_ + runs), "lamp", "panel").unlimited == "bank");
  const auto held = reaching_of(Rig(van_ + van::with(runs, "conductor = \"6 mm2\"",
                                                     "conductor = \"6 mm2\"\n" + fused("30 A"))),
                                "lamp", "panel");
  CHECK(held.unlimited.empty());
  CHECK(held.most.value() == about(30.0));
  // at its own far end nothing feeds
  CHECK(reaching_of(Rig(van_ + runs), "lamp", "Lamp").most.value() == 0.0);
}

TEST_CASE(
    "a ring is fed from both sides: the devices of both add up, and of one path the smallest") {
  const std::string ring = bank + node("left") + node("right") + node("panel") + lamp +
                           run("a", "bank", "left", "1 m", "6 mm2", fused("30 A")) +
                           run("a2", "left", "panel", "1 m", "6 mm2", fused("20 A")) +
                           run("b", "bank", "right", "1 m", "6 mm2", fused("15 A")) +
                           run("b2", "right", "panel", "1 m", "6 mm2") +
                           run("stub", "panel", "end", "1 m", "1.5 mm2") + node("end");
  const auto found = reaching_of(Rig(ring), "stub", "panel");
  CHECK(found.most.value() == about(20.0 + 15.0));  // the smaller of 30 and 20, and 15
  CHECK(found.held.size() == 2);
  // with one side taken out, the other feeds its far end
  CHECK(reaching_of(Rig(ring), "b2", "panel").most.value() == about(20.0));
}

TEST_CASE("limited sources add where they can coincide, and no more than their limits") {
  const std::string all =
      bank + mains + node("bar") + node("end") +
      "[[array]]\nname = \"roof\"\nmodules = 2\nmodule = { power = \"100 W\", isc = \"6 A\" }\nto "
      "= "
      "\"sun\"\n[[controller]]\nname = \"sun\"\nmax_voltage = \"50 V\"\nmax_charge_current = \"15 "
      "A\"\n" +
      run("shore", "shore.out", "bar", "1 m", "6 mm2") +
      run("sun", "sun.out", "bar", "1 m", "6 mm2") + run("stub", "bar", "end", "1 m", "1.5 mm2");
  const auto found = reaching_of(Rig(all), "stub", "bar");
  CHECK(found.unlimited.empty());
  CHECK(found.most.value() == about(20.0 + 15.0));  // mains and sun can coincide
}

TEST_CASE("two strings drive 1.25 · 1.25 of their short-circuit current, as a manual asks") {
  // "I_sc × 1.25, and × 1.25 again", an equipment manual, p. 39: 2 · 6 A · 1.5625 = 18.75 A
  CHECK(array_limit(2.0, 6.0 * ampere).value() == doctest::Approx(18.75));
}

TEST_CASE("of four batteries three drive their fault current into the one that fails") {
  // (4 − 1) · 4 · 3.5305 V / 2 mΩ = 21.2 kA, the table's voltage of a full cell; a breaker maker's
  // guide: I_k = U / R of each, they add
  const std::string four = van::with(
      bank, "quantity = 1",
      "quantity = 4\nlinks = { positive = { conductor = \"35 mm2\", length = \"0.2 m\" }, "
      "negative = { conductor = \"35 mm2\", length = \"0.2 m\" } }");
  const Rig r(four + lamp + node("panel") + run("feed", "bank", "panel", "1 m", "6 mm2"));
  Working working;
  CHECK(others_into_one(r.design(), &working).value() == about(3.0 * 4 * 3.5305 / 2e-3));
  adds_up(working);
}

TEST_CASE("a vehicle charges the empty bank, or is started from the full one, through jump posts") {
  const auto posts = [](const std::string& purpose) {
    return bank + "[[node]]\nname = \"jump\"\nkind = \"jump-post\"\npurpose = \"" + purpose +
           "\"\n" + run("jump", "bank", "jump", "2 m", "16 mm2");
  };
  // pure copper at 20 °C: 2 · 2 m · 0.017241 / 16; battery 2 mΩ; vehicle 5 mΩ (from memory)
  const double r = 2 * 2.0 * 0.017241 / 16.0 + 2e-3 + 5e-3;
  {
    const Rig starts(posts("start-a-vehicle"));
    Working working;
    const auto i = jump_current_of(starts.design(), post(starts, "jump"), &working);
    REQUIRE(i);
    CHECK(i->value() == about((4 * 3.5305 - 9.6) / r, 1e-4));
    adds_up(working);
  }
  {
    const Rig charges(posts("charge"));
    const auto i = jump_current_of(charges.design(), post(charges, "jump"));
    REQUIRE(i);
    CHECK(i->value() > 0.0);
    CHECK(i->value() < 13.0 / r);
  }
  const Rig wakes(posts("wake"));
  CHECK_FALSE(jump_current_of(wakes.design(), post(wakes, "jump")));
}

}  // namespace wiring_source_ends

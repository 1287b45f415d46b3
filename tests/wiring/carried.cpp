// SPDX-License-Identifier: Apache-2.0
// What a return, a node or a joint carries: min(devices, load), against sums written out.
#include "housepower/wiring/carried.hpp"

#include "housepower/wiring/joints.hpp"
#include "housepower/wiring/links.hpp"
#include "rig.hpp"

namespace wiring_carried {

using namespace rig;

namespace {

design::resolved::RunId run_id(const Rig& r, std::string_view name) {
  for (std::size_t i = 0; i < r.design()->runs.size(); ++i)
    if (r.design()->runs[i].name == name) return {int(i)};
  FAIL(name);
  return {};
}
double carried(const Rig& r, std::string_view run, Pole pole) {
  Working working;
  const Current i = carried_of(r.design(), r.found, run_id(r, run), pole, &working);
  adds_up(working);
  return i.value();
}
std::string fused(const std::string& rating) {
  return "protection = [{ end = \"from\", type = \"iso-8820-3-c\", rating = \"" + rating +
         "\", distance = \"0.1 m\" }]\n";
}
std::string lamp(const std::string& name, const std::string& amperes) {
  return appliance(name, "current = \"" + amperes +
                             "\"\nbehaves = \"constant-current\"\nlowest_voltage = \"10 V\"");
}

/// Two loads whose returns meet at a bar, from where one conductor leads home.
std::string shared(const std::string& first, const std::string& second) {
  const std::string to_bar = "return = { to = \"bar\", conductor = \"6 mm2\" }\n";
  return bank + lamp("A", first) + lamp("B", second) +
         "[[node]]\nname = \"bar\"\nkind = \"bus bar\"\n" +
         run("a", "bank", "A", "2 m", "6 mm2", fused("15 A") + to_bar) +
         run("b", "bank", "B", "2 m", "6 mm2", fused("20 A") + to_bar) +
         run("home", "bank", "bar", "2 m", "10 mm2", fused("5 A"));
}

}  // namespace

TEST_CASE("a run carries its load, or what its own device lets through if that is less") {
  const auto one = [](const std::string& amperes) {
    return Rig(bank + lamp("A", amperes) + run("a", "bank", "A", "2 m", "6 mm2", fused("15 A")));
  };
  CHECK(carried(one("8 A"), "a", Pole::outgoing) == about(8.0));
  CHECK(carried(one("25 A"), "a", Pole::outgoing) == about(15.0));
}

TEST_CASE("a shared return carries what its runs draw, at most what their devices let through") {
  CHECK(carried(Rig(shared("8 A", "9 A")), "home", Pole::return_) == about(17.0));
  CHECK(carried(Rig(shared("25 A", "30 A")), "home", Pole::return_) == about(15.0 + 20.0 + 5.0));
}

TEST_CASE(
    "an overload comes home as far as the devices of the runs, or those before them, let it") {
  const auto let_home = [](const std::string& text) {
    const Rig r(text);
    Working working;
    const auto let = let_home_of(r.design(), r.found, run_id(r, "home"), &working);
    REQUIRE(let.has_value());
    adds_up(working);
    return let->value();
  };
  // no device before the bank: 15 + 20 + 5
  CHECK(let_home(shared("1 A", "1 A")) == about(40.0));
  // both branches and the way home of a panel that hangs on 25 A
  const std::string to_bar = "return = { to = \"bar\", conductor = \"6 mm2\" }\n";
  const auto panel = [&](const std::string& first) {
    return bank + lamp("A", "1 A") + lamp("B", "1 A") + node("panel") +
           "[[node]]\nname = \"bar\"\nkind = \"bus bar\"\n" +
           run("feed", "bank", "panel", "2 m", "10 mm2", fused("25 A")) +
           run("a", "panel", "A", "2 m", "6 mm2", first + to_bar) +
           run("b", "panel", "B", "2 m", "6 mm2", fused("20 A") + to_bar) +
           run("home", "panel", "bar", "2 m", "10 mm2", fused("2 A"));
  };
  CHECK(let_home(panel(fused("15 A"))) == about(25.0));  // the sum would be 37
  CHECK(let_home(panel(fused("1 A"))) == about(23.0));
  CHECK(let_home(panel("")) == about(25.0));  // one has no device of its own
  // a return that one run alone uses is asked by that run's device
  const Rig alone(bank + lamp("A", "1 A") + run("home", "bank", "A", "2 m", "6 mm2", fused("5 A")));
  CHECK_FALSE(let_home_of(alone.design(), alone.found, run_id(alone, "home")).has_value());
}

TEST_CASE("a load whose return goes elsewhere brings nothing home through a return") {
  // Into the panel come 35 A at most, and they go home by its return; what "a" takes out of it goes
  // home by its own, and nothing in the panel gives current.
  const std::string mains = "[[charger]]\nname = \"shore\"\nkind = \"mains\"\ncurrent = \"10 A\"\n";
  const auto panel = [&](const std::string& more) {
    return bank + lamp("A", "1 A") + lamp("B", "1 A") + node("panel") + more +
           run("home", "bank", "panel", "2 m", "10 mm2", fused("35 A")) +
           run("b", "panel", "B", "2 m", "6 mm2", fused("20 A")) +
           run("a", "panel", "A", "2 m", "6 mm2",
               fused("15 A") +
                   "return = { to = \"bank\", length = \"3 m\", conductor = \"6 mm2\" }\n");
  };
  const auto let_home = [](const std::string& text) {
    const Rig r(text);
    const auto let = let_home_of(r.design(), r.found, run_id(r, "home"));
    REQUIRE(let.has_value());
    return let->value();
  };
  CHECK(let_home(panel("")) == about(35.0));
  // a charger at the panel feeds "a" and the bank, but no more than it gives
  const std::string out = run("charge", "shore.out", "panel", "1 m", "6 mm2", fused("30 A"));
  CHECK(let_home(panel(mains) + out) == about(35.0));
}

TEST_CASE("of two ways home one may open: the other carries all of it") {
  // The return of "a" goes to a bar that has two equal conductors home: half each, all if one opens.
  const std::string two =
      bank + lamp("A", "12 A") + "[[node]]\nname = \"bar\"\nkind = \"bus bar\"\n" +
      run("a", "bank", "A", "2 m", "6 mm2", "return = { to = \"bar\", conductor = \"6 mm2\" }\n") +
      run("home 1", "bank", "bar", "2 m", "10 mm2") + run("home 2", "bank", "bar", "2 m", "10 mm2");
  const Rig r(two);
  const auto all = if_a_return_opens(r.design(), r.found);
  REQUIRE(all.size() == 2);
  for (const IfOneOpens& one : all) {
    CHECK(r.facts(r.design()[one.run].name).current.back.value() == about(6.0, 1e-6));
    Working working;
    CHECK(carried_if(r.design(), one, &working).value() == about(12.0, 1e-4));
    adds_up(working);
  }
  CHECK(if_a_return_opens(Rig(shared("8 A", "9 A")).design(), Rig(shared("8 A", "9 A")).found)
            .empty());
}

TEST_CASE("parallel conductors: what is left of them if one opens") {
  CHECK(left_if_one_opens(90.0 * ampere, 3.0).value() == doctest::Approx(60.0));
  CHECK(left_if_one_opens(90.0 * ampere, 1.0).value() == 0.0);
}

TEST_CASE("a node passes what flows into it, each run held by its device") {
  const std::string van_ =
      bank + node("panel", "rating = \"60 A\"") + lamp("A", "8 A") + lamp("B", "9 A") +
      run("feed", "bank", "panel", "1 m", "10 mm2", fused("15 A")) +
      run("a", "panel", "A", "2 m", "6 mm2") + run("b", "panel", "B", "2 m", "6 mm2");
  const Rig r(van_);
  for (std::size_t i = 0; i < r.design()->posts.size(); ++i)
    if (r.design()->posts[i].name == "panel") {
      Working working;
      CHECK(through_node(r.design(), r.found, {int(i)}, &working).value() == about(15.0));
      adds_up(working);
    }
}

TEST_CASE("a joint of 0.2 mΩ at 100 A loses 20 mV and makes 2 W; 0.3 mΩ would keep to 30 mV") {
  Working working;
  const Contact c = contact_of(100.0 * ampere, 0.2e-3 * ohm, {SourceKind::supplier, "a maker", ""},
                               0.030 * volt, &working);
  CHECK(c.lost.value() == doctest::Approx(0.020));
  CHECK(c.heat.value() == doctest::Approx(2.0));
  CHECK(c.sufficient->value() == doctest::Approx(0.3e-3));
  adds_up(working);
}

TEST_CASE("beside the take-off the links carry the batteries beyond it") {
  // Three alike with links of nothing share 30 A alike; tapped at the first, the next link carries
  // two of them.
  const std::string three = van::with(bank, "quantity = 1",
                                      "quantity = 3\nlinks = { positive = { conductor = \"95 "
                                      "mm2\", length = \"0.001 m\" }, negative "
                                      "= { conductor = \"95 mm2\", length = \"0.001 m\" } }");
  const Rig r(three + lamp("A", "30 A") + run("a", "bank", "A", "2 m", "10 mm2"));
  Working working;
  const double i = current_in_links(r.design(), r.found, Pole::outgoing, &working).value();
  adds_up(working);
  CHECK(i > 15.0);
  CHECK(i < 20.5);
}

TEST_CASE("a link bears what its conductor bears in free air, insulated as the runs at the bank") {
  // 70 mm² of 90 °C in free air of 30 °C: 310 A (BS 7671 4F2); at a terminal of 75 °C
  // 310 · √((75 − 30) / (90 − 30)) = 268.5 A.
  const auto bears = [](const std::string& first, const std::string& other) {
    const std::string two = van::with(
        bank, "quantity = 1",
        "quantity = 2\nlinks = { positive = { conductor = \"70 mm2\", length = \"0.2 m\" } }");
    const Rig r(two + node("a") + node("b") + run("a", "bank", "a", "1 m", "10 mm2", first) +
                run("b", "bank", "b", "1 m", "10 mm2", other));
    Working working;
    const auto found = ampacity_of_lead(r.design(), *r.design()->bank->link_positive, &working);
    adds_up(working);
    return std::get<Ampacity>(found).value.value();
  };
  const double cool = 310.0 * std::sqrt(45.0 / 60.0), warm = 310.0 * std::sqrt(25.0 / 60.0);
  CHECK(bears("", "") == about(cool));
  CHECK(bears("", "ambient = \"50 °C\"") == about(warm));
  CHECK(bears("insulation = \"70 °C\"", "") < cool);
}

}  // namespace wiring_carried

// SPDX-License-Identifier: Apache-2.0
// Batteries in parallel: the ladders, a whole discharge, one that opens, and what cures.
#include "housepower/wiring/sharing.hpp"

#include "housepower/wiring/links.hpp"

#include "rig.hpp"

namespace wiring_sharing {

using namespace rig;

namespace {

/// A bank of `n` with links whose resistance is stated, at 25 °C and half charged as its resistance
/// is meant.
std::string ladder(int n, const std::string& milliohm, const std::string& link,
                   const std::string& takeoff) {
  const std::string one =
      "{ conductor = \"35 mm2\", length = \"0.2 m\", resistance = \"" + link + " mΩ\" }";
  return van::with(van::with(bank, "quantity = 1",
                             "quantity = " + std::to_string(n) + "\ntakeoff_from = " + takeoff +
                                 "\nlinks = { positive = " + one + ", negative = " + one + " }"),
                   "low = \"2 mΩ\", high = \"5 mΩ\"",
                   "low = \"" + milliohm + " mΩ\", high = \"" + milliohm + " mΩ\"") +
         appliance("Lamp", "power = \"200 W\"\nlowest_voltage = \"10.5 V\"") +
         run("lamp", "bank", "Lamp", "1 m", "25 mm2");
}
std::vector<double> shares(const std::string& text, int open = 0) {
  const Rig r(text);
  BankLoad load;
  load.temperature = celsius(25.0);
  load.from = 0.5;
  std::vector<double> amperes;
  for (const Current& i : shares_of(r.design(), *r.design()->bank, 100.0 * ampere, load, open))
    amperes.push_back(i.value());
  return amperes;
}
void agree(const std::vector<double>& got, std::initializer_list<double> expected) {
  REQUIRE(got.size() == expected.size());
  std::size_t i = 0;
  for (const double amperes : expected) CHECK(std::abs(got[i++] - amperes) <= 0.006);
}

BankLoad steady(double watts) {
  BankLoad load;
  load.in_case = "steady";
  load.power = watts * watt;
  load.temperature = celsius(25.0);
  return load;
}

}  // namespace

// 100 A from a ladder, in order of the batteries from the load's positive end; by an independent
// nodal solver, two decimals. The first set agrees with one remembered from a public technical page
// on wiring batteries in parallel (20 mΩ, links of 1.5 mΩ: 35.9/26.2/20.4/17.8, 26.7/23.2/23.2/26.7).
TEST_CASE("ladders of batteries share as an independent solver says, tapped at one end") {
  agree(shares(ladder(4, "20", "1.5", "[1, 1]")), {35.75, 26.12, 20.40, 17.74});
  agree(shares(ladder(4, "20", "0.52", "[1, 1]")), {29.22, 25.54, 23.19, 22.04});
  agree(shares(ladder(2, "3", "0.5", "[1, 1]")), {57.14, 42.86});
}

TEST_CASE("and tapped diagonally") {
  agree(shares(ladder(4, "20", "1.5", "[1, 4]")), {26.74, 23.26, 23.26, 26.74});
  agree(shares(ladder(4, "20", "0.52", "[1, 4]")), {25.63, 24.37, 24.37, 25.63});
  agree(shares(ladder(2, "3", "0.5", "[1, 2]")), {50.0, 50.0});
}

TEST_CASE("a battery that has opened gives nothing, the others all of it") {
  const auto amperes = shares(ladder(2, "3", "0.5", "[1, 1]"), 1);
  CHECK(amperes[0] == about(0.0));
  CHECK(amperes[1] == about(100.0, 1e-6));
}

TEST_CASE("over a discharge the shares move, and no charge is lost") {
  const Rig r(ladder(4, "20", "1.5", "[1, 1]"));
  const Sharing s = discharge(r.design(), *r.design()->bank, steady(500.0));
  REQUIRE(s.points.size() > 20);
  // the first gives most at the start and is empty first; then the last gives more than it did
  const auto &start = s.points.front().batteries, &end = s.points.back().batteries;
  CHECK(start[0].current > start[3].current);
  CHECK(end[0].charge < end[3].charge);
  CHECK(s.points.back().drawn.value() > 0.9);
  CHECK(end[3].share > start[3].share);
  for (const SharingPoint& p : s.points) {
    double left = 0, share = 0;
    Current all{};
    for (const auto& b : p.batteries) {
      left += double(b.charge) / 4.0;
      share += double(b.share);
      all += b.current;
    }
    CHECK(left == about(1.0 - double(p.drawn), 1e-9));  // what was drawn is missing
    CHECK(share == about(1.0, 1e-9));
    CHECK(all.value() == about(p.current.value(), 1e-9));
    CHECK((p.bank * p.current).value() == about(500.0, 1e-9));
  }
  CHECK(s.busiest ==
        std::max_element(s.points[s.worst].batteries.begin(), s.points[s.worst].batteries.end(),
                         [](const auto& a, const auto& b) { return a.current < b.current; })
            ->number);
}

TEST_CASE("a quarter of the step moves no largest current above the reserve by a hundredth") {
  const Rig r(ladder(4, "20", "1.5", "[1, 1]"));
  const auto& b = *r.design()->bank;
  const Sharing coarse = discharge(r.design(), b, steady(500.0));
  const Sharing fine = discharge(r.design(), b, steady(500.0), 0.25 * double(usual_step));
  CHECK(busiest_at(coarse, coarse.worst_promised).value() ==
        about(busiest_at(fine, fine.worst_promised).value(), 0.01));
  // where it ends the curve is steep
  CHECK(busiest_at(coarse, coarse.worst).value() ==
        about(busiest_at(fine, fine.worst).value(), 0.03));
  CHECK(coarse.points.back().after.value() == about(fine.points.back().after.value(), 0.01));
}

TEST_CASE("batteries on equal leads share alike to the end") {
  const std::string star =
      van::with(
          bank, "quantity = 1",
          "quantity = 3\neach_battery = { lead = { conductor = \"35 mm2\", length = \"0.3 m\" }, "
          "protection = { type = \"terminal-cube\", rating = \"150 A\" } }") +
      appliance("Lamp", "power = \"200 W\"") + run("lamp", "bank", "Lamp", "1 m", "25 mm2");
  const Rig r(star);
  for (const SharingPoint& p : discharge(r.design(), *r.design()->bank, steady(400.0)).points)
    for (const auto& b : p.batteries) CHECK(b.share.value() == about(1.0 / 3.0, 1e-9));
}

TEST_CASE("a discharge ends where a consumer cuts out") {
  const Rig r(ladder(2, "3", "0.5", "[1, 2]"));
  BankLoad load = steady(300.0);
  load.stops.push_back({"inverter", 1e-3 * ohm, 12.0 * volt});
  const Sharing s = discharge(r.design(), *r.design()->bank, load);
  CHECK(s.ended_by.find("inverter") != std::string::npos);
  const auto& last = s.points.back();
  CHECK((last.bank - last.current * (1e-3 * ohm)).value() < 12.0);
  const auto& before = s.points[s.points.size() - 2];
  CHECK((before.bank - before.current * (1e-3 * ohm)).value() >= 12.0);
}

TEST_CASE("the least cure is named: a diagonal take-off before larger links") {
  const Rig r(ladder(4, "20", "1.5", "[1, 1]"));
  const auto better = better_joined(r.design(), steady(500.0), 1.2, std::nullopt);
  REQUIRE(better);
  CHECK(better->edit == "takeoff_from = [1, 4]");  // 4 · 26.74 / 100 = 1.07
}

TEST_CASE("two batteries that are joined 0.2 V apart exchange what Ohm's law says") {
  // 0.2 V / (2 · 3 mΩ + cold pure copper of two links: 2 · 0.2 m · 0.017241/35)
  const Rig r(ladder(2, "3", "0.5", "[1, 1]"));
  Working working;
  const double i = joining_current(r.design(), joined_within, &working).value();
  CHECK(i == about(0.2 / (6e-3 + 2 * 0.2 * 0.017241 / 35.0), 1e-4));
  adds_up(working);
}

TEST_CASE("when one of two opens the other carries the case, and the bank falls") {
  const Rig r(ladder(2, "3", "0.5", "[1, 1]"));
  REQUIRE(r.found.loses_one.size() == 1);
  const LosesOne& after = r.found.loses_one.front();
  REQUIRE(after.others.size() == 1);
  CHECK(after.after < after.before);
  Working working;
  const Current busiest = busiest_of(after, &working);
  adds_up(working);
  // all of it by itself, and some more, for its voltage is lower
  CHECK((busiest * after.after).value() > 200.0);
  CHECK(after.starved.empty());
}

// The same solver's figures: what the first battery does not give flows through the first link. High
// and low resistance are alike here.
TEST_CASE(
    "the link beside the take-off carries all batteries beyond it, the worst where one opens") {
  const auto share = [](const std::string& takeoff, Pole pole, Batteries which) {
    const Rig r(ladder(4, "20", "1.5", takeoff));
    Working working;
    const LinkShare found = share_in_links(r.design(), pole, which, &working);
    adds_up(working);
    return found;
  };
  const auto all = Batteries::all_in, one = Batteries::one_open;
  CHECK(std::abs(share("[1, 1]", Pole::outgoing, all).share.value() - 0.6425) < 1e-4);
  CHECK(std::abs(share("[1, 4]", Pole::outgoing, all).share.value() - 0.7326) < 1e-4);
  CHECK(std::abs(share("[1, 4]", Pole::return_, all).share.value() - 0.7326) < 1e-4);
  // in the middle two lie on one side and one on the other: less than half would flow in each if
  // one of three were missing there
  CHECK(share("[2, 2]", Pole::outgoing, all).share.value() < 0.55);
  const LinkShare open = share("[1, 1]", Pole::outgoing, one);
  CHECK(open.share.value() == about(1.0, 1e-6));
  CHECK(open.open == 1);
}

TEST_CASE("of two batteries at unlike resistances the links count with the more even sharing") {
  // 3 mΩ and links of 0.5 mΩ: 42.86 % through the link; evenly it would be half, and 20 mΩ give
  // 20 / 41 = 48.78 %.
  const auto with_high = [](const std::string& high) {
    const Rig r(van::with(ladder(2, "3", "0.5", "[1, 1]"), "high = \"3 mΩ\"",
                          "high = \"" + high + " mΩ\""));
    return share_in_links(r.design(), Pole::outgoing, Batteries::all_in).share.value();
  };
  CHECK(with_high("3") == about(0.4286, 1e-4));
  CHECK(with_high("20") == about(0.4878, 1e-4));
}

}  // namespace wiring_sharing

// SPDX-License-Identifier: Apache-2.0
// The solver against closed forms, each written out beside its test.
#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>

#include "networks.hpp"

namespace wiring_solve {

using namespace housepower;
using namespace housepower::wiring;
using namespace housepower::wiring::test;
using doctest::Approx;

TEST_CASE("two conductors and a constant current lose 2·I·R") {
  Draft d;  // 12.8 V behind 6 mΩ, 10 A through 7.3 mΩ a conductor: 12.8 − 10·(0.006 + 2·0.0073)
  d.feed(0, 1, 12.8, 0.006);
  d.branch(0, 2, 0.0073);
  d.branch(3, 1, 0.0073);
  d.amperes(2, 3, 10.0);
  const auto s = solve(d.n);
  CHECK(across(point(s), 2, 3) ==
        Approx(12.594).epsilon(1e-12));  // the value of a hand calculation
  CHECK(A(point(s).branch[0]) == Approx(10.0).epsilon(1e-12));
  CHECK(A(point(s).branch[1]) == Approx(10.0).epsilon(1e-12));
  CHECK(A(point(s).feed[0]) == Approx(10.0).epsilon(1e-12));
}

TEST_CASE("a constant-power load draws the smaller root of the quadratic") {
  for (const double share : {0.1, 0.5, 0.9, 0.99, 0.999999}) {
    const double u = 13.2, r = 0.05, p = share * u * u / (4 * r);
    CAPTURE(share);
    Draft d;
    d.feed(0, 1, u, 0.01);
    d.branch(0, 2, 0.03);
    d.branch(3, 1, 0.01);
    d.watts(2, 3, p);
    const auto s = solve(d.n);
    REQUIRE(std::holds_alternative<OperatingPoint>(s));
    const double i = (u - std::sqrt(u * u - 4 * r * p)) / (2 * r);
    CHECK(A(point(s).load[0]) == Approx(i).epsilon(1e-9));
  }
}

TEST_CASE("beyond U²/4R there is no operating point, and that is the most the load could have") {
  Draft d;  // 13.2²/(4·0.05) = 871.2 W
  d.feed(0, 1, 13.2, 0.01);
  d.branch(0, 2, 0.03);
  d.branch(3, 1, 0.01);
  d.watts(2, 3, 871.3);
  const auto s = solve(d.n);
  REQUIRE(std::holds_alternative<Collapse>(s));
  CHECK(std::get<Collapse>(s).asked.value() == Approx(871.3));
  CHECK(std::get<Collapse>(s).most.value() == Approx(871.2).epsilon(1e-8));
  d.n.loads[0].power = Power::from_value(871.1);
  CHECK(std::holds_alternative<OperatingPoint>(solve(d.n)));
}

TEST_CASE("the load farthest beyond its way is named, and what the others leave to it") {
  Draft d;  // a lamp at the source and a motor at the end of 0.1 Ω
  d.feed(0, 1, 13.0, 1e-6);
  d.branch(0, 2, 0.1);
  d.branch(3, 1, 1e-6);
  d.watts(0, 1, 20.0);
  d.watts(2, 3, 600.0);
  const auto s = solve(d.n);
  REQUIRE(std::holds_alternative<Collapse>(s));
  CHECK(std::get<Collapse>(s).load == 1);
  CHECK(std::get<Collapse>(s).most.value() == Approx(13.0 * 13.0 / 0.4).epsilon(1e-4));  // 422.5 W
}

TEST_CASE("the most that a load could have counts what the others leave to it") {
  Draft d;  // 13 V behind 0.05 Ω, 20 A drawn beside it: 12 V are left, 12²/(4·0.05) = 720 W
  d.feed(0, 1, 13.0, 0.05);
  d.amperes(0, 1, 20.0);
  d.watts(0, 1, 721.0);
  const auto s = solve(d.n);
  REQUIRE(std::holds_alternative<Collapse>(s));
  CHECK(std::get<Collapse>(s).load == 1);
  CHECK(std::get<Collapse>(s).most.value() == Approx(720.0).epsilon(1e-8));
}

TEST_CASE("the most that a constant current could be is where its voltage ends") {
  Draft d;  // 13 V, 0.1 Ω, 30 A beside it: (13 − 3)/0.1 = 100 A, stated as 1200 W at 12 V
  d.feed(0, 1, 13.0, 0.1);
  d.amperes(0, 1, 30.0);
  d.amperes(0, 1, 101.0);
  const auto s = solve(d.n);
  REQUIRE(std::holds_alternative<Collapse>(s));
  CHECK(std::get<Collapse>(s).load == 1);
  CHECK(std::get<Collapse>(s).asked.value() == Approx(1212.0));
  CHECK(std::get<Collapse>(s).most.value() == Approx(1200.0).epsilon(1e-8));
}

TEST_CASE("of two parts the one that collapses names its load, however hard the other one works") {
  Draft d;  // 13²/(4·0.1) = 422.5 W each: the first is at 99 %, the second beyond
  d.feed(0, 1, 13.0, 0.1);
  d.feed(2, 3, 13.0, 0.1);
  d.watts(0, 1, 0.99 * 422.5);
  d.watts(2, 3, 1.01 * 422.5);
  const auto s = solve(d.n);
  REQUIRE(std::holds_alternative<Collapse>(s));
  CHECK(std::get<Collapse>(s).load == 1);
  CHECK(std::get<Collapse>(s).most.value() == Approx(422.5).epsilon(1e-8));
}

TEST_CASE("a constant current that would reverse its own voltage is a collapse") {
  Draft d;  // 13 V / 0.1 Ω = 130 A at the most; a linear solution still exists
  d.feed(0, 1, 13.0, 0.1);
  d.amperes(0, 1, 131.0);
  CHECK(std::holds_alternative<Collapse>(solve(d.n)));
  CHECK(across(point(solve(d.n, LoadsAs::currents)), 0, 1) == Approx(-0.1));
}

TEST_CASE("a resistive load draws less at a lower voltage") {
  Draft d;  // 100 W at 12 V is 1.44 Ω; behind 0.06 Ω at 12 V: 12/1.5 = 8 A
  d.feed(0, 1, 12.0, 0.06);
  d.load(0, 1, design::Behaviour::resistive, 100.0, 12.0);
  CHECK(A(point(solve(d.n)).load[0]) == Approx(8.0));
}

TEST_CASE("parallel batteries share as the published ladder says") {
  // Independent nodal solution of n batteries (E equal, R_i) with links of r_p = r_n between
  // neighbours and 100 A from battery 1's plus to the first or the last battery's minus.
  struct Row {
    std::size_t n;
    double link, ri;
    bool diagonal;
    std::vector<double> amperes;
  };
  const Row rows[] = {{4, 1.5e-3, 20e-3, false, {35.75, 26.12, 20.40, 17.74}},   // K1
                      {4, 1.5e-3, 20e-3, true, {26.74, 23.26, 23.26, 26.74}},    // K1
                      {4, 0.52e-3, 20e-3, false, {29.22, 25.54, 23.19, 22.04}},  // K2
                      {4, 0.52e-3, 20e-3, true, {25.63, 24.37, 24.37, 25.63}},   // K2
                      {2, 0.5e-3, 3e-3, false, {57.14, 42.86}},                  // K3
                      {2, 0.5e-3, 3e-3, true, {50.0, 50.0}}};                    // K3
  for (const Row& row : rows) {
    CAPTURE(row.link);
    CAPTURE(row.diagonal);
    Draft d;
    for (int b = 0; b < int(row.n); ++b) {
      d.feed(2 * b, 2 * b + 1, 13.2, row.ri);
      if (b == 0) continue;
      d.branch(2 * b, 2 * b - 2, row.link);
      d.branch(2 * b + 1, 2 * b - 1, row.link);
    }
    d.amperes(0, row.diagonal ? 2 * int(row.n) - 1 : 1, 100.0);
    const auto s = solve(d.n);
    for (std::size_t b = 0; b < row.n; ++b)
      CHECK(std::abs(A(point(s).feed[b]) - row.amperes[b]) < 0.01);
  }
}

TEST_CASE(
    "two batteries on ideal links share by their resistances and circulate by their voltages") {
  Draft d;  // K4: 3 and 4.5 mΩ, 100 A: 60 / 40
  d.feed(0, 1, 13.2, 3e-3);
  d.feed(2, 3, 13.2, 4.5e-3);
  d.branch(0, 2, 0.0);
  d.branch(1, 3, 0.0);
  d.amperes(0, 1, 100.0);
  CHECK(std::abs(A(point(solve(d.n)).feed[0]) - 60.0) < 0.05);  // least resistance 1 µΩ, not 0
  CHECK(std::abs(A(point(solve(d.n)).feed[1]) - 40.0) < 0.05);

  Draft k5;  // K5: 3 mΩ each on the same posts, 10 mV apart: 0.010 / 0.006 = 1.67 A
  k5.feed(0, 1, 13.21, 3e-3);
  k5.feed(0, 1, 13.20, 3e-3);
  CHECK(std::abs(A(point(solve(k5.n)).feed[0]) - 1.67) < 0.01);
  CHECK(std::abs(A(point(solve(k5.n)).feed[1]) + 1.67) < 0.01);
}

TEST_CASE("two loads on a shared return feel each other") {
  Draft d;  // 13 V; plus ways 0.02 Ω each; common minus way 0.01 Ω with 10 + 5 A
  d.feed(0, 1, 13.0, 0.0);
  d.branch(0, 2, 0.02);
  d.branch(0, 3, 0.02);
  d.branch(4, 1, 0.01);
  d.amperes(2, 4, 10.0);
  d.amperes(3, 4, 5.0);
  const auto s = solve(d.n);
  CHECK(across(point(s), 2, 4) == Approx(13.0 - 10.0 * 0.02 - 15.0 * 0.01).epsilon(1e-5));
  CHECK(across(point(s), 3, 4) == Approx(13.0 - 5.0 * 0.02 - 15.0 * 0.01).epsilon(1e-5));
  CHECK(A(point(s).branch[2]) == Approx(15.0));
}

TEST_CASE("a ring shares its current by the resistances of its two ways") {
  Draft d;  // 30 A at node 3: 0.01 Ω one way, 0.02 Ω the other: 20 and 10 A
  d.feed(0, 1, 13.0, 0.001);
  d.branch(0, 2, 0.01);
  d.branch(0, 3, 0.015);
  d.branch(3, 2, 0.005);
  d.amperes(2, 1, 30.0);
  const auto s = solve(d.n);
  CHECK(A(point(s).branch[0]) == Approx(20.0));
  CHECK(A(point(s).branch[1]) == Approx(10.0));
}

TEST_CASE("each connected part has its own reference, and what no feed reaches is at zero") {
  Draft d;
  d.feed(0, 1, 13.0, 0.01);
  d.feed(2, 3, 14.0, 0.01);
  d.branch(4, 5, 0.01);
  d.amperes(0, 1, 1.0);
  d.amperes(2, 3, 2.0);
  const auto s = solve(d.n);
  CHECK(across(point(s), 0, 1) == Approx(12.99));
  CHECK(across(point(s), 2, 3) == Approx(13.98));
  CHECK(V(point(s).potential[1]) == 0.0);
  CHECK(V(point(s).potential[3]) == 0.0);
  CHECK(V(point(s).potential[4]) == 0.0);
}

TEST_CASE("a load that no feed reaches has no operating point and can have nothing") {
  Draft d;
  d.feed(0, 1, 13.0, 0.01);
  d.watts(0, 1, 10.0);
  d.watts(2, 3, 10.0);
  const auto s = solve(d.n);
  REQUIRE(std::holds_alternative<Collapse>(s));
  CHECK(std::get<Collapse>(s).load == 1);
  CHECK(std::get<Collapse>(s).most.value() == 0.0);
  CHECK(std::holds_alternative<OperatingPoint>(solve(d.n, LoadsAs::currents)));
}

TEST_CASE("a charger's current flows into the battery and lifts its voltage") {
  Draft d;  // 40 A through 5 mΩ onto 13.2 V behind 10 mΩ: 13.2 + 0.4, and 13.6 + 0.2 at the charger
  d.feed(0, 1, 13.2, 0.01);
  d.branch(2, 0, 0.005);
  d.amperes(2, 1, -40.0);
  const auto s = solve(d.n);
  CHECK(A(point(s).feed[0]) == Approx(-40.0));
  CHECK(across(point(s), 0, 1) == Approx(13.6));
  CHECK(across(point(s), 2, 1) == Approx(13.8));
}

TEST_CASE("a solver used again gives what a new one gives") {
  Draft d;
  d.feed(0, 1, 13.2, 0.01);
  d.branch(0, 2, 0.03);
  d.branch(3, 1, 0.01);
  d.watts(2, 3, 10.0);
  Solver solver(d.n);
  for (const double p : {10.0, 870.0, 900.0, 300.0, 871.0, 0.0, 871.3, 60.0}) {
    CAPTURE(p);
    d.n.loads[0].power = Power::from_value(p);
    d.n.branches[0].resistance = Resistance::from_value(0.03);
    const auto again = solver.solve(d.n), once = solve(d.n);
    REQUIRE(again.index() == once.index());
    if (const auto* o = std::get_if<OperatingPoint>(&once))
      CHECK(across(point(again), 2, 3) == Approx(across(*o, 2, 3)).epsilon(1e-9));
    else
      CHECK(std::get<Collapse>(again).most.value() ==
            Approx(std::get<Collapse>(once).most.value()).epsilon(1e-8));
  }
}

TEST_CASE("the prospective current of a row of cells is that of the published guide") {
  // A circuit-breaker maker's d.c. guide: 110 cells of 0.5 mΩ, 240 V: 4.37 kA, four rows 17.5 kA
  // (printed rounding: 0.3 %).
  for (const int rows : {1, 4}) {
    Draft d;
    for (int i = 0; i < rows; ++i) d.feed(0, 1, 240.0, 0.055);
    const auto seen = seen_from(d.n, {0}, {1});
    REQUIRE(seen);
    CHECK(V(seen->open_circuit) / seen->resistance.value() ==
          Approx(rows == 1 ? 4370.0 : 17500.0).epsilon(0.003));
  }
}

TEST_CASE("cells and their links add up before a short circuit") {
  Draft d;  // four cells of 0.75 mΩ (14 V) and three links of 0.25 mΩ: 3.75 mΩ, 14/0.00375 = 3733 A
  d.feed(0, 1, 14.0, 4 * 0.75e-3);
  d.branch(0, 2, 3 * 0.25e-3);
  const auto seen = seen_from(d.n, {2}, {1});
  REQUIRE(seen);
  CHECK(seen->resistance.value() == Approx(3.75e-3));
  CHECK(V(seen->open_circuit) / seen->resistance.value() == Approx(3733.33).epsilon(1e-5));
}

TEST_CASE("a pair that no feed reaches has no prospective current") {
  Draft d;
  d.feed(0, 1, 13.0, 0.01);
  d.branch(2, 3, 0.01);
  CHECK(!seen_from(d.n, {2}, {3}));
  CHECK(!seen_from(d.n, {0}, {3}));
}

TEST_CASE("a network beyond our limit is refused in words") {
  Network n;
  n.nodes = largest_network + 1;
  CHECK(std::holds_alternative<NotSolved>(solve(n)));
  CHECK(std::holds_alternative<OperatingPoint>(solve(Network{})));
}

}  // namespace wiring_solve

// SPDX-License-Identifier: Apache-2.0
// Batteries in parallel, joined one to the next by links: how they share a load, against currents
// that an independent nodal solver gave for the same ladders.
#include <doctest/doctest.h>

#include <tuple>

#include "housepower/wiring/network.hpp"
#include "shipped.hpp"

namespace housepower::test::published_parallel_batteries {
namespace {

using wiring::NodeId;

struct Ladder {
  int batteries;
  double link_milliohm, internal_milliohm;
};

// Nodes: plus of battery i is 2i, minus 2i + 1. 100 A between the first plus and the minus of
// battery `back`.
std::vector<double> shares(const Ladder& ladder, int back) {
  wiring::Network network;
  network.nodes = 2 * ladder.batteries;
  for (int i = 0; i < ladder.batteries; ++i) {
    network.feeds.push_back(
        {NodeId{2 * i + 1}, NodeId{2 * i}, 13.2 * volt, ladder.internal_milliohm * milliohm});
    if (i == 0) continue;
    const Resistance link = ladder.link_milliohm * milliohm;
    network.branches.push_back({NodeId{2 * i - 2}, NodeId{2 * i}, link});
    network.branches.push_back({NodeId{2 * i - 1}, NodeId{2 * i + 1}, link});
  }
  network.loads.push_back({NodeId{0}, NodeId{2 * back + 1}, design::Behaviour::constant_current,
                           1200.0 * watt, 12.0 * volt});
  const wiring::Solution solution = wiring::solve(network);
  const auto* point = std::get_if<wiring::OperatingPoint>(&solution);
  REQUIRE(point);
  std::vector<double> amperes;
  for (const Current& feed : point->feed) amperes.push_back(feed / ampere);
  return amperes;
}

void check(const std::vector<double>& ours, const std::vector<double>& expected) {
  REQUIRE(ours.size() == expected.size());
  for (std::size_t i = 0; i < ours.size(); ++i) CHECK(ours[i] == to(expected[i], 0.01));
}

TEST_CASE("four batteries of 20 mΩ on links of 1.5 mΩ") {
  // A public technical page is remembered to print 35.9 26.2 20.4 17.8 and 26.7 23.2 23.2 26.7.
  check(shares({4, 1.5, 20}, 0), {35.75, 26.12, 20.40, 17.74});
  check(shares({4, 1.5, 20}, 3), {26.74, 23.26, 23.26, 26.74});
}

TEST_CASE("the same with 0.2 m of 35 mm² and two interfaces: 0.52 mΩ a link") {
  // That page (read): 0.6 mΩ/m, so 0.12 mΩ, and 0.2 mΩ for each connection interface.
  check(shares({4, 0.12 + 2 * 0.2, 20}, 0), {29.22, 25.54, 23.19, 22.04});
  check(shares({4, 0.12 + 2 * 0.2, 20}, 3), {25.63, 24.37, 24.37, 25.63});
}

TEST_CASE("two batteries of 3 mΩ on links of 0.5 mΩ: 57 and 43 A from one end, equal diagonally") {
  check(shares({2, 0.5, 3}, 0), {57.14, 42.86});
  check(shares({2, 0.5, 3}, 1), {50, 50});
}

wiring::Network pair(Resistance first, Resistance second, Voltage apart) {
  wiring::Network network;
  network.nodes = 2;
  network.feeds.push_back({NodeId{1}, NodeId{0}, 13.2 * volt + apart, first});
  network.feeds.push_back({NodeId{1}, NodeId{0}, 13.2 * volt, second});
  return network;
}

TEST_CASE("without links, 3 and 4.5 mΩ share 60 to 40") {
  wiring::Network network = pair(3.0 * milliohm, 4.5 * milliohm, 0.0 * volt);
  network.loads.push_back(
      {NodeId{0}, NodeId{1}, design::Behaviour::constant_current, 1200.0 * watt, 12.0 * volt});
  const wiring::Solution solution = wiring::solve(network);
  const auto* point = std::get_if<wiring::OperatingPoint>(&solution);
  REQUIRE(point);
  CHECK(point->feed[0] / ampere == to(60, 0.01));
  CHECK(point->feed[1] / ampere == to(40, 0.01));
}

TEST_CASE("10 mV apart, two batteries of 3 mΩ exchange 1.67 A; 0.2 V apart, 33 A") {
  // The second: a trade magazine, issue 33 p. 62, joins only within 0.2 V.
  for (const auto& [apart, amperes, digit] :
       {std::tuple{0.010, 1.67, 0.01}, std::tuple{0.2, 33.0, 1.0}}) {
    const wiring::Solution solution =
        wiring::solve(pair(3.0 * milliohm, 3.0 * milliohm, apart * volt));
    const auto* point = std::get_if<wiring::OperatingPoint>(&solution);
    REQUIRE(point);
    CHECK(point->feed[0] / ampere == to(amperes, digit));
    CHECK(point->feed[1] / ampere == to(-amperes, digit));
  }
}

TEST_CASE("12 mV apart turns 5 A into 4.5 and 0.5 A, and leaves 100 A equal") {
  // A public page reposting a forum case.
  for (const double amperes : {5.0, 100.0}) {
    CAPTURE(amperes);
    wiring::Network network = pair(3.0 * milliohm, 3.0 * milliohm, 0.012 * volt);
    network.loads.push_back({NodeId{0}, NodeId{1}, design::Behaviour::constant_current,
                             amperes * ampere * (12.0 * volt), 12.0 * volt});
    const wiring::Solution solution = wiring::solve(network);
    const auto* point = std::get_if<wiring::OperatingPoint>(&solution);
    REQUIRE(point);
    CHECK(point->feed[0] / ampere == to(0.5 * amperes + 2.0, 0.01));
    CHECK(point->feed[1] / ampere == to(0.5 * amperes - 2.0, 0.01));
  }
}

}  // namespace
}  // namespace housepower::test::published_parallel_batteries

// SPDX-License-Identifier: Apache-2.0
// The sequent-peak method on published records, and where the worst run of days lies.
#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

#include "housepower/energy/drawdown.hpp"

namespace energy_drawdown {
namespace {

using namespace housepower;
using namespace housepower::energy;

Drawdown of(const std::vector<double>& gained, const std::vector<double>& used, int times = 2) {
  std::vector<Energy> q, d;
  for (const double x : gained) q.push_back(x * watt * hour);
  for (const double x : used) d.push_back(x * watt * hour);
  return largest_drawdown(q, d, times);
}
double wh(Energy e) { return e / (1.0 * watt * hour); }

const std::vector<double> inflow{6, 10, 9, 5, 4, 0}, demand{7, 0, 7, 8, 4, 8};

TEST_CASE("a textbook exercise: 11 in one pass, 12 where the record follows itself") {
  // Inflow and demand from a textbook exercise copy, which tells the mass curve (6 16 25 30 34 34 and
  // 7 7 14 22 26 34); the capacities computed from them: lacking 1, 0, 0, 3, 3, 11, then 12.
  CHECK(wh(of(inflow, demand, 1).largest) == doctest::Approx(11));
  const Drawdown twice = of(inflow, demand);
  CHECK(wh(twice.largest) == doctest::Approx(12));
  CHECK(twice.gains_enough);  // 34 and 34
  CHECK(wh(of(inflow, demand, 5).largest) == doctest::Approx(12));
}

TEST_CASE(
    "the documentation of a public water-resources package: 12 8 6 15 10 against 10 needs 6") {
  // Lacking, computed: 0 2 6 1 1.
  const Drawdown d = of({12, 8, 6, 15, 10}, {10, 10, 10, 10, 10});
  CHECK(wh(d.largest) == doctest::Approx(6));
  CHECK(d.begins == 1);
  CHECK(d.ends == 2);
  CHECK(d.gains_enough);
}

TEST_CASE("the worst run is named by its days, over the end of the record too") {
  const Drawdown once = of(inflow, demand, 1);
  CHECK(once.begins == 3);
  CHECK(once.ends == 5);
  const Drawdown twice = of(inflow, demand);
  CHECK(twice.begins == 3);
  CHECK(twice.ends == 0);  // the first day of the next record lacks one more
}

TEST_CASE("where a record starts does not matter once it follows itself") {
  auto q = inflow, d = demand;
  for (std::size_t i = 0; i < q.size(); ++i) {
    CHECK(wh(of(q, d).largest) == doctest::Approx(12));
    std::rotate(q.begin(), q.begin() + 1, q.end());
    std::rotate(d.begin(), d.begin() + 1, d.end());
  }
}

TEST_CASE("a record that uses more than it gains is said to be carried by no store") {
  CHECK_FALSE(of({3}, {4}).gains_enough);
  CHECK(wh(of({3}, {4}, 1).largest) == doctest::Approx(1));
  CHECK(wh(of({3}, {4}, 7).largest) == doctest::Approx(7));
}

TEST_CASE("no use, no days, or enough each day: nothing is drawn down; no gain: all of it is") {
  CHECK(wh(of({5, 5}, {0, 0}).largest) == 0);
  CHECK(wh(of({}, {}).largest) == 0);
  CHECK(of({}, {}).gains_enough);
  CHECK(wh(of({5, 5}, {5, 4}).largest) == 0);
  CHECK(wh(of({2}, {2, 3}, 1).largest) == doctest::Approx(3));  // the second day gains nothing
  CHECK_FALSE(of({2}, {2, 3}).gains_enough);
}

}  // namespace

}  // namespace energy_drawdown

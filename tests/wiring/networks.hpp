// SPDX-License-Identifier: Apache-2.0
// Small networks by hand, for the tests of the solver.
#pragma once

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "housepower/wiring/network.hpp"

namespace housepower::wiring::test {

inline constexpr double V(Voltage u) { return u.value(); }
inline constexpr double A(Current i) { return i.value(); }

/// Node numbers are given as plain integers; values in V, Ω, W.
struct Draft {
  Network n;
  void branch(int from, int to, double ohms) {
    see(from, to);
    n.branches.push_back({{from}, {to}, Resistance::from_value(ohms)});
  }
  void feed(int plus, int minus, double volts, double ohms) {
    see(plus, minus);
    n.feeds.push_back({{minus}, {plus}, Voltage::from_value(volts), Resistance::from_value(ohms)});
  }
  void load(int plus, int minus, design::Behaviour behaves, double watts, double nominal = 12.0) {
    see(plus, minus);
    n.loads.push_back(
        {{plus}, {minus}, behaves, Power::from_value(watts), Voltage::from_value(nominal)});
  }
  void amperes(int plus, int minus, double i) {
    load(plus, minus, design::Behaviour::constant_current, 12.0 * i);
  }
  void watts(int plus, int minus, double p) {
    load(plus, minus, design::Behaviour::constant_power, p);
  }

private:
  void see(int a, int b) { n.nodes = std::max({n.nodes, a + 1, b + 1}); }
};

/// The same numbers on every library: the standard distributions differ.
struct Random {
  std::mt19937_64 engine;
  explicit Random(unsigned long seed) : engine(seed) {}
  double between(double a, double b) { return a + (b - a) * double(engine() >> 11) * 0x1p-53; }
  int below(int n) { return int(between(0.0, n)); }
};

/// A random van: plus of post k is node 2k, minus 2k + 1. One to four batteries joined by links, its takeoff at one end or
/// diagonal, a tree of two-wire runs, and for every six posts a run more that closes a loop on both
/// poles or on one: between any two, or near by, from a post past the one before it. Loads of
/// constant power, `watts` in all at the most.
enum class Loops { anywhere, near_by };
inline Draft random_network(Random& random, int posts, double watts, Loops loops) {
  Draft d;
  const int batteries = 1 + random.below(4);
  for (int k = 0; k < batteries; ++k) {
    d.feed(2 * k, 2 * k + 1, random.between(13.0, 13.2), random.between(1e-3, 10e-3));
    if (k == 0) continue;
    d.branch(2 * k - 2, 2 * k, random.between(1e-4, 1.5e-3));
    d.branch(2 * k + 1, 2 * k - 1, random.between(1e-4, 1.5e-3));
  }
  const int last = 2 * batteries - 1, minus = random.below(2) == 1 ? last : 1;
  const auto ohms = [&] { return std::pow(10.0, random.between(-3.5, -1.7)); };
  std::vector<int> before(std::size_t(posts + batteries), 0);
  for (int k = batteries; k < posts + batteries; ++k) {
    const bool first = k == batteries;
    const int from = first ? 0 : batteries + random.below(k - batteries);
    before[std::size_t(k)] = from;
    const double r = ohms();
    d.branch(2 * from, 2 * k, r);
    const bool straight = first || random.below(10) < 2;
    d.branch(2 * k + 1, straight ? minus : 2 * from + 1, r * random.between(0.3, 1.5));
    if (random.below(10) < 7) d.watts(2 * k, 2 * k + 1, random.between(0.0, watts / posts));
  }
  for (int k = 0; k < posts / 6; ++k) {
    const int a = batteries + random.below(posts);
    const int b = loops == Loops::anywhere ? batteries + random.below(posts)
                                           : before[std::size_t(before[std::size_t(a)])];
    if (a == b) continue;
    d.branch(2 * a, 2 * b, ohms());
    if (random.below(2) == 1) d.branch(2 * b + 1, 2 * a + 1, ohms());
  }
  return d;
}

inline const OperatingPoint& point(const Solution& s) { return std::get<OperatingPoint>(s); }
inline double across(const OperatingPoint& p, int plus, int minus) {
  return V(p.potential[std::size_t(plus)] - p.potential[std::size_t(minus)]);
}

}  // namespace housepower::wiring::test

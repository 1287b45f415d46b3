// SPDX-License-Identifier: Apache-2.0
// Small networks by hand, for the tests of the solver.
#pragma once

#include <algorithm>
#include <cmath>
#include <random>

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

/// A random van: plus of post k is node 2k, minus 2k + 1. One or two batteries at posts 0 and 1, a
/// tree of two-wire runs from there, some returning straight to the first battery, and loads of
/// constant power, `watts` in all at the most.
inline Draft random_tree(Random& random, int posts, double watts) {
  Draft d;
  d.feed(0, 1, random.between(12.9, 13.3), random.between(2e-3, 10e-3));
  const bool two = random.below(2) == 1;
  if (two) d.feed(2, 3, random.between(12.9, 13.3), random.between(2e-3, 10e-3));
  for (int k = 1; k < posts; ++k) {
    const int from = k == 1 ? 0 : random.below(k);
    const double ohms = std::pow(10.0, random.between(-3.5, -1.7));
    d.branch(2 * from, 2 * k, ohms);
    d.branch(2 * k + 1, random.below(10) < 3 ? 1 : 2 * from + 1, ohms * random.between(0.3, 1.5));
  }
  for (int k = 1; k < posts; ++k)
    if (random.below(10) < 7) d.watts(2 * k, 2 * k + 1, random.between(0.0, watts / posts));
  return d;
}

inline const OperatingPoint& point(const Solution& s) { return std::get<OperatingPoint>(s); }
inline double across(const OperatingPoint& p, int plus, int minus) {
  return V(p.potential[std::size_t(plus)] - p.potential[std::size_t(minus)]);
}

}  // namespace housepower::wiring::test

// SPDX-License-Identifier: Apache-2.0
// Our networks against ngspice: voltages up to 95 % of the largest load, and the largest load
// itself. The simulator knows no largest load: it sweeps the load's current instead, and the
// power, voltage times current, has its maximum there.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <span>

#include "ngspice.hpp"
#include "wiring/networks.hpp"

namespace reference_ngspice_network {

using namespace housepower;
using namespace housepower::wiring;
using namespace housepower::wiring::test;

namespace {

/// A network, one of its loads, the most that this one can have and what it draws then.
struct Loaded {
  Network network;
  Swept swept{};
  double most = 0;
  OperatingPoint ours;  // with a part of that
};

constexpr double shares[] = {0.99, 0.995, 1.0, 1.005, 1.01};  // of the current at the largest load

std::optional<OperatingPoint> point_with(Network& n, std::size_t load, double watts) {
  n.loads[load].power = Power::from_value(watts);
  auto s = solve(n);
  if (auto* p = std::get_if<OperatingPoint>(&s)) return std::move(*p);
  return std::nullopt;
}

/// Nothing where the other loads do not run, or where they would end just beyond.
std::optional<Loaded> loaded(Network n, std::size_t load, double part) {
  n.loads[load].power = 1e6 * watt;
  const auto beyond = solve(n);
  const auto* c = std::get_if<Collapse>(&beyond);
  if (!c || c->load != int(load) || c->most.value() <= 0.0) return std::nullopt;
  Loaded one{n, {load, 0.0}, c->most.value(), {}};
  const auto at_end = point_with(n, load, (1.0 - 1e-8) * one.most);
  if (!at_end) return std::nullopt;
  one.swept.amperes = A(at_end->load[load]);
  Network swept = n;
  swept.loads[load].behaves = design::Behaviour::constant_current;
  swept.loads[load].nominal = 1.0 * volt;
  if (!point_with(swept, load, 1.02 * one.swept.amperes)) return std::nullopt;
  auto ours = point_with(one.network, load, part * one.most);
  if (!ours) return std::nullopt;
  one.ours = std::move(*ours);
  return one;
}

std::vector<Loaded> random_vans(std::size_t count) {
  Random random(20240501);
  std::vector<Loaded> all;
  while (all.size() < count) {
    const Draft d = random_network(random, 3 + random.below(12), 1500.0, Loops::anywhere);
    const double part = random.below(2) == 1 ? 0.95 : random.between(0.3, 0.95);
    if (d.n.loads.empty()) continue;
    auto one = loaded(d.n, std::size_t(random.below(int(d.n.loads.size()))), part);
    if (one) all.push_back(std::move(*one));
  }
  return all;
}

std::map<std::string, std::size_t> places(const Ngspice::Answer& answer) {
  std::map<std::string, std::size_t> all;
  for (std::size_t i = 0; i < answer.names.size(); ++i) all[answer.names[i]] = i;
  return all;
}
double voltage(const std::map<std::string, std::size_t>& place, const std::vector<double>& row,
               const std::string& node) {
  if (node == "0") return 0.0;
  const auto found = place.find("v(" + node + ")");
  return found == place.end() ? NAN : row[found->second];
}

struct Worst {
  double voltage = 0, most = 0;
};

void compare_voltages(std::span<const Loaded> vans, const Circuit& circuit,
                      const Ngspice::Answer& answer, Worst& worst) {
  REQUIRE_MESSAGE(answer.rows.size() == 1, answer.said);
  const auto place = places(answer);
  for (std::size_t i = 0; i < vans.size(); ++i)
    for (std::size_t k = 0; k < circuit.node[i].size(); ++k) {
      const double theirs = voltage(place, answer.rows[0], circuit.node[i][k]);
      REQUIRE(std::isfinite(theirs));
      worst.voltage =
          std::max(worst.voltage, std::abs(V(vans[i].ours.potential[k]) - theirs) / 13.0);
    }
}

/// The maximum of the polynomial through five equally spaced values, the third being about it.
double maximum(const std::vector<double>& y) {
  const auto at = [&](double x) {  // Lagrange, x in steps from the third
    double sum = 0;
    for (int i = -2; i <= 2; ++i) {
      double term = y[std::size_t(i + 2)];
      for (int k = -2; k <= 2; ++k)
        if (k != i) term *= (x - k) / (i - k);
      sum += term;
    }
    return sum;
  };
  double low = -1, high = 1;
  for (int i = 0; i < 100; ++i) {
    const double a = low + (high - low) / 3, b = high - (high - low) / 3;
    (at(a) < at(b) ? low : high) = at(a) < at(b) ? a : b;
  }
  return at(low);
}

void compare_most(std::span<const Loaded> vans, const Circuit& circuit,
                  const Ngspice::Answer& answer, Worst& worst) {
  REQUIRE_MESSAGE(answer.rows.size() == std::size(shares), answer.said);
  const auto place = places(answer);
  for (std::size_t i = 0; i < vans.size(); ++i) {
    const Load& load = vans[i].network.loads[vans[i].swept.load];
    std::vector<double> power;
    for (std::size_t k = 0; k < std::size(shares); ++k) {
      const auto at = [&](NodeId id) {
        return voltage(place, answer.rows[k], circuit.node[i][std::size_t(id.index)]);
      };
      power.push_back((at(load.plus) - at(load.minus)) * vans[i].swept.amperes * shares[k]);
    }
    CHECK(power[2] > power[0]);
    CHECK(power[2] > power[4]);
    worst.most = std::max(worst.most, std::abs(maximum(power) / vans[i].most - 1.0));
  }
}

void compare(std::span<const Loaded> vans, Worst& worst) {
  Circuit at_part, at_end;
  for (const Loaded& van : vans) {
    at_part.add(van.network);
    at_end.add(van.network, &van.swept);
  }
  at_end.text << "Vshare share 0 1\n";
  Ngspice op(at_part, "op\n"), sweep(at_end, "dc Vshare 0.99 1.0101 0.005\n");  // side by side
  compare_voltages(vans, at_part, op.answer(), worst);
  compare_most(vans, at_end, sweep.answer(), worst);
}

}  // namespace

TEST_CASE("1,000 random networks agree with ngspice: voltages to 1e-9, largest loads to 1e-6" *
          doctest::skip(!has_ngspice())) {
  constexpr std::size_t batch = 25;  // ngspice looks its nodes up one by one: small circuits
  const std::vector<Loaded> vans = random_vans(1000);
  Worst worst;
  for (std::size_t i = 0; i < vans.size(); i += batch) compare({&vans[i], batch}, worst);
  CHECK(worst.voltage < 1e-9);
  CHECK(worst.most < 1e-6);
  MESSAGE("largest differences: voltages " << worst.voltage << ", largest loads " << worst.most);
}

}  // namespace reference_ngspice_network

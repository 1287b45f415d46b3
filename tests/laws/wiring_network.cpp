// SPDX-License-Identifier: Apache-2.0
// Laws of the network, on random vans.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "housepower/wiring/formulas.hpp"
#include "wiring/networks.hpp"

namespace laws_wiring_network {

using namespace housepower;
using namespace housepower::wiring;
using namespace housepower::wiring::test;

namespace {

Draft some_van(double watts) {
  Random random(*rc::gen::arbitrary<unsigned long>());
  const int posts = *rc::gen::inRange(2, 25);
  return random_network(random, posts, watts, Loops::anywhere);
}
void as_currents(Network& n) {
  for (Load& l : n.loads) l.behaves = design::Behaviour::constant_current;
}
bool near(double a, double b, double share = 1e-9) {
  return std::abs(a - b) <= share * std::max({1.0, std::abs(a), std::abs(b)});
}

}  // namespace

TEST_CASE("laws of the network") {
  CHECK(rc::check("currents balance at every node, to rounding", [] {
    const Draft d = some_van(600.0);
    const auto s = solve(d.n);
    const auto* p = std::get_if<OperatingPoint>(&s);
    RC_PRE(p != nullptr);
    std::vector<double> sum(std::size_t(d.n.nodes), 0.0);
    double largest = 1.0;
    const auto flow = [&](NodeId from, NodeId to, Current i) {
      sum[std::size_t(from.index)] -= A(i);
      sum[std::size_t(to.index)] += A(i);
      largest = std::max(largest, std::abs(A(i)));
    };
    for (std::size_t i = 0; i < d.n.branches.size(); ++i)
      flow(d.n.branches[i].from, d.n.branches[i].to, p->branch[i]);
    for (std::size_t i = 0; i < d.n.feeds.size(); ++i)
      flow(d.n.feeds[i].minus, d.n.feeds[i].plus, p->feed[i]);
    for (std::size_t i = 0; i < d.n.loads.size(); ++i)
      flow(d.n.loads[i].plus, d.n.loads[i].minus, p->load[i]);
    for (const double missing : sum) RC_ASSERT(std::abs(missing) <= 1e-9 * largest);
  }));

  CHECK(rc::check("voltages round every loop add up to nothing", [] {
    const Draft d = some_van(600.0);
    const auto s = solve(d.n);
    const auto* p = std::get_if<OperatingPoint>(&s);
    RC_PRE(p != nullptr);
    for (std::size_t i = 0; i < d.n.branches.size(); ++i) {
      const Branch& b = d.n.branches[i];
      RC_ASSERT(near(across(*p, b.from.index, b.to.index), V(p->branch[i] * b.resistance), 1e-12));
    }
    for (std::size_t i = 0; i < d.n.feeds.size(); ++i) {
      const Feed& f = d.n.feeds[i];
      RC_ASSERT(near(across(*p, f.plus.index, f.minus.index),
                     V(f.open_circuit - p->feed[i] * f.internal), 1e-12));
    }
  }));

  CHECK(rc::check("all lengths and areas scaled alike leave every voltage alike", [] {
    Draft d = some_van(600.0);
    Network scaled = d.n;
    const double by = double(*rc::gen::inRange(2, 60)) / 10.0;
    const Temperature warm = celsius(double(*rc::gen::inRange(-20, 90)));
    const auto conductor = [&](Length length, Area area) {
      const auto r20 = copper_resistance(copper_resistivity, area);
      return pole_resistance(resistance_at_temperature(r20, warm), length, Ratio(1.0),
                             Resistance{});
    };
    for (std::size_t i = 0; i < d.n.branches.size(); ++i) {
      const Length length = double(*rc::gen::inRange(1, 80)) / 10.0 * metre;
      const Area area = double(*rc::gen::inRange(10, 950)) / 10.0 * square_millimetre;
      d.n.branches[i].resistance = conductor(length, area);
      scaled.branches[i].resistance = conductor(by * length, by * area);
    }
    const auto s = solve(d.n), t = solve(scaled);
    RC_ASSERT(s.index() == t.index());
    RC_PRE(std::holds_alternative<OperatingPoint>(s));
    for (std::size_t k = 0; k < std::size_t(d.n.nodes); ++k)
      RC_ASSERT(near(V(point(s).potential[k]), V(point(t).potential[k])));
  }));

  CHECK(rc::check("what the feeds deliver is lost in conductors and feeds or drawn by loads", [] {
    const Draft d = some_van(600.0);
    const auto s = solve(d.n);
    const auto* p = std::get_if<OperatingPoint>(&s);
    RC_PRE(p != nullptr);
    double balance = 0, delivered = 0;
    for (std::size_t i = 0; i < d.n.feeds.size(); ++i) {
      const double i_feed = A(p->feed[i]);
      delivered += std::abs(V(d.n.feeds[i].open_circuit) * i_feed);
      balance +=
          V(d.n.feeds[i].open_circuit) * i_feed - i_feed * i_feed * d.n.feeds[i].internal.value();
    }
    for (std::size_t i = 0; i < d.n.branches.size(); ++i)
      balance -= A(p->branch[i]) * A(p->branch[i]) * d.n.branches[i].resistance.value();
    for (std::size_t i = 0; i < d.n.loads.size(); ++i) balance -= d.n.loads[i].power.value();
    RC_ASSERT(std::abs(balance) <= 1e-7 * std::max(1.0, delivered));
  }));

  CHECK(rc::check(
      "with constant currents twice the length is twice the drop, and so is twice the current", [] {
        Draft d = some_van(600.0);
        d.n.feeds.resize(1);
        as_currents(d.n);
        const auto drops = [](const Network& n) {
          std::vector<double> all;
          const auto s = solve(n, LoadsAs::currents);
          for (std::size_t i = 0; i < n.branches.size(); ++i)
            all.push_back(A(point(s).branch[i]) * n.branches[i].resistance.value());
          return all;
        };
        const auto once = drops(d.n);
        Network longer = d.n, fuller = d.n;
        for (Branch& b : longer.branches) b.resistance = 2.0 * b.resistance;
        for (Load& l : fuller.loads) l.power = 2.0 * l.power;
        const auto twice_as_long = drops(longer), twice_as_full = drops(fuller);
        for (std::size_t i = 0; i < once.size(); ++i) {
          RC_ASSERT(near(twice_as_long[i], 2 * once[i]));
          RC_ASSERT(near(twice_as_full[i], 2 * once[i]));
        }
      }));

  CHECK(rc::check("constant currents superpose", [] {
    Draft d = some_van(600.0);
    as_currents(d.n);
    RC_PRE(d.n.loads.size() >= 2);
    Network first = d.n, rest = d.n, none = d.n;
    for (std::size_t i = 0; i < d.n.loads.size(); ++i) {
      (i == 0 ? rest : first).loads[i].power = Power{};
      none.loads[i].power = Power{};
    }
    const auto all = solve(d.n, LoadsAs::currents), a = solve(first, LoadsAs::currents),
               b = solve(rest, LoadsAs::currents), idle = solve(none, LoadsAs::currents);
    for (std::size_t i = 0; i < d.n.branches.size(); ++i)
      RC_ASSERT(near(A(point(all).branch[i]) + A(point(idle).branch[i]),
                     A(point(a).branch[i]) + A(point(b).branch[i])));
  }));

  CHECK(rc::check("more load never raises a voltage, until there is no operating point", [] {
    Draft d = some_van(900.0);
    RC_PRE(!d.n.loads.empty());
    const auto before = solve(d.n);
    RC_PRE(std::holds_alternative<OperatingPoint>(before));
    const auto which = std::size_t(*rc::gen::inRange(0, int(d.n.loads.size())));
    d.n.loads[which].power += 20.0 * watt;
    const auto after = solve(d.n);
    if (const auto* p = std::get_if<OperatingPoint>(&after))
      for (const Load& l : d.n.loads)
        RC_ASSERT(across(*p, l.plus.index, l.minus.index) <=
                  across(point(before), l.plus.index, l.minus.index) + 1e-9);
  }));

  CHECK(
      rc::check("the most that a collapsed load could have is where its operating point ends", [] {
        Draft d = some_van(300.0);
        RC_PRE(!d.n.loads.empty());
        RC_PRE(std::holds_alternative<OperatingPoint>(solve(d.n)));
        d.n.loads[0].power = 1e6 * watt;
        const auto s = solve(d.n);
        RC_ASSERT(std::holds_alternative<Collapse>(s));
        const auto& c = std::get<Collapse>(s);
        RC_ASSERT(c.load == 0);
        d.n.loads[0].power = c.most * (1.0 - 1e-6);
        RC_ASSERT(std::holds_alternative<OperatingPoint>(solve(d.n)));
        d.n.loads[0].power = c.most * (1.0 + 1e-6);
        RC_ASSERT(std::holds_alternative<Collapse>(solve(d.n)));
      }));

  CHECK(rc::check("a small load draws what the resistance seen from its place says", [] {
    Draft d = some_van(0.0);
    const int k = int(d.n.nodes / 2) - 1;
    const auto seen = seen_from(d.n, {2 * k}, {2 * k + 1});
    RC_PRE(seen.has_value());
    const auto idle = solve(d.n, LoadsAs::currents);
    RC_ASSERT(near(V(seen->open_circuit), across(point(idle), 2 * k, 2 * k + 1)));
    d.amperes(2 * k, 2 * k + 1, 1.0);
    const auto s = solve(d.n, LoadsAs::currents);
    RC_ASSERT(near(across(point(s), 2 * k, 2 * k + 1),
                   V(seen->open_circuit) - seen->resistance.value(), 1e-9));
  }));
}

}  // namespace laws_wiring_network

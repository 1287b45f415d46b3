// SPDX-License-Identifier: Apache-2.0
// Our networks against ngspice, an independent circuit simulator: the same random vans with
// constant-power loads, solved by both.
//
// ngspice falls into a false root (voltages far below zero) without initial voltages, so each node
// is given one, and a load is P/U only above a least voltage. All vans stand in one circuit, apart
// from each other: one process, one answer.
#include <doctest/doctest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

#include "wiring/networks.hpp"

using namespace housepower;
using namespace housepower::wiring;
using namespace housepower::wiring::test;

namespace {

std::string node_name(std::size_t van, NodeId id, const Network& n) {
  // ngspice knows one ground: the minus of each van's first feed, which is our reference too
  return id == n.feeds[0].minus ? "0" : "n" + std::to_string(van) + "_" + std::to_string(id.index);
}

void write_van(std::ostream& out, std::size_t van, const Network& n) {
  const std::string v = std::to_string(van) + "_";
  const auto at = [&](NodeId id) { return node_name(van, id, n); };
  for (std::size_t i = 0; i < n.branches.size(); ++i)
    out << "R" << v << i << " " << at(n.branches[i].from) << " " << at(n.branches[i].to) << " "
        << n.branches[i].resistance.value() << "\n";
  for (std::size_t i = 0; i < n.feeds.size(); ++i) {
    const Feed& f = n.feeds[i];
    out << "V" << v << i << " e" << v << i << " " << at(f.minus) << " " << f.open_circuit.value()
        << "\n"
        << "RI" << v << i << " e" << v << i << " " << at(f.plus) << " " << f.internal.value()
        << "\n";
  }
  for (std::size_t i = 0; i < n.loads.size(); ++i) {
    const Load& l = n.loads[i];
    const std::string u = "V(" + at(l.plus) + (at(l.minus) == "0" ? "" : "," + at(l.minus)) + ")";
    out << "B" << v << i << " " << at(l.plus) << " " << at(l.minus) << " I=" << l.power.value()
        << "/max(" << u << ",4)*min(1,max(" << u << ",0)/4)\n";
  }
  for (int k = 0; k < n.nodes; ++k)
    if (at({k}) != "0") out << ".nodeset V(" << at({k}) << ")=" << (k % 2 == 0 ? 13 : 0) << "\n";
}

/// Node voltages by name, as ngspice prints them.
std::map<std::string, double> ngspice(const std::vector<Network>& vans, const std::string& file) {
  std::ofstream out(file);
  out.precision(17);
  out << "* random vans\n";
  for (std::size_t i = 0; i < vans.size(); ++i) write_van(out, i, vans[i]);
  out << ".options reltol=1e-10 abstol=1e-12 vntol=1e-12 itl1=1000\n"
         ".control\nset numdgt=15\nset width=200\nop\nprint all\nquit\n.endc\n.end\n";
  out.close();
  std::map<std::string, double> voltages;
  FILE* answer = popen(("ngspice -b " + file + " 2>/dev/null").c_str(), "r");
  REQUIRE(answer);
  std::array<char, 400> line{};
  while (std::fgets(line.data(), int(line.size()), answer)) {
    const std::string text = line.data();
    const auto equals = text.find(" = ");
    if (equals != text.npos)
      voltages[text.substr(0, equals)] = std::atof(text.c_str() + equals + 3);
  }
  pclose(answer);
  return voltages;
}

bool has_ngspice() { return std::system("command -v ngspice >/dev/null 2>&1") == 0; }

}  // namespace

TEST_CASE("250 random vans with constant-power loads agree with ngspice to 1e-9") {
  if (!has_ngspice()) {
    MESSAGE("skipped: there is no ngspice here");
    return;
  }
  Random random(20240501);
  std::vector<Network> vans;
  std::vector<OperatingPoint> ours;
  while (vans.size() < 250) {
    const Draft d = random_tree(random, 3 + random.below(22), 1200.0);
    auto s = solve(d.n);
    const auto* p = std::get_if<OperatingPoint>(&s);
    if (!p) continue;   // beyond the largest load there is nothing to compare
    bool deep = false;  // below the least voltage ngspice's load is another one
    for (const Load& l : d.n.loads) deep = deep || across(*p, l.plus.index, l.minus.index) < 5.0;
    if (deep) continue;
    vans.push_back(d.n);
    ours.push_back(*p);
  }
  const auto theirs = ngspice(vans, "housepower_vans.cir");
  std::size_t compared = 0;
  double worst = 0;
  for (std::size_t i = 0; i < vans.size(); ++i)
    for (int k = 0; k < vans[i].nodes; ++k) {
      const auto found = theirs.find(node_name(i, {k}, vans[i]));
      if (found == theirs.end()) continue;
      ++compared;
      worst =
          std::max(worst, std::abs(V(ours[i].potential[std::size_t(k)]) - found->second) / 13.0);
    }
  CAPTURE(worst);
  CHECK(compared > 5000);
  CHECK(worst < 1e-9);
  std::remove("housepower_vans.cir");
}

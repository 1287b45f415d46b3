// SPDX-License-Identifier: Apache-2.0
// Networks for ngspice, an independent circuit simulator, and what it answers. Many networks stand
// in one circuit, apart from each other: one process, one answer.
//
// A load draws P/U there too. ngspice could fall into a false root (voltages far below zero), so it
// starts, as our solver does, near the open-circuit voltages.
#pragma once

#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "housepower/wiring/network.hpp"

namespace housepower::wiring::test {

inline bool has_ngspice() { return std::system("command -v ngspice >/dev/null 2>&1") == 0; }

/// A load that draws a current in proportion to the voltage of the node "share", to be swept.
struct Swept {
  std::size_t load;
  double amperes;
};

struct Circuit {
  std::ostringstream text;
  std::vector<std::vector<std::string>> node;  // by network and node: its name; "0": the ground

  Circuit() {
    text.precision(17);
    text << "* random vans\n";
  }
  void add(const Network& n, const Swept* swept = nullptr) {
    const std::string v = std::to_string(node.size()) + "_";
    auto& names = node.emplace_back();
    // one ground: the minus of each network's first feed, which is our reference too
    for (int k = 0; k < n.nodes; ++k)
      names.push_back(k == n.feeds[0].minus.index ? "0" : "n" + v + std::to_string(k));
    const auto at = [&](NodeId id) { return names[std::size_t(id.index)]; };
    for (std::size_t i = 0; i < n.branches.size(); ++i) {
      const Branch& b = n.branches[i];
      text << "R" << v << i << " " << at(b.from) << " " << at(b.to) << " " << b.resistance.value()
           << "\n";
    }
    for (std::size_t i = 0; i < n.feeds.size(); ++i) {  // as a current beside its resistance
      const Feed& f = n.feeds[i];
      text << "I" << v << i << " " << at(f.minus) << " " << at(f.plus) << " "
           << f.open_circuit.value() / f.internal.value() << "\nRI" << v << i << " " << at(f.plus)
           << " " << at(f.minus) << " " << f.internal.value() << "\n";
    }
    for (std::size_t i = 0; i < n.loads.size(); ++i) {
      const Load& l = n.loads[i];
      const std::string ends = " " + at(l.plus) + " " + at(l.minus) + " ";
      if (swept && swept->load == i)
        text << "G" << v << i << ends << "share 0 " << swept->amperes << "\n";
      else
        text << "B" << v << i << ends << "I=" << l.power.value() << "/V(" << at(l.plus)
             << (at(l.minus) == "0" ? "" : "," + at(l.minus)) << ")\n";
    }
    for (int k = 0; k < n.nodes; k += 2)
      if (names[std::size_t(k)] != "0") text << ".nodeset V(" << names[std::size_t(k)] << ")=13\n";
  }
};

/// One ngspice at work on a circuit; `analyses` are its commands. The answers of the last of them
/// are read: by row, each node's voltage in the order of the names that ngspice gives.
class Ngspice {
public:
  Ngspice(const Circuit& circuit, const std::string& analyses)
      : file_((std::filesystem::temp_directory_path() / "housepower_").string() +
              std::to_string(getpid()) + "_" + std::to_string(count()++)) {
    std::ofstream out(file_ + ".cir");
    out << circuit.text.str()
        << ".options reltol=1e-10 abstol=1e-11 vntol=1e-12 gmin=1e-15 itl1=1000 itl2=1000\n"
           ".control\n"
        << analyses << "write " << file_ << ".raw\nrusage\nquit\n.endc\n.end\n";
    out.close();
    process_ = popen(("ngspice -b " + file_ + ".cir 2>&1").c_str(), "r");
  }
  Ngspice(const Ngspice&) = delete;
  Ngspice& operator=(const Ngspice&) = delete;
  ~Ngspice() {
    finish();
    std::remove((file_ + ".cir").c_str());
    std::remove((file_ + ".raw").c_str());
  }
  struct Answer {
    std::vector<std::string> names;
    std::vector<std::vector<double>> rows;
    std::string said;  // on its output
  };
  Answer answer() {
    finish();
    Answer a;
    a.said = said_;
    std::ifstream raw(file_ + ".raw", std::ios::binary);
    std::string line;
    std::size_t variables = 0, points = 0;
    while (std::getline(raw, line) && line.rfind("Binary:", 0) != 0) {
      std::istringstream words(line);
      std::string first, second, third;
      words >> first >> second >> third;
      if (first == "No." && second == "Variables:") variables = std::stoul(third);
      if (first == "No." && second == "Points:") points = std::stoul(third);
      if (line.rfind('\t', 0) == 0 && line.size() > 1) a.names.push_back(second);
    }
    for (std::size_t i = 0; i < points && raw; ++i) {
      auto& row = a.rows.emplace_back(variables);
      raw.read(reinterpret_cast<char*>(row.data()), std::streamsize(variables * sizeof(double)));
    }
    return a;
  }

private:
  static int& count() {
    static int so_far = 0;
    return so_far;
  }
  void finish() {
    if (!process_) return;
    char line[400];
    while (std::fgets(line, sizeof line, process_)) said_ += line;
    pclose(process_);
    process_ = nullptr;
  }
  std::string file_, said_;
  FILE* process_ = nullptr;
};

}  // namespace housepower::wiring::test

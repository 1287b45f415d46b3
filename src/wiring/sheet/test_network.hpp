// SPDX-License-Identifier: Apache-2.0
// The van as a network for testing: every device, joint and item is a branch of its own, each part
// with its least, expected and greatest value; a reading is a sum of voltages between nodes.
#pragma once

#include "../inside.hpp"
#include "housepower/wiring/diagnosis.hpp"

namespace housepower::wiring::inside {

inline constexpr double most_joint = 2.0;  // times what the design counts with

/// Least, expected and greatest value of a part.
template <class Q> struct Spread { Q low{}, expected{}, high{}; };
template <class Q> Spread<Q> around(Q value, double share) {
  return {value * (1.0 - share), value, value * (1.0 + share)};
}

/// A stretch of a conductor as a branch of its own, which warms.
struct Copper {
  std::size_t branch;
  const tables::Conductor* conductor;
  Length length{};
  double parallel = 1.0;
  const AmpacityAnswer* heating;
};

/// What one pole of a run consists of, as branches in series.
enum class PieceIs { lug, copper, device, item };
struct PieceBranch {
  PieceIs is = PieceIs::lug;
  std::size_t branch, carrier;  // its own; that of the whole pole in the network before the split
  std::size_t run;
  design::Pole pole = design::Pole::outgoing;
  std::size_t number = 0;  // of the device or item in its list
};

/// A reading, the pairs of nodes whose voltages add up to it, and the branch that must carry a
/// current for it to be worth reading (−1: none).
struct Probe {
  Reading reading;
  std::vector<std::size_t> pairs;  // loads of no current
  int carrier = -1;
  std::vector<std::size_t> branches{};  // pieces whose voltages add up to it; none of a post
};

/// The van as a network for testing, with the spread of each part.
struct TestNetwork {
  const design::Design& d;
  const Assessment& a;
  const TestLoad& test;
  Wired wired;
  std::vector<Spread<Resistance>> branches{}, internal{};
  std::vector<Spread<Voltage>> open{};
  std::vector<Spread<Power>> loads{};
  std::vector<Copper> copper{};
  std::vector<Probe> probes{};
  Network whole{};  // before poles were split and probes added: one branch a pole
  std::vector<PieceBranch> pieces{};

  std::size_t add_branch(NodeId from, NodeId to, const Spread<Resistance>& r) {
    wired.network.branches.push_back({from, to, r.expected});
    branches.push_back(r);
    return branches.size() - 1;
  }
};

[[nodiscard]] TestNetwork test_network_of(const design::Design&, const Assessment&,
                                          const TestLoad&);

// ---- test_sheet.cpp

/// Sets every part as expected, conductors warmed by the currents of the test, and solves.
[[nodiscard]] Solution settle(TestNetwork&, Solver&);
/// The sheet of a network that is settled, its bands widened by that meter.
[[nodiscard]] TestAnswer sheet_of(TestNetwork&, Solver&, const OperatingPoint& expected,
                                  const Meter&);
/// The limit of error of a meter at a reading.
[[nodiscard]] Voltage error_of(const Meter&, Reading::Kind, Voltage);

}  // namespace housepower::wiring::inside

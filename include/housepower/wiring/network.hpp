// SPDX-License-Identifier: Apache-2.0
// The van's conductors as a d.c. network, and its operating point: the one solver of the house.
// Each post has two nodes, plus and minus, and each run two branches: shared and chassis returns,
// loops through parallel batteries and their take-off need no special case.
//
// Method: Newton from the open-circuit voltages on G·v + Σ b·i(bᵀv) = feeds, with the Jacobian
// J = G − Σ b·bᵀ·P/U² factorised LLᵀ. From there Newton is monotone, and the point where LLᵀ fails
// is exactly where no operating point exists; "J is positive definite" is the proof of stability.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "housepower/design/design.hpp"

namespace housepower::wiring {

struct NodeTag;
using NodeId = design::Id<NodeTag>;
/// A value for each node of a network.
template <class Value> using PerNode = design::List<Value, NodeTag>;

/// A conductor of one pole with its joints and items, or a link.
struct Branch {
  NodeId from, to;
  Resistance resistance{};
  SourceKind kind = SourceKind::published;
};
/// A battery or another source: an ideal voltage behind its resistance, which may be very small.
struct Feed {
  NodeId minus, plus;
  Voltage open_circuit{};
  Resistance internal{};
  SourceKind kind = SourceKind::published;
};
struct Load {
  NodeId plus, minus;
  design::Behaviour behaves = design::Behaviour::constant_power;
  Power power{};      // at `nominal`; negative: it charges
  Voltage nominal{};  // for constant current and resistive loads
  SourceKind kind = SourceKind::published;
};

/// Resistances below this count as this: an ideal conductor or source.
inline constexpr Resistance least_resistance = Resistance::from_value(1e-8);

struct Network {
  int nodes = 0;
  std::vector<Branch> branches;
  std::vector<Feed> feeds;
  std::vector<Load> loads;
};

/// One entry for each node, branch, feed and load, in the order of the network. Node potentials
/// are against the minus of the first feed of each connected part; what no feed reaches has zero.
/// A feed's current is positive where it delivers, a load's where it draws.
struct OperatingPoint {
  PerNode<Voltage> potential;
  std::vector<Current> branch, feed, load;
  Current residual{};  // largest error of a node's current balance
  int iterations = 0;
};
/// No operating point. The load that is farthest beyond what its way can carry, with what it asks
/// and the most that it could have while the others run.
struct Collapse {
  int load = 0;
  Power asked{}, most{};
};
/// Our own limits: more nodes than `largest_network`, or no convergence.
struct NotSolved {
  std::string why;
};

using Solution = std::variant<OperatingPoint, Collapse, NotSolved>;

inline constexpr int largest_network = 20000;  // nodes

/// `behave`: as each load says; it collapses where it asks more than its way can carry.
/// `currents`: every load draws power / nominal, whatever its voltage: linear, so it always exists;
/// a load that no feed reaches is left out.
enum class LoadsAs { behave, currents };

[[nodiscard]] Solution solve(const Network&, LoadsAs = LoadsAs::behave);

/// Resistance seen between two nodes with every feed's voltage at zero, loads left out; nothing
/// where no feed reaches them. The prospective current at a post is open-circuit voltage / this.
struct SeenFrom {
  Resistance resistance{};
  Voltage open_circuit{};
};
using NodePair = std::pair<NodeId, NodeId>;  // plus, minus

/// What the currents do to the network, such as warming its conductors: called between the steps of
/// a solution with the branches' currents so far. True while it still changes something.
using Adjust = std::function<bool(const std::vector<Current>& branch, Network&)>;

/// Many operating points of one shape: nodes and ends of everything stay, resistances, voltages and
/// loads may change. The order of elimination is found once, and each solution starts from the last.
class Solver {
public:
  explicit Solver(const Network& shape);
  Solver(Solver&&) noexcept;
  Solver& operator=(Solver&&) noexcept;
  ~Solver();
  [[nodiscard]] Solution solve(const Network&, LoadsAs = LoadsAs::behave);
  /// Together with what the currents do to the network.
  [[nodiscard]] Solution solve(Network&, LoadsAs, const Adjust&);
  /// A feed reaches both nodes.
  [[nodiscard]] bool fed(NodeId plus, NodeId minus) const;

private:
  friend std::vector<std::optional<SeenFrom>> seen_from(const Network&,
                                                        const std::vector<NodePair>&);
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

[[nodiscard]] std::optional<SeenFrom> seen_from(const Network&, NodeId plus, NodeId minus);
/// The same for many pairs with one factorisation.
[[nodiscard]] std::vector<std::optional<SeenFrom>> seen_from(const Network&,
                                                             const std::vector<NodePair>&);

}  // namespace housepower::wiring

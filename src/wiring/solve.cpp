// SPDX-License-Identifier: Apache-2.0
// The one solver: typed at its door, plain doubles within. The only home of Eigen.
//
// Newton from the open-circuit voltages. Unknowns are numbered in the order of elimination once for
// a shape; a step that shrinks tenfold reuses the last factorisation (a chord): it approaches from
// the same side, and settles only where the matrix is positive definite. Where LLᵀ fails the conductance matrix of the network with its loads is not
// positive definite: there is no stable operating point.
#include <algorithm>
#include <cmath>
#include <numeric>

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCholesky>

#include "housepower/wiring/network.hpp"

namespace housepower::wiring {
namespace {

using Matrix = Eigen::SparseMatrix<double>;
using Vector = Eigen::VectorXd;

constexpr int none = -1;
constexpr double closeness = 1e-11;  // of a step against the largest voltage
constexpr int most_steps = 200;

/// Two nodes as unknowns, and where their conductance stands in the matrix.
struct Ends {
  int a = none, b = none;  // unknowns; none: a reference node or one that no feed reaches
  int aa = none, bb = none, ab = none;
  bool live = false;  // a feed reaches both
};

struct Groups {  // nodes that belong together
  std::vector<int> parent;
  explicit Groups(int n) : parent(std::size_t(n)) { std::iota(parent.begin(), parent.end(), 0); }
  int of(int i) {
    while (parent[std::size_t(i)] != i)
      i = parent[std::size_t(i)] = parent[std::size_t(parent[std::size_t(i)])];
    return i;
  }
  void join(int a, int b) { parent[std::size_t(of(a))] = of(b); }
};

double conductance(Resistance r) { return 1.0 / std::max(r, least_resistance).value(); }

}  // namespace

struct Solver::Inside {
  int nodes = 0;
  std::vector<int> part;     // of each node; none: no feed reaches it
  std::vector<int> unknown;  // of each node
  std::vector<Ends> branches, feeds, loads;
  Matrix matrix;  // upper triangle
  Eigen::SimplicialLLT<Matrix, Eigen::Upper, Eigen::NaturalOrdering<int>> factor;
  Vector fixed, diagonal, open, last;
  bool warm = false;  // `last` is a solution, `factor` is of a matrix near it

  explicit Inside(const Network& n) : nodes(n.nodes) {
    number(n);
    const auto ends_of = [&](NodeId x, NodeId y) {
      Ends e;
      e.a = unknown[std::size_t(x.index)];
      e.b = unknown[std::size_t(y.index)];
      e.live = fed(x, y);
      return e;
    };
    for (const auto& b : n.branches) branches.push_back(ends_of(b.from, b.to));
    for (const auto& f : n.feeds) feeds.push_back(ends_of(f.plus, f.minus));
    for (const auto& l : n.loads) loads.push_back(ends_of(l.plus, l.minus));
    order();
  }

  bool fed(NodeId x, NodeId y) const {
    const int p = part[std::size_t(x.index)];
    return p != none && p == part[std::size_t(y.index)];
  }

  /// A reference for each part that has a feed; all its other nodes are unknown.
  void number(const Network& n) {
    Groups groups(nodes);
    for (const auto& b : n.branches) groups.join(b.from.index, b.to.index);
    for (const auto& f : n.feeds) groups.join(f.minus.index, f.plus.index);
    std::vector<int> reference(std::size_t(nodes), none);
    for (const auto& f : n.feeds) {
      int& r = reference[std::size_t(groups.of(f.minus.index))];
      if (r == none) r = f.minus.index;
    }
    part.assign(std::size_t(nodes), none);
    unknown.assign(std::size_t(nodes), none);
    int count = 0;
    for (int i = 0; i < nodes; ++i) {
      const int group = groups.of(i);
      if (reference[std::size_t(group)] == none) continue;
      part[std::size_t(i)] = group;
      if (reference[std::size_t(group)] != i) unknown[std::size_t(i)] = count++;
    }
    fixed = diagonal = open = last = Vector::Zero(count);
  }

  template <class Visit> void each_element(Visit visit) {
    for (auto* list : {&branches, &feeds, &loads})
      for (Ends& e : *list)
        if (e.live) visit(e);
  }

  /// Renumbers in the order of elimination and finds every element's places in the matrix.
  void order() {
    const int count = int(fixed.size());
    if (count == 0) return;
    std::vector<Eigen::Triplet<double>> entries;
    const auto all_entries = [&] {
      entries.clear();
      for (int i = 0; i < count; ++i) entries.emplace_back(i, i, 1.0);
      each_element([&](Ends& e) {
        if (e.a == none || e.b == none || e.a == e.b) return;
        entries.emplace_back(std::min(e.a, e.b), std::max(e.a, e.b), 1.0);
      });
      matrix.resize(count, count);
      matrix.setFromTriplets(entries.begin(), entries.end());
    };
    all_entries();
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> elimination;
    Matrix whole = matrix.selfadjointView<Eigen::Upper>();
    Eigen::AMDOrdering<int>()(whole, elimination);  // old number of each new one
    std::vector<int> renumbered(std::size_t(count), 0);
    for (int i = 0; i < count; ++i) renumbered[std::size_t(elimination.indices()[i])] = i;
    const auto renumber = [&](int& i) {
      if (i != none) i = renumbered[std::size_t(i)];
    };
    for (int& i : unknown) renumber(i);
    for (auto* list : {&branches, &feeds, &loads})
      for (Ends& e : *list) {
        renumber(e.a);
        renumber(e.b);
      }
    all_entries();
    const auto place = [&](int i, int j) {
      if (i == none || j == none) return none;
      const double* value = &matrix.coeffRef(std::min(i, j), std::max(i, j));
      return int(value - matrix.valuePtr());
    };
    each_element([&](Ends& e) {
      e.aa = place(e.a, e.a);
      e.bb = place(e.b, e.b);
      e.ab = e.a == e.b ? none : place(e.a, e.b);
    });
    factor.analyzePattern(matrix);
  }

  void add(const Ends& e, double g) {
    if (e.aa != none) matrix.valuePtr()[e.aa] += g;
    if (e.bb != none) matrix.valuePtr()[e.bb] += g;
    if (e.ab != none) matrix.valuePtr()[e.ab] -= g;
  }
  static void draw(Vector& from, const Ends& e,
                   double current) {  // from a to b through the element
    if (e.a != none) from[e.a] += current;
    if (e.b != none) from[e.b] -= current;
  }
  static double across(const Vector& v, const Ends& e) {
    return (e.a == none ? 0.0 : v[e.a]) - (e.b == none ? 0.0 : v[e.b]);
  }

  void add_conductors(const Network& n) {
    std::fill(matrix.valuePtr(), matrix.valuePtr() + matrix.nonZeros(), 0.0);
    for (std::size_t i = 0; i < branches.size(); ++i)
      if (branches[i].live && branches[i].a != branches[i].b)
        add(branches[i], conductance(n.branches[i].resistance));
    for (std::size_t i = 0; i < feeds.size(); ++i) add(feeds[i], conductance(n.feeds[i].internal));
  }
  [[nodiscard]] bool factorised() {
    factor.factorize(matrix);
    return factor.info() == Eigen::Success;
  }

  /// Current of a load at a voltage, and its slope.
  struct Drawn {
    double current, slope;
  };
  static Drawn drawn(const Load& l, double u, LoadsAs as) {
    const double p = l.power.value();
    if (p == 0.0) return {0.0, 0.0};
    const double nominal = l.nominal.value();
    if (as == LoadsAs::currents || l.behaves == design::Behaviour::constant_current)
      return {p / nominal, 0.0};
    if (l.behaves == design::Behaviour::resistive) {
      const double g = p / (nominal * nominal);
      return {g * u, g};
    }
    return {p / u, -p / (u * u)};
  }

  /// What the nodes' currents miss of zero.
  Vector imbalance(const Network& n, const Vector& v, LoadsAs as) const {
    Vector f = Vector::Zero(v.size());
    for (std::size_t i = 0; i < branches.size(); ++i)
      if (branches[i].live)
        draw(f, branches[i], across(v, branches[i]) * conductance(n.branches[i].resistance));
    for (std::size_t i = 0; i < feeds.size(); ++i)
      draw(f, feeds[i],
           (across(v, feeds[i]) - n.feeds[i].open_circuit.value()) *
               conductance(n.feeds[i].internal));
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (loads[i].live) draw(f, loads[i], drawn(n.loads[i], across(v, loads[i]), as).current);
    return f;
  }
  bool factorise_at(const Network& n, const Vector& v, LoadsAs as) {
    add_conductors(n);
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (loads[i].live) add(loads[i], drawn(n.loads[i], across(v, loads[i]), as).slope);
    return factorised();
  }
  [[nodiscard]] bool starved(const Network& n, const Vector& v, LoadsAs as) const {
    if (as == LoadsAs::currents) return false;
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (n.loads[i].power.value() > 0.0 && !(across(v, loads[i]) > 0.0)) return true;
    return false;
  }

  struct Task {
    Network& network;
    LoadsAs as;
    const Adjust* adjust;
  };
  enum class Outcome { solved, collapsed, slow };
  /// Newton from v, which is the solution in the end. The first step is `fresh` or a chord.
  Outcome newton(Task& t, Vector& v, bool fresh, int& steps) {
    const auto& [n, as, adjust] = t;
    if (v.size() == 0) return Outcome::solved;
    double before = 0;
    for (steps = 1; steps <= most_steps; ++steps) {
      if (starved(n, v, as)) return Outcome::collapsed;
      if (fresh && !factorise_at(n, v, as)) return Outcome::collapsed;
      const Vector step = factor.solve(imbalance(n, v, as));
      v -= step;
      const double size = step.lpNorm<Eigen::Infinity>();
      if (!std::isfinite(size)) return Outcome::slow;
      const bool moving = adjust && (*adjust)(branch_currents(n, v), n);
      if (!moving && size <= closeness * std::max(1.0, v.lpNorm<Eigen::Infinity>()))
        return starved(n, v, as) ? Outcome::collapsed : Outcome::solved;
      fresh = steps == 1 ? fresh : size > 0.1 * before;
      before = size;
    }
    return Outcome::slow;
  }
  bool open_circuit(const Network& n) {
    if (fixed.size() == 0) return true;
    add_conductors(n);
    if (!factorised()) return false;
    Vector sources = Vector::Zero(fixed.size());
    for (std::size_t i = 0; i < feeds.size(); ++i)
      draw(sources, feeds[i], n.feeds[i].open_circuit.value() * conductance(n.feeds[i].internal));
    open = factor.solve(sources);
    return true;
  }
  Outcome solved(Task& t, Vector& v, int& steps) {
    if (warm) {
      v = last;
      if (newton(t, v, false, steps) == Outcome::solved) {
        last = v;
        return Outcome::solved;
      }
    }
    warm = false;
    if (t.adjust)
      (*t.adjust)(std::vector<Current>(branches.size()), t.network);  // nothing flows yet
    if (!open_circuit(t.network)) return Outcome::slow;
    v = open;
    const Outcome outcome = newton(t, v, true, steps);
    warm = outcome == Outcome::solved;
    if (warm) last = v;
    return outcome;
  }

  std::vector<Current> branch_currents(const Network& n, const Vector& v) const {
    std::vector<Current> all(branches.size());
    for (std::size_t i = 0; i < branches.size(); ++i)
      if (branches[i].live)
        all[i] =
            Current::from_value(across(v, branches[i]) * conductance(n.branches[i].resistance));
    return all;
  }
  OperatingPoint point(const Network& n, const Vector& v, LoadsAs as, int steps) const {
    OperatingPoint p;
    p.iterations = steps;
    p.potential.reserve(unknown.size());
    for (int u : unknown) p.potential.push_back(Voltage::from_value(u == none ? 0.0 : v[u]));
    const auto amperes = [](double x) { return Current::from_value(x); };
    p.load.reserve(loads.size());
    p.branch = branch_currents(n, v);
    for (std::size_t i = 0; i < feeds.size(); ++i)
      p.feed.push_back(amperes((n.feeds[i].open_circuit.value() - across(v, feeds[i])) *
                               conductance(n.feeds[i].internal)));
    for (std::size_t i = 0; i < loads.size(); ++i)
      p.load.push_back(
          amperes(loads[i].live ? drawn(n.loads[i], across(v, loads[i]), as).current : 0.0));
    if (v.size() > 0) p.residual = amperes(imbalance(n, v, as).lpNorm<Eigen::Infinity>());
    return p;
  }

  /// The load that asks most of what its way could carry to it alone.
  int farthest_beyond(const Network& n) {
    int worst = 0;
    double beyond = -1;
    if (!open_circuit(n)) return worst;
    for (std::size_t i = 0; i < loads.size(); ++i) {
      const double p = n.loads[i].power.value();
      if (p <= 0.0 || !loads[i].live) continue;
      const auto seen = seen_through(loads[i]);
      const double ratio =
          4.0 * seen.resistance.value() * p / std::pow(seen.open_circuit.value(), 2);
      if (ratio > beyond) {
        beyond = ratio;
        worst = int(i);
      }
    }
    return worst;
  }
  SeenFrom seen_through(const Ends& e) const {  // after open_circuit
    Vector unit = Vector::Zero(fixed.size());
    draw(unit, e, 1.0);
    const Vector v = factor.solve(unit);
    return {Resistance::from_value(across(v, e)), Voltage::from_value(across(open, e))};
  }
  Collapse collapse(Network n, LoadsAs as) {
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (!loads[i].live && n.loads[i].power.value() > 0.0) return {int(i), n.loads[i].power, {}};
    const int worst = farthest_beyond(n);
    Power& power = n.loads[std::size_t(worst)].power;
    Collapse found{worst, power, {}};
    Vector v;
    Task task{n, as, nullptr};
    int steps = 0;
    double low = 0, high = power.value();
    for (int i = 0; i < 40; ++i) {
      power = Power::from_value(0.5 * (low + high));
      (solved(task, v, steps) == Outcome::solved ? low : high) = power.value();
    }
    found.most = Power::from_value(low);
    return found;
  }
  [[nodiscard]] bool dead_load(const Network& n, LoadsAs as) const {
    if (as == LoadsAs::currents) return false;
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (!loads[i].live && n.loads[i].power.value() > 0.0) return true;
    return false;
  }
};

Solver::Solver(const Network& shape)
    : inside_(shape.nodes > largest_network ? nullptr : std::make_unique<Inside>(shape)) {}
Solver::Solver(Solver&&) noexcept = default;
Solver& Solver::operator=(Solver&&) noexcept = default;
Solver::~Solver() = default;

bool Solver::fed(NodeId plus, NodeId minus) const { return inside_ && inside_->fed(plus, minus); }

Solution Solver::solve(const Network& n, LoadsAs as) {
  Network own = n;
  return solve(own, as, {});
}

Solution Solver::solve(Network& n, LoadsAs as, const Adjust& adjust) {
  if (!inside_)
    return NotSolved{"the network has more than " + std::to_string(largest_network) + " nodes"};
  if (inside_->dead_load(n, as)) return inside_->collapse(n, as);
  Inside::Task task{n, as, adjust ? &adjust : nullptr};
  Vector v;
  int steps = 0;
  switch (inside_->solved(task, v, steps)) {
  case Inside::Outcome::solved: return inside_->point(n, v, as, steps);
  case Inside::Outcome::collapsed: return inside_->collapse(n, as);
  case Inside::Outcome::slow: break;
  }
  return NotSolved{"no convergence"};
}

Solution solve(const Network& n, LoadsAs as) { return Solver(n).solve(n, as); }

std::vector<std::optional<SeenFrom>> seen_from(const Network& n,
                                               const std::vector<NodePair>& pairs) {
  std::vector<std::optional<SeenFrom>> all(pairs.size());
  if (n.nodes > largest_network) return all;
  Network without = n;
  without.loads.clear();
  for (const auto& [plus, minus] : pairs) without.loads.push_back({plus, minus});
  Solver::Inside inside(without);
  if (!inside.open_circuit(without)) return all;
  for (std::size_t i = 0; i < pairs.size(); ++i)
    if (inside.loads[i].live) all[i] = inside.seen_through(inside.loads[i]);
  return all;
}

std::optional<SeenFrom> seen_from(const Network& n, NodeId plus, NodeId minus) {
  return seen_from(n, std::vector<NodePair>{{plus, minus}}).front();
}

}  // namespace housepower::wiring

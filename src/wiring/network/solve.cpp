// SPDX-License-Identifier: Apache-2.0
// The one solver: typed at its door, plain doubles within. The only home of Eigen.
//
// Newton from the open-circuit voltages. Unknowns are numbered in the order of elimination once for
// a shape; a step that shrinks tenfold reuses the last factorisation (a chord): it approaches from
// the same side, and settles only where the matrix is positive definite. Where LLᵀ fails the
// conductance matrix of the network with its loads is not positive definite: there is no stable
// operating point.
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCholesky>

#include "housepower/wiring/network.hpp"

namespace housepower::wiring {
namespace {

using Matrix = Eigen::SparseMatrix<double>;
using Vector = Eigen::VectorXd;

constexpr int no_node = -1;
constexpr double closeness = 1e-11;  // of a step against the largest voltage
constexpr int most_steps = 200;

/// Two nodes as unknowns, and where their conductance stands in the matrix.
struct Ends {
  int a = no_node, b = no_node;  // unknowns; none: a reference node or one that no feed reaches
  int aa = no_node, bb = no_node, ab = no_node;
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
  PerNode<int> part;  // none: no feed reaches it
  PerNode<int> unknown;
  std::vector<Ends> branches, feeds, loads;
  Matrix matrix;  // upper triangle
  Eigen::SimplicialLLT<Matrix, Eigen::Upper, Eigen::NaturalOrdering<int>> factor;
  int count = 0;  // of unknowns
  Vector open, last, work;
  bool warm = false;  // `last` is a solution, `factor` is of a matrix near it

  explicit Inside(const Network& n) : nodes(n.nodes) {
    number(n);
    const auto ends_of = [&](NodeId x, NodeId y) {
      Ends e;
      e.a = unknown[x];
      e.b = unknown[y];
      e.live = fed(x, y);
      return e;
    };
    for (const auto& b : n.branches) branches.push_back(ends_of(b.from, b.to));
    for (const auto& f : n.feeds) feeds.push_back(ends_of(f.plus, f.minus));
    for (const auto& l : n.loads) loads.push_back(ends_of(l.plus, l.minus));
    order();
  }

  bool fed(NodeId x, NodeId y) const {
    const int p = part[x];
    return p != no_node && p == part[y];
  }

  /// A reference for each part that has a feed; all its other nodes are unknown.
  void number(const Network& n) {
    Groups groups(nodes);
    for (const auto& b : n.branches) groups.join(b.from.index, b.to.index);
    for (const auto& f : n.feeds) groups.join(f.minus.index, f.plus.index);
    std::vector<int> reference(std::size_t(nodes), no_node);
    for (const auto& f : n.feeds) {
      int& r = reference[std::size_t(groups.of(f.minus.index))];
      if (r == no_node) r = f.minus.index;
    }
    part.assign(std::size_t(nodes), no_node);
    unknown.assign(std::size_t(nodes), no_node);
    for (int i = 0; i < nodes; ++i) {
      const int group = groups.of(i);
      if (reference[std::size_t(group)] == no_node) continue;
      part[i] = group;
      if (reference[std::size_t(group)] != i) unknown[i] = count++;
    }
    open = last = work = Vector::Zero(count);
  }

  template <class Visit> void each_element(Visit visit) {
    for (auto* list : {&branches, &feeds, &loads})
      for (Ends& e : *list)
        if (e.live) visit(e);
  }

  /// Renumbers in the order of elimination and finds every element's places in the matrix.
  void order() {
    if (count == 0) return;
    std::vector<Eigen::Triplet<double>> entries;
    const auto all_entries = [&] {
      entries.clear();
      for (int i = 0; i < count; ++i) entries.emplace_back(i, i, 1.0);
      each_element([&](Ends& e) {
        if (e.a == no_node || e.b == no_node || e.a == e.b) return;
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
      if (i != no_node) i = renumbered[std::size_t(i)];
    };
    for (int& i : unknown) renumber(i);
    for (auto* list : {&branches, &feeds, &loads})
      for (Ends& e : *list) {
        renumber(e.a);
        renumber(e.b);
      }
    all_entries();
    const auto place = [&](int i, int j) {
      if (i == no_node || j == no_node) return no_node;
      const double* value = &matrix.coeffRef(std::min(i, j), std::max(i, j));
      return int(value - matrix.valuePtr());
    };
    each_element([&](Ends& e) {
      e.aa = place(e.a, e.a);
      e.bb = place(e.b, e.b);
      e.ab = e.a == e.b ? no_node : place(e.a, e.b);
    });
    factor.analyzePattern(matrix);
  }

  void add(const Ends& e, double g) {
    if (e.aa != no_node) matrix.valuePtr()[e.aa] += g;
    if (e.bb != no_node) matrix.valuePtr()[e.bb] += g;
    if (e.ab != no_node) matrix.valuePtr()[e.ab] -= g;
  }
  static void draw(Vector& from, const Ends& e,
                   double current) {  // from a to b through the element
    if (e.a != no_node) from[e.a] += current;
    if (e.b != no_node) from[e.b] -= current;
  }
  static double across(const Vector& v, const Ends& e) {
    return (e.a == no_node ? 0.0 : v[e.a]) - (e.b == no_node ? 0.0 : v[e.b]);
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

  /// What the nodes' currents miss of zero, into `f`.
  void imbalance(const Network& n, const Vector& v, LoadsAs as, Vector& f) const {
    f.setZero(v.size());
    for (std::size_t i = 0; i < branches.size(); ++i)
      if (branches[i].live)
        draw(f, branches[i], across(v, branches[i]) * conductance(n.branches[i].resistance));
    for (std::size_t i = 0; i < feeds.size(); ++i)
      draw(f, feeds[i],
           (across(v, feeds[i]) - n.feeds[i].open_circuit.value()) *
               conductance(n.feeds[i].internal));
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (loads[i].live) draw(f, loads[i], drawn(n.loads[i], across(v, loads[i]), as).current);
  }
  /// Solves in place with the last factorisation: without the copies of `factor.solve`.
  void solve_factorised(Vector& x) const {
    factor.matrixL().solveInPlace(x);
    factor.matrixU().solveInPlace(x);
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
    Vector step;
    for (steps = 1; steps <= most_steps; ++steps) {
      if (starved(n, v, as)) return Outcome::collapsed;
      if (fresh && !factorise_at(n, v, as)) return Outcome::collapsed;
      imbalance(n, v, as, step);
      solve_factorised(step);
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
    if (count == 0) return true;
    add_conductors(n);
    if (!factorised()) return false;
    Vector sources = Vector::Zero(count);
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
    for (int u : unknown) p.potential.push_back(Voltage::from_value(u == no_node ? 0.0 : v[u]));
    const auto amperes = [](double x) { return Current::from_value(x); };
    p.load.reserve(loads.size());
    p.feed.reserve(feeds.size());
    p.branch = branch_currents(n, v);
    for (std::size_t i = 0; i < feeds.size(); ++i)
      p.feed.push_back(amperes((n.feeds[i].open_circuit.value() - across(v, feeds[i])) *
                               conductance(n.feeds[i].internal)));
    for (std::size_t i = 0; i < loads.size(); ++i)
      p.load.push_back(
          amperes(loads[i].live ? drawn(n.loads[i], across(v, loads[i]), as).current : 0.0));
    if (v.size() > 0) {
      Vector missing;
      imbalance(n, v, as, missing);
      p.residual = amperes(missing.lpNorm<Eigen::Infinity>());
    }
    return p;
  }

  /// Seen between the ends of an element, with the network as it was factorised: ‖L⁻¹·b‖² with
  /// +1 and −1 in b. Only the columns on their two ways up the elimination tree have a part in it.
  double resistance_through(const Ends& e) {
    const Matrix& l = factor.matrixL().nestedExpression();
    draw(work, e, 1.0);
    double squares = 0;
    for (int a = e.a, b = e.b; a != no_node || b != no_node;) {
      const int j = a == no_node ? b : b == no_node ? a : std::min(a, b);
      Matrix::InnerIterator entry(l, j);  // the diagonal first, then the next column of the way
      const double x = std::exchange(work[j], 0.0) / entry.value();
      squares += x * x;
      ++entry;
      const int next = entry ? int(entry.row()) : no_node;
      for (; entry; ++entry) work[entry.row()] -= x * entry.value();
      if (a == j) a = next;
      if (b == j) b = next;
    }
    return squares;
  }
  SeenFrom seen_through(const Ends& e) {  // after open_circuit
    return {Resistance::from_value(resistance_through(e)), Voltage::from_value(across(open, e))};
  }

  /// Of each part of the network the load that asks most of what its way could carry to it alone;
  /// the worst first. A resistive load asks no more than it gets.
  std::vector<int> farthest_beyond(const Network& n) {
    std::map<int, std::pair<double, int>> worst;  // by part
    const bool solvable = open_circuit(n);
    for (std::size_t i = 0; i < loads.size() && solvable; ++i) {
      const Load& l = n.loads[i];
      const double p = l.power.value();
      if (p <= 0.0 || !loads[i].live || l.behaves == design::Behaviour::resistive) continue;
      const auto seen = seen_through(loads[i]);
      const double r = seen.resistance.value(), u = seen.open_circuit.value();
      const bool constant = l.behaves == design::Behaviour::constant_current;
      const double ratio = constant ? r * p / l.nominal.value() / u : 4.0 * r * p / (u * u);
      auto& found = worst.try_emplace(part[l.plus], -1.0, int(i)).first->second;
      found = std::max(found, std::pair(ratio, int(i)));
    }
    std::vector<std::pair<double, int>> sorted;
    for (const auto& entry : worst) sorted.push_back(entry.second);
    std::sort(sorted.rbegin(), sorted.rend());
    std::vector<int> all;
    for (const auto& entry : sorted) all.push_back(entry.second);
    return all;
  }
  /// The most that a load could have while the others run; nothing where they do not even without
  /// it. It is moved by its current: its power is largest where its voltage is the current times
  /// the resistance seen from it, others included; a constant current ends with its voltage.
  std::optional<Power> most_of(Network n, LoadsAs as, int which) {
    Load& load = n.loads[std::size_t(which)];
    const Ends& ends = loads[std::size_t(which)];
    const bool power = load.behaves == design::Behaviour::constant_power;
    const Voltage nominal = std::exchange(load.nominal, 1.0 * volt);
    load.behaves = design::Behaviour::constant_current;
    Task task{n, as, nullptr};
    Vector v;
    int steps = 0;
    double u = 0, r = 0;
    const auto room = [&](double i) {  // in volts; beyond the end negative
      load.power = Power::from_value(i);
      if (solved(task, v, steps) != Outcome::solved || !factorise_at(n, v, as)) return -HUGE_VAL;
      u = across(v, ends);
      r = resistance_through(ends);
      return power ? u - i * r : u;
    };
    double low = 0, at_low = room(low), most = 0;
    if (!(at_low > 0.0) || !(r > 0.0)) return std::nullopt;
    double high = u / r, at_high = -HUGE_VAL;  // the short circuit: beyond the end
    for (int i = 0, side = 0; i < 100 && high - low > 1e-12 * high; ++i) {
      const double straight = low + (high - low) * at_low / (at_low - at_high);
      const double next = straight > low && straight < high ? straight : 0.5 * (low + high);
      const double found = room(next);
      const bool bears = found >= -1e-12 * u;  // the end itself is still borne
      if (bears) most = power ? u * next : next * nominal.value();
      if (std::abs(found) <= 1e-12 * u) break;
      (bears ? low : high) = next;
      (bears ? at_low : at_high) = found;
      if (side == (bears ? 1 : -1)) (bears ? at_high : at_low) *= 0.5;  // else one end never moves
      side = bears ? 1 : -1;
    }
    return Power::from_value(most);
  }
  Collapse collapse(const Network& n, LoadsAs as) {
    for (std::size_t i = 0; i < loads.size(); ++i)
      if (!loads[i].live && n.loads[i].power.value() > 0.0) return {int(i), n.loads[i].power, {}};
    const auto worst = farthest_beyond(n);
    for (const int which : worst)
      if (const auto most = most_of(n, as, which))
        return {which, n.loads[std::size_t(which)].power, *most};
    const int first = worst.empty() ? 0 : worst.front();
    return {first, n.loads[std::size_t(first)].power, {}};
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

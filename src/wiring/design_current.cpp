// SPDX-License-Identifier: Apache-2.0
// Ways from the sources, and the largest steady currents of the runs: linear, so superposed by the
// network itself, through loops and shared returns alike.
#include <cmath>
#include <deque>
#include <numeric>

#include "inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

/// Runs to each post on one side of the network, breadth first from a source.
struct Tree {
  struct Step {
    int run = -1, before = -1;
    bool along = true;
  };
  std::vector<Step> steps;  // by post
  std::vector<bool> reached;
};

Tree tree_from(const design::Design& d, PostId source, bool plus) {
  Tree tree{std::vector<Tree::Step>(d->posts.size()), std::vector<bool>(d->posts.size(), false)};
  std::deque<int> queue{source.index};
  tree.reached[std::size_t(source.index)] = true;
  while (!queue.empty()) {
    const int here = queue.front();
    queue.pop_front();
    for (std::size_t i = 0; i < d->runs.size(); ++i) {
      const Run& run = d->runs[i];
      const int near = plus ? run.from.index : run.back.to.index, far = run.to.index;
      if (here != near && here != far) continue;
      const int next = here == near ? far : near;
      if (tree.reached[std::size_t(next)]) continue;
      tree.reached[std::size_t(next)] = true;
      tree.steps[std::size_t(next)] = {int(i), here, here == near};
      queue.push_back(next);
    }
  }
  return tree;
}

std::vector<Way::Part> parts_to(const Tree& tree, std::size_t post) {
  std::vector<Way::Part> parts;
  for (auto step = tree.steps[post]; step.run >= 0; step = tree.steps[std::size_t(step.before)])
    parts.insert(parts.begin(), {RunId{step.run}, step.along});
  return parts;
}

/// What a set of consumers does to each run.
struct SetCurrents {
  std::vector<Current> outgoing, back;
};
SetCurrents currents_of(Solvable& s, const design::Design& d, LoadsAs as) {
  SetCurrents found{std::vector<Current>(d->runs.size()), std::vector<Current>(d->runs.size())};
  const auto solution = s.solver.solve(s.wired.network, as);
  const auto* point = std::get_if<OperatingPoint>(&solution);
  if (!point) return found;
  for (std::size_t i = 0; i < d->runs.size(); ++i) {
    found.outgoing[i] = at(point->branch, s.wired.runs[i].outgoing);
    found.back[i] = at(point->branch, s.wired.runs[i].back);
  }
  return found;
}

Current magnitude(Current i) { return Current::from_value(std::abs(i.value())); }

/// What adds up to the current of a run, where it does.
std::vector<Term<Current>> parts_of(const design::Design& d, const std::vector<Consumer>& beyond,
                                    const std::vector<Drawn>& set, Current total) {
  std::vector<Term<Current>> parts;
  Current added{};
  const double sign = total.value() < 0.0 ? -1.0 : 1.0;
  for (const Drawn& drawn : set) {
    const bool here = std::any_of(beyond.begin(), beyond.end(), [&](const Consumer& c) {
      return c.kind == drawn.consumer.kind && c.index == drawn.consumer.index;
    });
    if (!here || drawn.current.value() == 0.0) continue;
    parts.push_back({name_of(d, drawn.consumer), sign * drawn.current});
    added += drawn.current;
  }
  const bool adds_up =
      std::abs((added - total).value()) <= 1e-6 * std::max(1.0, std::abs(total.value()));
  return adds_up ? parts : std::vector<Term<Current>>{};
}

/// Where no source is drawn (a tow plug without its vehicle) each run of the part may carry it all.
void add_unfed(const design::Design& d, const Solvable& s, const std::vector<int>& group,
               const std::vector<Drawn>& drawn, SetCurrents& currents) {
  for (const auto& [consumer, current] : drawn) {
    const Load& load = at(s.wired.network.loads, load_of(s.wired, consumer));
    if (s.solver.fed(load.plus, load.minus)) continue;
    const int part = at(group, post_of(d, consumer).index);
    for (std::size_t i = 0; i < d->runs.size(); ++i) {
      if (at(group, d->runs[i].from.index) != part) continue;
      currents.outgoing[i] += magnitude(current);
      currents.back[i] += magnitude(current);
    }
  }
}

/// Arrays of which the short-circuit current is not stated leave the runs that they reach unknown.
void mark_unknown(const design::Design& d, const std::vector<int>& group,
                  std::vector<DesignCurrent>& all) {
  for (const Array& array : d->arrays)
    for (std::size_t i = 0; i < all.size() && !array.module.isc; ++i)
      if (at(group, d->runs[i].from.index) == at(group, array.post.index))
        all[i].why_unknown = "the short-circuit current of \"" + array.name + "\" is not stated";
}

}  // namespace

std::vector<Way> inside::ways_from(const design::Design& d, PostId source) {
  std::vector<Way> ways(d->posts.size());
  const Tree plus = tree_from(d, source, true), minus = tree_from(d, source, false);
  for (std::size_t i = 0; i < ways.size(); ++i)
    if (plus.reached[i] && minus.reached[i])
      ways[i] = {source, parts_to(plus, i), parts_to(minus, i)};
  return ways;
}

std::vector<Way> inside::ways_of(const design::Design& d) {
  std::vector<Way> ways(d->posts.size());
  std::vector<PostId> sources;
  if (d->bank) sources.push_back(d->bank->post);
  for (const auto& feed : d->feeds) sources.push_back(feed.post);
  for (const PostId source : sources) {
    std::vector<Way> found = ways_from(d, source);
    for (std::size_t i = 0; i < ways.size(); ++i)
      if (!ways[i].source) ways[i] = std::move(found[i]);
  }
  // what only an array reaches: its runs lead towards the controller
  for (const auto& array : d->arrays) {
    if (ways[std::size_t(array.post.index)].source) continue;
    const PostId in = at(d->controllers, array.controller.index).in;
    const Tree plus = tree_from(d, in, true), minus = tree_from(d, in, false);
    const auto post = std::size_t(array.post.index);
    if (plus.reached[post] && minus.reached[post])
      ways[post] = {std::nullopt, parts_to(plus, post), parts_to(minus, post)};
  }
  return ways;
}

std::vector<int> inside::groups_of(const design::Design& d) {
  std::vector<int> group(d->posts.size());
  std::iota(group.begin(), group.end(), 0);
  for (bool changed = true; changed;) {
    changed = false;
    for (const Run& run : d->runs) {
      int &a = at(group, run.from.index), &b = at(group, run.to.index);
      if (a == b) continue;
      a = b = std::min(a, b);
      changed = true;
    }
  }
  return group;
}

std::vector<std::vector<Consumer>> inside::beyond_runs(const design::Design& d,
                                                       const std::vector<Way>& ways) {
  std::vector<std::vector<Consumer>> beyond(d->runs.size());
  auto all = drawing(d);
  for (const Consumer& c : charging(d)) all.push_back(c);
  for (const Consumer& c : all)
    for (const auto& part : at(ways, post_of(d, c).index).outgoing)
      at(beyond, part.run.index).push_back(c);
  return beyond;
}

std::vector<DesignCurrent> inside::design_currents(const design::Design& d, Solvable& s,
                                                   const std::vector<Way>& ways) {
  struct Set {
    std::string name;
    std::vector<Consumer> members;
  };
  std::vector<Set> sets{{"everything-on", drawing(d)}};
  for (auto& c : charging_sets(d)) sets.push_back({"charging: " + c.name, c.members});
  const auto beyond = beyond_runs(d, ways);
  const auto group = groups_of(d);
  std::vector<DesignCurrent> all(d->runs.size());
  for (const Set& set : sets) {
    const auto currents = [&](bool lasting, std::vector<Drawn>& drawn) {
      clear_loads(s.wired);
      for (const Consumer& c : set.members) {
        const Current i = lasting ? lasting_current(d, c) : full_current(d, c);
        set_current(s.wired, load_of(s.wired, c), i);
        drawn.push_back({c, i});
      }
      return currents_of(s, d, LoadsAs::currents);
    };
    std::vector<Drawn> drawn, ignored;
    SetCurrents full = currents(false, drawn);
    const SetCurrents lasting = currents(true, ignored);
    add_unfed(d, s, group, drawn, full);
    for (std::size_t i = 0; i < all.size(); ++i) {
      DesignCurrent& run = all[i];
      run.back = std::max(run.back, magnitude(full.back[i]));
      run.at_normal_voltage = std::max(run.at_normal_voltage, magnitude(lasting.outgoing[i]));
      if (magnitude(full.outgoing[i]) <= run.outgoing) continue;
      run.outgoing = magnitude(full.outgoing[i]);
      run.in_case = set.name;
      // along its way a run may be crossed against its own direction
      run.parts = parts_of(d, beyond[i], drawn, full.outgoing[i]);
      if (run.parts.empty()) run.parts = parts_of(d, beyond[i], drawn, -full.outgoing[i]);
    }
  }
  mark_unknown(d, group, all);
  return all;
}

std::vector<Current> inside::nominal_currents(const design::Design& d, Solvable& s,
                                              std::span<const LoadCase> cases) {
  std::vector<Current> largest(d->runs.size());
  for (const LoadCase& c : cases) {
    if (!c.judged) continue;
    set_loads(s.wired, s.solver, d, c);
    const SetCurrents currents = currents_of(s, d, LoadsAs::currents);
    for (std::size_t i = 0; i < largest.size(); ++i)
      largest[i] = std::max(largest[i], magnitude(currents.outgoing[i]));
  }
  return largest;
}

Current design_current_of(const design::Design& d, const Assessment& assessment, RunId run,
                          design::Pole pole, Working* working) {
  const DesignCurrent& found = at(assessment.runs, run.index).current;
  const Current total = pole == design::Pole::outgoing ? found.outgoing : found.back;
  const bool alike = std::abs((found.outgoing - total).value()) <= 1e-9 * (1.0 + total.value());
  if (found.parts.empty() || !alike)
    return given(working, "I_B", "largest steady current of the run", total,
                 solution(SourceKind::published));
  if (working) {
    const auto beyond = beyond_runs(d, assessment.ways);
    for (const Consumer& c : at(beyond, run.index))
      if (std::any_of(found.parts.begin(), found.parts.end(), [&](const Term<Current>& part) {
            return part.name == name_of(d, c) &&
                   std::abs(part.value.value()) == std::abs(full_current(d, c).value());
          }))
        (void)full_current(d, c, working);
  }
  return sum(working, "I_B", "largest steady current of the run", found.parts);
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// Ways from the sources, and the largest steady currents of the runs: linear, so superposed by the
// network itself, through loops and shared returns alike.
#include <cmath>

#include "../inside.hpp"
#include "housepower/wiring/neighbours.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

/// Runs to each post on one side of the network from a source.
struct Tree {
  struct Step {
    RunId run;
    PostId before;
    bool along = true;
  };
  PerPost<Step> steps;
  Reached reached;
};

Tree tree_from(const Neighbours& neighbours, PostId source) {
  Tree tree{PerPost<Tree::Step>(neighbours.size()), Reached(neighbours.size())};
  walk(neighbours, source, tree.reached, [&](PostId here, const Neighbour& next) {
    tree.steps[next.other] = {next.run, here, next.along};
    return true;
  });
  return tree;
}

std::vector<Way::Part> parts_to(const Tree& tree, PostId post) {
  std::vector<Way::Part> parts;
  for (auto step = tree.steps[post]; step.run != RunId{}; step = tree.steps[step.before])
    parts.push_back({step.run, step.along});
  std::reverse(parts.begin(), parts.end());
  return parts;
}

/// What a set of consumers does to each run.
struct SetCurrents {
  PerRun<Current> outgoing, back;
  std::string why_unknown{};  // then all are nothing
};
SetCurrents currents_of(Solvable& s, const design::Design& d, LoadsAs as) {
  SetCurrents found{PerRun<Current>(d->runs.size()), PerRun<Current>(d->runs.size())};
  const auto solution = s.solver.solve(s.wired.network, as);
  if (const auto* n = std::get_if<NotSolved>(&solution)) found.why_unknown = n->why;
  const auto* point = std::get_if<OperatingPoint>(&solution);
  if (!point) {
    if (found.why_unknown.empty()) found.why_unknown = "the network has no solution";
    return found;
  }
  for (std::size_t i = 0; i < d->runs.size(); ++i) {
    found.outgoing[i] = at(point->branch, s.wired.runs[i].outgoing);
    found.back[i] = at(point->branch, s.wired.runs[i].back);
  }
  return found;
}

/// What adds up to the current of a run, where it does: those beyond it with what each load draws.
void set_run_parts(const design::Design& d, const Wired& wired, const std::vector<Consumer>& beyond,
                   const std::vector<Current>& drawn, Current total, DesignCurrent& run) {
  run.parts.clear();
  run.consumers.clear();
  Current added{};
  const double sign = total.value() < 0.0 ? -1.0 : 1.0;
  for (const Consumer& c : beyond) {
    const Current own = at(drawn, load_of(wired, c));
    if (own.value() == 0.0) continue;
    run.parts.push_back({name_of(d, c), sign * own});
    run.consumers.push_back(c);
    added += own;
  }
  const double rest = std::abs((added - total).value());
  if (rest <= 1e-6 * std::max(1.0, std::abs(total.value()))) return;
  run.parts.clear();
  run.consumers.clear();
}

/// Where no source is drawn (a tow plug without its vehicle) each run of the part may carry it all.
void add_unfed(const design::Design& d, const Solvable& s, const PerPost<int>& group,
               const std::vector<Drawn>& drawn, SetCurrents& currents) {
  for (const auto& [consumer, current] : drawn) {
    const Load& load = at(s.wired.network.loads, load_of(s.wired, consumer));
    if (s.solver.fed(load.plus, load.minus)) continue;
    const int part = group[post_of(d, consumer)];
    for (std::size_t i = 0; i < d->runs.size(); ++i) {
      if (group[d->runs[i].from] != part) continue;
      currents.outgoing[i] += magnitude(current);
      currents.back[i] += magnitude(current);
    }
  }
}

/// The runs of a pole on the ways of all that draws, but for one consumer.
PerRun<bool> led_by_others(const design::Design& d, const PerPost<Way>& ways,
                           std::vector<Way::Part> Way::*pole, const Consumer& but) {
  PerRun<bool> led(d->runs.size());
  for (const Consumer& c : drawing(d)) {
    if (c.kind == but.kind && c.index == but.index) continue;
    for (const auto& part : ways[post_of(d, c)].*pole) led[part.run] = true;
  }
  return led;
}

/// Anything may be plugged into an inverter: the runs that lead to it alone carry its rating.
void add_rating(const design::Design& d, Solvable& s, const PerPost<Way>& ways, int inverter,
                PerRun<DesignCurrent>& all) {
  const Consumer own{Consumer::Kind::inverter, inverter};
  const auto currents = [&](Current i) {
    clear_loads(s.wired);
    set_current(s.wired, load_of(s.wired, own), i);
    SetCurrents found = currents_of(s, d, LoadsAs::currents);
    add_unfed(d, s, groups_of(d), {{own, i}}, found);
    return found;
  };
  const SetCurrents full = currents(rated_current(d, inverter));
  const SetCurrents lasting = currents(rated_lasting_current(d, inverter));
  const auto out = led_by_others(d, ways, &Way::outgoing, own);
  const auto back = led_by_others(d, ways, &Way::back, own);
  for (std::size_t i = 0; i < all.size(); ++i) {
    DesignCurrent& run = all[i];
    if (!back[i]) run.back = std::max(run.back, magnitude(full.back[i]));
    if (out[i]) continue;
    run.at_normal_voltage = std::max(run.at_normal_voltage, magnitude(lasting.outgoing[i]));
    if (magnitude(full.outgoing[i]) <= run.outgoing * (1.0 + 1e-9)) continue;
    run.outgoing = magnitude(full.outgoing[i]);
    run.in_case = "\"" + name_of(d, own) + "\" at its rating";
    run.at_rating = true;
    run.parts.clear(), run.consumers.clear();
    if (std::abs((run.outgoing - rated_current(d, inverter)).value()) > 1e-6) continue;  // a loop
    run.parts = {{name_of(d, own), run.outgoing}};
    run.consumers = {own};
  }
}

/// Arrays of which the short-circuit current is not stated leave the runs that they reach unknown.
void mark_unknown(const design::Design& d, const PerPost<int>& group, PerRun<DesignCurrent>& all) {
  for (const Array& array : d->arrays)
    for (std::size_t i = 0; i < all.size() && !array.module.isc; ++i)
      if (group[d->runs[i].from] == group[array.post])
        all[i].why_unknown = "the short-circuit current of \"" + array.name + "\" is not stated";
}

}  // namespace

Neighbours neighbours_of(const design::Design& d, design::Pole pole) {
  Neighbours all(d->posts.size());
  for (const RunId id : d->runs.ids()) {
    const Run& run = d[id];
    const PostId near = pole == design::Pole::outgoing ? run.from : run.back.to;
    all[near].push_back({id, run.to, true});
    all[run.to].push_back({id, near, false});
  }
  return all;
}

Reached joined_without(const Neighbours& neighbours, PostId start, RunId run, RunId another) {
  Reached joined(neighbours.size());
  walk(neighbours, start, joined,
       [&](PostId, const Neighbour& next) { return next.run != run && next.run != another; });
  return joined;
}

PerPost<Way> inside::ways_from(const design::Design& d, PostId source) {
  PerPost<Way> ways(d->posts.size());
  const Tree plus = tree_from(neighbours_of(d, design::Pole::outgoing), source);
  const Tree minus = tree_from(neighbours_of(d, design::Pole::return_), source);
  for (const PostId post : ways.ids())
    if (plus.reached[post] && minus.reached[post])
      ways[post] = {source, parts_to(plus, post), parts_to(minus, post)};
  return ways;
}

PerPost<Way> inside::ways_of(const design::Design& d) {
  PerPost<Way> ways(d->posts.size());
  const auto plus_side = neighbours_of(d, design::Pole::outgoing);
  const auto minus_side = neighbours_of(d, design::Pole::return_);
  std::vector<PostId> sources;
  if (d->bank) sources.push_back(d->bank->post);
  for (const auto& feed : d->feeds) sources.push_back(feed.post);
  for (const PostId source : sources) {
    PerPost<Way> found = ways_from(d, source);
    for (std::size_t i = 0; i < ways.size(); ++i)
      if (!ways[i].source) ways[i] = std::move(found[i]);
  }
  // what only an array reaches: its runs lead towards the controller
  for (const auto& array : d->arrays) {
    if (ways[array.post].source) continue;
    const PostId in = d->controllers[array.controller].in;
    const Tree plus = tree_from(plus_side, in), minus = tree_from(minus_side, in);
    const PostId post = array.post;
    if (plus.reached[post] && minus.reached[post])
      ways[post] = {std::nullopt, parts_to(plus, post), parts_to(minus, post)};
  }
  return ways;
}

PerPost<int> inside::groups_of(const design::Design& d) {
  PerPost<int> group;
  for (const Post& post : d->posts) group.push_back(post.part);
  return group;
}

PerRun<std::vector<Consumer>> inside::beyond_runs(const design::Design& d,
                                                  const PerPost<Way>& ways) {
  PerRun<std::vector<Consumer>> beyond(d->runs.size());
  auto all = drawing(d);
  for (const Consumer& c : charging(d)) all.push_back(c);
  for (const Consumer& c : all)
    for (const auto& part : ways[post_of(d, c)].outgoing) beyond[part.run].push_back(c);
  return beyond;
}

PerRun<DesignCurrent> inside::design_currents(const design::Design& d, Solvable& s,
                                              const PerPost<Way>& ways) {
  struct Set {
    std::string name;
    std::vector<Consumer> members;
  };
  std::vector<Set> sets{{"everything-on", drawing(d)}};
  for (auto& c : charging_sets(d)) sets.push_back({c.in_case(), c.members});
  const auto beyond = beyond_runs(d, ways);
  const auto group = groups_of(d);
  PerRun<DesignCurrent> all(d->runs.size());
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
    for (DesignCurrent& run : all)
      if (!full.why_unknown.empty()) run.why_unknown = full.why_unknown;
    add_unfed(d, s, group, drawn, full);
    std::vector<Current> of_load(s.wired.network.loads.size());
    for (const auto& [consumer, current] : drawn) at(of_load, load_of(s.wired, consumer)) = current;
    for (std::size_t i = 0; i < all.size(); ++i) {
      DesignCurrent& run = all[i];
      run.back = std::max(run.back, magnitude(full.back[i]));
      run.at_normal_voltage = std::max(run.at_normal_voltage, magnitude(lasting.outgoing[i]));
      if (magnitude(full.outgoing[i]) <= run.outgoing) continue;
      run.outgoing = magnitude(full.outgoing[i]);
      run.in_case = set.name;
      // along its way a run may be crossed against its own direction
      set_run_parts(d, s.wired, beyond[i], of_load, full.outgoing[i], run);
      if (run.parts.empty()) set_run_parts(d, s.wired, beyond[i], of_load, -full.outgoing[i], run);
    }
  }
  for (std::size_t i = 0; i < d->inverters.size(); ++i)
    if (d->inverters[i].loads == design::InverterLoads::any) add_rating(d, s, ways, int(i), all);
  for (std::size_t i = 0; i < all.size(); ++i)
    all[i].of_inverter = std::any_of(beyond[i].begin(), beyond[i].end(), [](const Consumer& c) {
      return c.kind == Consumer::Kind::inverter;
    });
  mark_unknown(d, group, all);
  return all;
}

PerRun<Current> inside::nominal_currents(const design::Design& d, Solvable& s,
                                         std::span<const LoadCase> cases) {
  PerRun<Current> largest(d->runs.size());
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
  const DesignCurrent& found = assessment.runs[run].current;
  const Current total = pole == design::Pole::outgoing ? found.outgoing : found.back;
  const bool alike = std::abs((found.outgoing - total).value()) <= 1e-9 * (1.0 + total.value());
  if (found.parts.empty() || !alike)
    return given(working, "I_B", "largest steady current of the run", total,
                 solution(SourceKind::published));
  for (const Consumer& c : found.consumers) {
    if (!working) break;
    if (found.at_rating) (void)rated_current(d, c.index, working);
    else (void)full_current(d, c, working);
  }
  return sum(working, "I_B", "largest steady current of the run", found.parts);
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
#include "housepower/wiring/test_plan.hpp"

#include <algorithm>
#include <cmath>

#include "test_network.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

using design::resolved::ApplianceId;
using design::resolved::PostKind;

constexpr Current least_tested = Current::from_value(0.05);  // less tells nothing

/// What flows where under a load; nothing: there is no operating point.
struct Flows {
  std::vector<Current> runs;  // the larger of both poles
  Current bank{};
  Current busiest{};  // of the batteries
};
std::optional<Flows> flows_of(const design::Design& d, const Assessment& a, const TestLoad& load) {
  TestNetwork s = test_network_of(d, a, load);
  Solver solver(s.wired.network);
  const Solution solution = settle(s, solver);
  const auto* point = std::get_if<OperatingPoint>(&solution);
  if (!point) return std::nullopt;
  Flows flows;
  const auto through = [&](int branch) {
    return branch < 0 ? Current{}
                      : Current::from_value(std::abs(at(point->branch, branch).value()));
  };
  for (const auto& run : s.wired.runs)
    flows.runs.push_back(std::max(through(run.outgoing), through(run.back)));
  for (const int battery : s.wired.batteries) {
    const Current gives = at(point->feed, battery);
    flows.bank += gives;
    flows.busiest = std::max(flows.busiest, gives);
  }
  return flows;
}

/// Each battery gives it, each device on the way holds it, and no inverter is beyond its rating.
bool is_borne(const design::Design& d, const Flows& flows, const TestLoad& load) {
  const auto& bank = d->bank;
  if (bank && bank->discharge_limit && flows.busiest > *bank->discharge_limit) return false;
  if (bank && bank->each_device && flows.busiest > bank->each_device->device.rating) return false;
  for (std::size_t i = 0; i < d->runs.size(); ++i)
    for (const Protection& p : d->runs[i].protection)
      if (flows.runs[i] > p.rating) return false;
  for (const auto id : d->inverters.ids()) {
    Power apparent{};
    for (const ApplianceId a : load.running)
      if (d[a].inverter && d[a].inverter->index == id.index)
        apparent += d[a].power * (double(d[a].quantity) / std::max(double(d[a].power_factor), 0.1));
    if (apparent > d[id].rating) return false;
  }
  return true;
}

std::vector<bool> tested_by(const Flows& flows) {
  std::vector<bool> tested;
  for (const Current& i : flows.runs) tested.push_back(i >= least_tested);
  return tested;
}

TestLoad like(const TestLoad& state, std::string name, std::vector<ApplianceId> running) {
  TestLoad load;
  load.name = std::move(name);
  load.running = std::move(running);
  load.resting = state.resting;
  load.charge = state.charge;
  load.workshop = state.workshop;
  return load;
}

/// A load that may be switched on, and the runs that it sends a current through.
struct Choice {
  TestLoad load;
  Flows flows;
  std::vector<bool> tests;
};
std::optional<Choice> choice_of(const design::Design& d, const Assessment& a, TestLoad load) {
  auto flows = flows_of(d, a, load);
  if (!flows) return std::nullopt;
  Choice c{std::move(load), *std::move(flows), {}};
  c.tests = tested_by(c.flows);
  return c;
}

/// Everything at once, without the largest where that is too much.
TestLoad everything(const design::Design& d, const Assessment& a, TestLoad load) {
  while (!load.running.empty()) {
    const auto flows = flows_of(d, a, load);
    if (flows && is_borne(d, *flows, load)) break;
    const auto draws = [&](ApplianceId id) { return d[id].power * double(d[id].quantity); };
    load.running.erase(
        std::max_element(load.running.begin(), load.running.end(),
                         [&](ApplianceId x, ApplianceId y) { return draws(x) < draws(y); }));
  }
  return load;
}

std::vector<Choice> choices_of(const design::Design& d, const Assessment& a,
                               const TestLoad& state) {
  std::vector<Choice> all;
  for (TestLoad& load : possible_loads(d, a, state))
    if (auto one = choice_of(d, a, std::move(load))) all.push_back(*std::move(one));
  return all;
}

bool is_within(const std::vector<bool>& part, const std::vector<bool>& whole) {
  for (std::size_t i = 0; i < part.size(); ++i)
    if (part[i] && !whole[i]) return false;
  return true;
}

/// Without those that test no more than one of the others does.
std::vector<Choice> worth_it(std::vector<Choice> all) {
  std::vector<Choice> kept;
  for (std::size_t i = 0; i < all.size(); ++i) {
    bool needed = std::count(all[i].tests.begin(), all[i].tests.end(), true) > 0;
    for (std::size_t k = 0; needed && k < all.size(); ++k)
      if (k != i && is_within(all[i].tests, all[k].tests))
        needed = !is_within(all[k].tests, all[i].tests) ? false : i < k;
    if (needed) kept.push_back(all[i]);
  }
  return kept;
}

/// The first set of so many, in their order, that tests all that is to be tested.
bool covered_by(const std::vector<Choice>& choices, std::size_t from, std::size_t many,
                std::vector<bool> open, std::vector<std::size_t>& taken) {
  if (std::none_of(open.begin(), open.end(), [](bool one) { return one; })) return true;
  for (std::size_t i = from; many > 0 && i < choices.size(); ++i) {
    std::vector<bool> left = open;
    for (std::size_t r = 0; r < left.size(); ++r) left[r] = left[r] && !choices[i].tests[r];
    taken.push_back(i);
    if (covered_by(choices, i + 1, many - 1, std::move(left), taken)) return true;
    taken.pop_back();
  }
  return false;
}

std::vector<std::size_t> fewest(const std::vector<Choice>& choices, const std::vector<bool>& all) {
  std::vector<std::size_t> taken;
  for (std::size_t many = 1; many <= choices.size(); ++many)
    if (covered_by(choices, 0, many, all, taken)) break;
  return taken;
}

Untested::Why why_of(const design::Design& d, design::resolved::RunId id, Current most) {
  const auto touches = [&](PostKind kind) {
    return d[d[id].from].kind == kind || d[d[id].to].kind == kind;
  };
  if (touches(PostKind::array) || touches(PostKind::controller_in) ||
      touches(PostKind::controller_out))
    return Untested::Why::array;
  if (touches(PostKind::feed)) return Untested::Why::feed;
  if (touches(PostKind::charger_in) || touches(PostKind::charger_out))
    return Untested::Why::charger;
  return most > Current{} ? Untested::Why::too_little : Untested::Why::no_load;
}

/// The points of these runs and of the posts at their ends, in the order of the walk.
std::vector<ReadPoint> points_on(const design::Design& d, std::vector<ReadPoint> all,
                                 const std::vector<bool>& runs) {
  const Walk walk = walk_of(d);
  std::vector<design::Subject> posts;  // in walking order
  for (const auto id : walk.posts)
    for (std::size_t r = 0; r < runs.size(); ++r)
      if (runs[r] && (d->runs[r].from.index == id.index || d->runs[r].to.index == id.index)) {
        posts.push_back(subject_of(d, d[id]));
        break;
      }
  const auto rank = [&](const ReadPoint& r) -> std::ptrdiff_t {
    const auto& path = r.point.path;
    if (path.is(design::Subject::Part::battery)) return -1;
    if (!path.is(design::Subject::Kind::run))
      return std::find(posts.begin(), posts.end(), path) - posts.begin();
    return std::find_if(walk.runs.begin(), walk.runs.end(),
                        [&](const auto id) { return id.index == path.index(); }) -
           walk.runs.begin();
  };
  std::erase_if(all, [&](const ReadPoint& r) {
    const auto& path = r.point.path;
    if (path.is(design::Subject::Kind::run)) return !runs[std::size_t(path.index())];
    return !path.is(design::Subject::Part::battery) && !path.is(design::Subject::Kind::bank) &&
           std::find(posts.begin(), posts.end(), path) == posts.end();
  });
  std::stable_sort(all.begin(), all.end(),
                   [&](const ReadPoint& x, const ReadPoint& y) { return rank(x) < rank(y); });
  return all;
}

/// A load as a step of the plan that tests these runs first.
std::optional<SwitchOn> step_of(const design::Design& d, const Assessment& a, const Choice& choice,
                                const std::vector<bool>& first) {
  auto found = sheet_points(d, a, choice.load);
  auto* points = std::get_if<std::vector<ReadPoint>>(&found);
  if (!points) return std::nullopt;
  SwitchOn step{choice.load, choice.flows.bank, {}, points_on(d, std::move(*points), first)};
  for (std::size_t i = 0; i < first.size(); ++i)
    if (first[i]) step.tests.push_back({int(i)});
  return step;
}

std::vector<Untested> untested_of(const design::Design& d, const std::vector<bool>& tested,
                                  const std::vector<Choice>& choices) {
  std::vector<Untested> all;
  for (const auto id : walk_of(d).runs) {
    if (tested[std::size_t(id.index)]) continue;
    Current most{};
    for (const Choice& c : choices) most = std::max(most, c.flows.runs[std::size_t(id.index)]);
    all.push_back({id, why_of(d, id, most)});
  }
  return all;
}

/// Each run that any of them tests.
std::vector<bool> tested_by_any(const design::Design& d, const std::vector<Choice>& choices) {
  std::vector<bool> all(d->runs.size());
  for (const Choice& c : choices)
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = all[i] || c.tests[i];
  return all;
}

}  // namespace

Walk walk_of(const design::Design& d) {
  Walk walk;
  std::vector<bool> seen(d->posts.size()), gone(d->runs.size());
  const auto visit = [&](const auto& again, design::resolved::PostId post) -> void {
    if (seen[std::size_t(post.index)]) return;
    seen[std::size_t(post.index)] = true;
    walk.posts.push_back(post);
    for (const auto id : d->runs.ids()) {
      const auto& run = d[id];
      const bool here = run.from.index == post.index, there = run.to.index == post.index;
      if (gone[std::size_t(id.index)] || (!here && !there)) continue;
      gone[std::size_t(id.index)] = true;
      walk.runs.push_back(id);
      again(again, here ? run.to : run.from);
    }
  };
  if (d->bank) visit(visit, d->bank->post);
  for (const auto id : d->posts.ids()) visit(visit, id);
  return walk;
}

std::vector<TestLoad> possible_loads(const design::Design& d, const Assessment& a,
                                     const TestLoad& state) {
  std::vector<TestLoad> all;
  for (std::size_t i = 0; i < d->cases.size(); ++i) {
    all.push_back(like(state, d->cases[i].name, d->cases[i].running));
    all.back().what = {design::Subject::Kind::load_case, int(i), d->cases[i].name};
  }
  std::vector<ApplianceId> every;
  for (const auto id : d->appliances.ids()) every.push_back(id);
  if (every.empty()) return all;
  all.push_back(everything(d, a, like(state, std::string(all_appliances), every)));
  for (const auto id : every) {
    const auto& name = d[id].name;
    if (std::none_of(all.begin(), all.end(), [&](const TestLoad& l) { return l.name == name; }))
      all.push_back(like(state, name, {id}));
  }
  return all;
}

TestPlan plan_tests(const design::Design& d, const Assessment& a, const TestLoad& state) {
  TestPlan plan;
  const auto choices = choices_of(d, a, state);
  const std::vector<bool> all = tested_by_any(d, choices);
  std::vector<bool> open = all;
  const auto few = worth_it(choices);
  for (const std::size_t chosen : fewest(few, all)) {
    std::vector<bool> first(open.size());
    for (std::size_t i = 0; i < open.size(); ++i) first[i] = open[i] && few[chosen].tests[i];
    auto step = step_of(d, a, few[chosen], first);
    if (!step) continue;
    for (std::size_t i = 0; i < open.size(); ++i) open[i] = open[i] && !first[i];
    plan.switch_ons.push_back(*std::move(step));
  }
  std::vector<bool> tested(open.size());
  for (std::size_t i = 0; i < open.size(); ++i) tested[i] = all[i] && !open[i];
  plan.untested = untested_of(d, tested, choices);
  return plan;
}

std::vector<Untested> untestable(const design::Design& d, const Assessment& a,
                                 const TestLoad& state) {
  const auto choices = choices_of(d, a, state);
  return untested_of(d, tested_by_any(d, choices), choices);
}

TestPlan plan_of(const design::Design& d, const Assessment& a, const TestLoad& load) {
  TestPlan plan;
  const auto choice = choice_of(d, a, load);
  if (!choice) return plan;
  if (auto step = step_of(d, a, *choice, choice->tests))
    plan.switch_ons.push_back(*std::move(step));
  plan.untested = untested_of(d, choice->tests, {*choice});
  return plan;
}

}  // namespace housepower::wiring

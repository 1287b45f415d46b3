// SPDX-License-Identifier: Apache-2.0
// A return without another way beside it divides the minus side in two; what comes home through it
// went out along the plus conductors between the two, and their devices hold it.
#include "housepower/wiring/carried.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "../inside.hpp"
#include "housepower/wiring/devices_before.hpp"
#include "housepower/wiring/links.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr Resistance taken_out = Resistance::from_value(1e6);

Current least_device(const Run& run) {
  Current least = run.protection.front().rating;
  for (const Protection& p : run.protection) least = std::min(least, p.rating);
  return least;
}

/// A run that leads out to where a return comes from, and its end on the other side.
struct Out {
  RunId run;
  PostId near;
};
/// All of them; none where the return is not the only way home.
std::vector<Out> sharing(const design::Design& d, const Neighbours& returns, RunId id,
                         RunId without) {
  const Run& run = d[id];
  const auto side = joined_without(returns, run.to, id, without);
  if (side[run.back.to]) return {};
  std::vector<Out> all;
  for (const RunId other : d->runs.ids()) {
    const Run& out = d[other];
    const bool there = side[out.from];
    if (there != side[out.to]) all.push_back({other, there ? out.to : out.from});
  }
  return all;
}

/// Their devices; none where one has no device.
std::vector<Term<Current>> devices_of(const design::Design& d, const std::vector<Out>& outs) {
  std::vector<Term<Current>> devices;
  for (const Out& out : outs) {
    if (d[out.run].protection.empty()) return {};
    devices.push_back({"device of " + d[out.run].name, least_device(d[out.run])});
  }
  return devices;
}

using ByName = std::map<std::string, Current>;

std::vector<Term<Current>> terms_of(const ByName& devices) {
  std::vector<Term<Current>> terms;
  for (const auto& [name, rating] : devices) terms.push_back({name, rating});
  return terms;
}

/// Adds the devices before one of them; false where a source is before it without a device.
bool add_before(const design::Design& d, const Neighbours& plus, const Out& out, ByName& devices) {
  const DevicesBefore here = devices_before(d, plus, out.near, out.run);
  if (drives_any_current(d[out.near]) || !here.unheld.empty() || here.nearest.empty()) return false;
  for (const DeviceBefore& device : here.nearest)
    devices[device.run ? "device of " + d[*device.run].name : "devices of the batteries"] =
        device.rating;
  return true;
}

/// The devices before them, each once; none where a source is before one of them without a device.
std::vector<Term<Current>> devices_before_all(const design::Design& d, const Neighbours& plus,
                                              const std::vector<Out>& outs) {
  ByName before;
  for (const Out& out : outs)
    if (!add_before(d, plus, out, before)) return {};
  return terms_of(before);
}

/// Of each its own device, else those before it, each once; none where one has neither.
std::vector<Term<Current>> own_or_before(const design::Design& d, const Neighbours& plus,
                                         const std::vector<Out>& outs) {
  ByName devices;
  for (const Out& out : outs) {
    const Run& run = d[out.run];
    if (!run.protection.empty()) devices["device of " + run.name] = least_device(run);
    else if (!add_before(d, plus, out, devices)) return {};
  }
  return terms_of(devices);
}

/// Those at whose far end a source is.
std::vector<Out> fed_from_outside(const design::Design& d, const Assessment& a,
                                  std::vector<Out> outs) {
  std::erase_if(outs, [&](const Out& out) {
    const Reaching& far = out.near == d[out.run].from ? a.ends[out.run].from : a.ends[out.run].to;
    return far.unlimited.empty() && far.most <= Current{} && far.why_unknown.empty();
  });
  return outs;
}

/// What these let home together: the least of the sum of their devices and that of the devices before
/// them. Nothing where no device holds it.
std::optional<Current> held_together(const design::Design& d, const Assessment& a,
                                     const std::vector<Out>& outs, Working* working) {
  const auto own = devices_of(d, outs), before = devices_before_all(d, a.plus, outs);
  const auto one_by_one = own_or_before(d, a.plus, outs);
  std::vector<Term<Current>> either;
  if (!own.empty())
    either.push_back(
        {"their devices", sum(working, "I_d", "devices of the runs that share it", own)});
  if (!before.empty())
    either.push_back({"devices before", sum(working, "I_u", "devices before those runs", before)});
  if (own.empty() && !one_by_one.empty())
    either.push_back(
        {"one by one", sum(working, "I_o", "their devices, else those before them", one_by_one)});
  if (either.empty()) return std::nullopt;
  return smallest(working, "I_h", "what the devices let home through it", either);
}

Current held_by(const design::Design& d, const Neighbours& returns, RunId run, RunId without,
                Current load, Working* working) {
  const auto devices = devices_of(d, sharing(d, returns, run, without));
  if (devices.empty()) return load;
  const Current together =
      sum(working, "I_d", "what the devices of the runs that share it let through", devices);
  return smallest(working, "I_B", "what the return carries: its load, or what the devices let out",
                  std::vector<Term<Current>>{{"load", load}, {"devices", together}});
}

Current own_devices_hold(const Run& run, Current load, Working* working) {
  std::vector<Term<Current>> terms{{"load", load}};
  for (const Protection& device : run.protection) terms.push_back({"device", device.rating});
  return terms.size() == 1
             ? load
             : smallest(working, "I_B",
                        "what the run carries: its load, or what its device lets through", terms);
}

}  // namespace

Current carried_of(const design::Design& d, const Assessment& a, RunId run, design::Pole pole,
                   Working* working) {
  const Current load = design_current_of(d, a, run, pole, working);
  return pole == design::Pole::outgoing ? own_devices_hold(d[run], load, working)
                                        : held_by(d, a.minus, run, {}, load, working);
}

std::optional<Current> let_home_of(const design::Design& d, const Assessment& a, RunId run,
                                   Working* working) {
  const auto outs = sharing(d, a.minus, run, {});
  if (outs.size() < 2) return std::nullopt;
  const auto fed = fed_from_outside(d, a, outs);
  if (fed.size() == outs.size()) return held_together(d, a, outs, working);
  // What a run takes out to loads alone comes home by it only as far as sources within give it.
  const auto in = fed.empty() ? std::optional(Current{}) : held_together(d, a, fed, nullptr);
  const auto out = held_together(d, a, outs, nullptr);
  const auto gives = given_among(d, joined_without(a.minus, d[run].to, run, {}));
  if (!in || !out || !gives || std::min(*out, *gives) > *in)
    return held_together(d, a, outs, working);
  return held_together(d, a, fed, working);
}

namespace {

/// Its own, else the largest before it.
std::optional<DeviceBefore> device_holding(const design::Design& d, const Neighbours& plus,
                                           const Out& out) {
  const auto& own = d[out.run].protection;
  const auto less = [](const auto& one, const auto& other) { return one.rating < other.rating; };
  if (!own.empty()) {
    const auto least = std::min_element(own.begin(), own.end(), less);
    return DeviceBefore{out.run, std::size_t(least - own.begin()), least->rating};
  }
  const auto before = devices_before(d, plus, out.near, out.run).nearest;
  if (before.empty()) return std::nullopt;
  return *std::max_element(before.begin(), before.end(), less);
}

void keep_larger(std::optional<DeviceBefore>& most, const std::optional<DeviceBefore>& one) {
  if (one && (!most || one->rating > most->rating)) most = one;
}

}  // namespace

std::optional<DeviceBefore> largest_home_of(const design::Design& d, const Assessment& a,
                                            RunId run) {
  std::optional<DeviceBefore> most;
  for (const Out& out : sharing(d, a.minus, run, {}))
    keep_larger(most, device_holding(d, a.plus, out));
  return most;
}

std::optional<DeviceBefore> largest_home_through(const design::Design& d, const Assessment& a,
                                                 PostId post) {
  std::optional<DeviceBefore> most;
  for (const RunId id : d->runs.ids()) {
    const Run& run = d[id];
    if (run.back.chassis || (run.back.to != post && run.to != post)) continue;
    keep_larger(most, largest_home_of(d, a, id));
  }
  return most;
}

namespace {

/// What leaves the chassis at each place beyond what comes to it there.
Current by_chassis(const design::Design& d, const CaseResult& in) {
  std::vector<Current> leaves(d->posts.size());
  for (const RunId id : d->runs.ids()) {
    const Run& run = d[id];
    if (!run.back.chassis) continue;
    leaves[std::size_t(run.back.to.index)] += in.runs[id].back;
    leaves[std::size_t(run.to.index)] -= in.runs[id].back;
  }
  Current all{};
  for (const Current& one : leaves) all += std::max(one, Current{});
  return all;
}

/// Those that return by the chassis, but for what hangs on another of them.
std::vector<Out> home_by_chassis(const design::Design& d) {
  std::vector<Out> all;
  for (const RunId id : d->runs.ids()) {
    const Run& run = d[id];
    const bool within = std::any_of(d->runs.begin(), d->runs.end(), [&](const Run& other) {
      return other.back.chassis && other.to == run.from;
    });
    if (run.back.chassis && !within) all.push_back({id, run.from});
  }
  return all;
}

}  // namespace

Current through_bond(const design::Design& d, const Assessment& a, Working* working) {
  std::vector<Term<Current>> most;
  for (const CaseResult& in : a.cases)
    if (!in.load_case.judged && !in.runs.empty())
      most.push_back({in.load_case.name, by_chassis(d, in)});
  for (const RunId id : d->runs.ids())
    if (d[id].back.chassis) most.push_back({d[id].name, a.runs[id].current.back});
  return largest(working, "I_B", "largest steady current through the bond of the chassis", most);
}

std::optional<Current> let_through_bond(const design::Design& d, const Assessment& a,
                                        Working* working) {
  const auto outs = home_by_chassis(d);
  return outs.empty() ? std::nullopt : held_together(d, a, outs, working);
}

std::optional<AmpacityAnswer> ampacity_of_bond(const design::Design& d, Working* working) {
  if (!d->bond || !d->bond->conductor) return std::nullopt;
  return ampacity_of_lead(d, {*d->bond->conductor}, working);
}

std::vector<IfOneOpens> if_a_return_opens(const design::Design& d, const Assessment& a) {
  std::vector<RunId> beside;
  for (const RunId id : d->runs.ids()) {
    const Run& run = d[id];
    if (joined_without(a.minus, run.to, id)[run.back.to]) beside.push_back(id);
  }
  std::vector<IfOneOpens> all;
  if (beside.empty()) return all;
  for (const RunId run : beside) all.push_back({run, {}, {}});
  Solvable linear(network_of(d, stated_conductors(d), Condition::design_current));
  for (const RunId open : beside) {
    Resistance& r = at(linear.wired.network.branches, linear.wired.runs[open].back).resistance;
    const Resistance before = r;
    r = taken_out;
    const auto currents = design_currents(d, linear, a.ways);
    r = before;
    for (IfOneOpens& one : all) {
      const Current load = currents[one.run].back;
      if (one.run == open || load <= one.load) continue;
      one.load = load;
      one.opened = open;
    }
  }
  return all;
}

Current carried_if(const design::Design& d, const IfOneOpens& one, Working* working) {
  const Current load = given(working, "I_B", "largest steady current if the other return opens",
                             one.load, solution(SourceKind::published));
  return held_by(d, neighbours_of(d, design::Pole::return_), one.run, one.opened, load, working);
}

namespace {

/// Of the minus side in a case: what comes into the node there, or goes on from it.
struct Home {
  Current comes{}, goes{};                  // as the loads draw it
  std::vector<Term<Current>> into{}, on{};  // no more than devices let through
};
Home home_through(const design::Design& d, const Assessment& a, PostId node, const CaseResult& in) {
  Home home;
  for (const RunId id : d->runs.ids()) {
    const Run& run = d[id];
    const Current back = in.runs[id].back;
    if (run.back.chassis || (run.back.to != node && run.to != node) ||
        std::abs(back.value()) <= 1e-9)
      continue;
    const Current held = held_by(d, a.minus, id, {}, magnitude(back), nullptr);
    const bool comes = (run.back.to == node) == (back.value() > 0.0);
    (comes ? home.comes : home.goes) += magnitude(back);
    (comes ? home.into : home.on).push_back({"return of " + run.name, held});
  }
  return home;
}

/// The side that more passes; of two alike that which devices hold to less.
std::vector<Term<Current>> more_of(const Home& home) {
  if (home.into.empty() || home.on.empty()) return home.into.empty() ? home.on : home.into;
  const double differ = (home.comes - home.goes) / std::max(home.comes, home.goes);
  if (std::abs(differ) > 1e-6) return differ > 0.0 ? home.into : home.on;
  const auto all = [](const std::vector<Term<Current>>& terms) {
    return sum<Current>(nullptr, "", "", terms);
  };
  return all(home.into) < all(home.on) ? home.into : home.on;
}

}  // namespace

Current through_node(const design::Design& d, const Assessment& a, PostId node, Working* working) {
  std::vector<Term<Current>> most;
  Current in_all{};
  const auto held = [](const Run& run, Current load) {
    return run.protection.empty() ? load : std::min(load, least_device(run));
  };
  const auto take = [&](std::vector<Term<Current>> side) {
    const Current together = sum<Current>(nullptr, "", "", side);
    if (together <= in_all) return;
    in_all = together;
    most = std::move(side);
  };
  for (const CaseResult& in : a.cases) {
    if (in.load_case.judged || in.runs.empty()) continue;
    std::vector<Term<Current>> terms;
    for (std::size_t i = 0; i < d->runs.size(); ++i) {
      const Run& run = d->runs[i];
      const Current i_run = in.runs[i].current;
      const bool comes =
          (run.to == node && i_run.value() > 1e-9) || (run.from == node && i_run.value() < -1e-9);
      if (comes) terms.push_back({run.name, held(run, magnitude(i_run))});
    }
    take(std::move(terms));
    take(more_of(home_through(d, a, node, in)));
  }
  // a part of the network that no source reaches here has no such case
  for (std::size_t i = 0; i < d->runs.size(); ++i) {
    const Run& run = d->runs[i];
    if (run.from != node && run.to != node) continue;
    const Current one = held(run, a.runs[i].current.outgoing);
    if (one <= in_all * (1.0 + 1e-9)) continue;
    in_all = one;
    most = {{run.name, one}};
  }
  return sum(working, "I_n", "largest steady current into the node", most);
}

}  // namespace housepower::wiring

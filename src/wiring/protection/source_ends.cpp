// SPDX-License-Identifier: Apache-2.0
// The largest flow from all sources to an end of a run, along the plus side, by widening paths until
// none is left; what then holds it is the smallest cut: devices and limits of sources.
#include "housepower/wiring/source_ends.hpp"

#include "../inside.hpp"
#include "housepower/parts/cell.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

constexpr double no_bound = 1e12;  // A; what nothing holds
constexpr Source jump_source{SourceKind::from_memory, "judgement", "a vehicle battery"};
constexpr Voltage vehicle_charging = Voltage::from_value(13.0);
constexpr Voltage vehicle_starting = Voltage::from_value(9.6);
constexpr Resistance vehicle_resistance = Resistance::from_value(5e-3);

/// One way of flow, with its reverse beside it (at index ^ 1).
struct FlowEdge {
  int to;
  double room;
  const std::string* of;  // the run with its devices, or the source
  bool device;
};
using Edges = std::vector<FlowEdge>;
std::string what_holds(const FlowEdge& e) { return (e.device ? "device of " : "") + *e.of; }
/// First the runs, two edges each, then the sources.
struct Flow {
  Edges edges;
  std::vector<std::vector<int>> out;  // by node: the posts, and last the source of all
  void join(int from, int to, double there, double back, const std::string* of, bool device) {
    at(out, from).push_back(int(edges.size()));
    edges.push_back({to, there, of, device});
    at(out, to).push_back(int(edges.size()));
    edges.push_back({from, back, of, device});
  }
};

/// Edges by which each node is reached from the source of all where there is room; −1: it is not.
std::vector<int> reached(const Flow& flow, const Edges& edges, double least) {
  std::vector<int> by(flow.out.size(), -1), queue;
  queue.reserve(flow.out.size());
  queue.push_back(int(flow.out.size()) - 1);
  by.back() = int(edges.size());  // itself, by nothing
  for (std::size_t next = 0; next < queue.size(); ++next)
    for (const int e : at(flow.out, queue[next])) {
      const FlowEdge& edge = at(edges, e);
      if (edge.room <= least || at(by, edge.to) >= 0) continue;
      at(by, edge.to) = e;
      queue.push_back(edge.to);
    }
  return by;
}

/// Fills the ways to `end`; the current in all.
double fill(const Flow& flow, Edges& edges, int end) {
  const int start = int(flow.out.size()) - 1;
  double most = 0.0;
  while (most < no_bound) {
    const auto by = reached(flow, edges, 1e-9);
    if (at(by, end) < 0) break;
    double room = no_bound;
    for (int n = end; n != start; n = at(edges, at(by, n) ^ 1).to)
      room = std::min(room, at(edges, at(by, n)).room);
    for (int n = end; n != start; n = at(edges, at(by, n) ^ 1).to) {
      at(edges, at(by, n)).room -= room;
      at(edges, at(by, n) ^ 1).room += room;
    }
    most += room;
  }
  return most;
}

Current flow_limit(const design::Design& d, const Consumer& c, Working* working = nullptr) {
  if (c.kind != Consumer::Kind::array) return -full_current(d, c);
  const Array& a = d->arrays[{c.index}];
  return step(working, array_limit, strings_of(a), a.module.isc.value_or(Current{}));
}

/// Of all runs, from all sources that are not limited and a set of those that are.
Flow flow_of(const design::Design& d, const std::vector<Consumer>& limited) {
  Flow flow;
  const int start = int(d->posts.size());
  flow.out.resize(d->posts.size() + 1);
  for (const Run& run : d->runs) {
    double room = no_bound;
    for (const Protection& p : run.protection) room = std::min(room, p.rating.value());
    flow.join(run.from.index, run.to.index, room, room, &run.name, true);
  }
  for (std::size_t i = 0; i < d->posts.size(); ++i) {
    const Post& post = d->posts[i];
    if (!drives_any_current(post)) continue;
    const bool held = post.kind == PostKind::bank && d->bank->each_device;
    const double room =
        held ? d->bank->each_device->device.rating.value() * d->bank->parallel : no_bound;
    flow.join(start, int(i), room, 0.0, &post.name, held);
  }
  for (const Consumer& c : limited)
    if (c.kind != Consumer::Kind::charger_in)
      flow.join(start, post_of(d, c).index, flow_limit(d, c).value(), 0.0, &name_of(d, c), false);
  return flow;
}

/// One for each set of chargers and arrays that can coincide.
std::vector<Flow> flows_of(const design::Design& d) {
  std::vector<Flow> flows;
  for (const ChargingSet& set : charging_sets(d)) flows.push_back(flow_of(d, set.members));
  if (flows.empty()) flows.push_back(flow_of(d, {}));
  return flows;
}

/// The source whose current reaches `end` and nothing holds.
std::string unheld_source(const Flow& flow, const Edges& empty, int end) {
  const auto by = reached(flow, empty, no_bound / 2.0);
  const int start = int(flow.out.size()) - 1;
  int edge = -1;
  for (int n = end; n != start; n = at(empty, edge ^ 1).to) edge = at(by, n);
  return *at(empty, edge).of;
}

/// An array that joins the end, and whose short-circuit current is not stated.
std::string unstated(const design::Design& d, PostId end) {
  if (std::all_of(d->arrays.begin(), d->arrays.end(),
                  [](const Array& a) { return a.module.isc.has_value(); }))
    return {};
  const auto group = groups_of(d);
  for (const Array& array : d->arrays)
    if (!array.module.isc && group[array.post] == group[end])
      return "the short-circuit current of \"" + array.name + "\" is not stated";
  return {};
}

Reaching reaching_with(const Flow& flow, RunId without, PostId end) {
  Reaching found;
  Edges empty = flow.edges;
  at(empty, 2 * without.index).room = at(empty, 2 * without.index + 1).room = 0.0;
  Edges edges = empty;
  const double most = fill(flow, edges, end.index);
  if (most >= no_bound) {
    found.most = Current::from_value(no_bound);
    found.unlimited = unheld_source(flow, empty, end.index);
    return found;
  }
  const auto by = reached(flow, edges, 1e-9);
  for (std::size_t e = 0; e < edges.size(); ++e) {
    const FlowEdge& edge = edges[e];
    const int from = edges[e ^ 1].to;
    if (at(by, from) < 0 || at(by, edge.to) >= 0 || empty[e].room <= 0.0) continue;
    found.held.push_back({what_holds(edge), Current::from_value(empty[e].room)});
  }
  found.most = sum<Current>(nullptr, "", "", found.held);
  return found;
}

/// By the set that brings most.
Reaching reaching_by(const design::Design& d, const std::vector<Flow>& flows, RunId without,
                     PostId end) {
  Reaching most = reaching_with(flows.front(), without, end);
  for (std::size_t i = 1; i < flows.size() && most.unlimited.empty(); ++i) {
    Reaching found = reaching_with(flows[i], without, end);
    if (found.most > most.most) most = std::move(found);
  }
  most.why_unknown = unstated(d, end);
  return most;
}

}  // namespace

bool drives_any_current(const Post& post) {
  const bool jumps =
      post.node == design::NodeKind::jump_post && post.purpose != design::Purpose::wake;
  return post.kind == PostKind::bank || post.kind == PostKind::feed || jumps;
}

std::optional<Current> given_among(const design::Design& d, const Reached& posts) {
  for (const auto id : d->posts.ids())
    if (posts[id] && drives_any_current(d[id])) return std::nullopt;
  Current most{};
  for (const ChargingSet& set : charging_sets(d)) {
    Current together{};
    for (const Consumer& c : set.members)
      if (c.kind != Consumer::Kind::charger_in && posts[post_of(d, c)])
        together = together + flow_limit(d, c);
    most = std::max(most, together);
  }
  return most;
}

Reaching reaching(const design::Design& d, RunId without, PostId end, Working* working) {
  Reaching found = reaching_by(d, flows_of(d), without, end);
  if (found.unlimited.empty()) (void)reaching_of(d, found, working);
  return found;
}

PerRun<RunEnds> reaching_ends(const design::Design& d) {
  const auto flows = flows_of(d);
  PerRun<RunEnds> all;
  all.reserve(d->runs.size());
  for (const RunId id : d->runs.ids())
    all.push_back({reaching_by(d, flows, id, d[id].from), reaching_by(d, flows, id, d[id].to)});
  return all;
}

Current reaching_of(const design::Design& d, const Reaching& found, Working* working) {
  for (std::size_t i = 0; i < d->arrays.size() && working; ++i)
    for (const auto& held : found.held)
      if (held.name == d->arrays[i].name)
        (void)flow_limit(d, {Consumer::Kind::array, int(i)}, working);
  return sum(working, "I_r",
             "what reaches that end, each path held by a device or its source's limit", found.held);
}

std::optional<Current> jump_current_of(const design::Design& d, PostId post, Working* working) {
  const auto purpose = d[post].purpose;
  if (!d->bank || !purpose || *purpose == design::Purpose::wake) return std::nullopt;
  const bool starts = *purpose == design::Purpose::start_a_vehicle;
  const double scale = d->nominal.value() / 12.0;
  Wired wired = network_of(d, stated_conductors(d), Condition::largest_fault);
  Network& n = wired.network;
  const Voltage empty = parts::bank_open_circuit(d->tables->cells, *d->bank, 0.0);
  std::vector<Feed> batteries;  // nothing else feeds meanwhile
  for (const int battery : wired.batteries) batteries.push_back(at(n.feeds, battery));
  if (!starts)
    for (Feed& battery : batteries) battery.open_circuit = empty;
  n.feeds = std::move(batteries);
  const auto& pole = wired.posts[post];
  const auto seen = seen_from(n, pole.plus, pole.minus);
  if (!seen) return std::nullopt;
  const Source source = solution(weakest(n));
  const Voltage bank = given(working, "U_b", starts ? "full bank, rested" : "empty bank",
                             seen->open_circuit, source);
  const Resistance way =
      given(working, "R_b", "bank and cables to the posts", seen->resistance, source);
  const Voltage vehicle =
      given(working, "U_v", "vehicle battery",
            Voltage((starts ? vehicle_starting : vehicle_charging) * scale), jump_source);
  const Resistance leads =
      given(working, "R_v", "vehicle battery and its leads", vehicle_resistance, jump_source);
  return starts ? step(working, jump_current, bank, vehicle, way, leads)
                : step(working, jump_current, vehicle, bank, way, leads);
}

Current others_into_one(const design::Design& d, Working* working) {
  const Bank& bank = *d->bank;
  const auto low = low_resistance_of(bank);
  const Resistance one =
      given(working, "R_b", "low resistance of one battery",
            Resistance(low.value * double(bank.in_series)),
            Source{low.kind, low.kind == SourceKind::supplier ? "the design" : "judgement",
                   low.kind == SourceKind::supplier ? "as stated" : "low, by its capacity"});
  return step(working, fault_of_the_others, Ratio(double(bank.parallel)), full_rested(d), one);
}

}  // namespace housepower::wiring

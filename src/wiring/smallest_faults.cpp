// SPDX-License-Identifier: Apache-2.0
// Smallest prospective currents: each unlimited source by itself, and what each device must clear.
#include <cmath>

#include "housepower/wiring/clearing.hpp"
#include "housepower/wiring/neighbours.hpp"
#include "inside.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

/// One unlimited source by itself.
struct Single {
  std::string name;
  PostId post;
  bool supplied = false;
  std::string unknown;  // what is not stated of it
  Network network;
  std::vector<Way> ways;
  std::vector<std::optional<SeenFrom>> seen;          // from each post
  std::optional<SeenFrom> at_battery = std::nullopt;  // from the terminals of another battery
  SourceKind kind = SourceKind::published;
};

NodePair pair_of(const Wired::Pole& pole) { return {pole.plus, pole.minus}; }

Single single(const design::Design& d, const Wired& wired, std::string name, PostId post,
              int feed) {
  Single s{std::move(name), post, false, {}, wired.network, ways_from(d, post), {}};
  s.network.feeds = {at(wired.network.feeds, feed)};
  s.kind = weakest(s.network);
  std::vector<NodePair> pairs;
  for (const auto& pole : wired.posts) pairs.push_back(pair_of(pole));
  const bool another = !wired.batteries.empty() && wired.batteries.back() != feed;
  if (another) {
    const Feed& battery = at(wired.network.feeds, wired.batteries.back());
    pairs.emplace_back(battery.plus, battery.minus);
  }
  s.seen = seen_from(s.network, pairs);
  if (another) {
    s.at_battery = s.seen.back();
    s.seen.pop_back();
  }
  return s;
}

/// The battery that is farthest from the bank's terminals: the way through the links grows towards
/// both ends of the row, so it is one of those.
int farthest_battery(const design::Design& d, const Wired& wired) {
  const int first = wired.batteries.front(), last = wired.batteries.back();
  if (!d->bank->link_positive && !d->bank->link_negative) return first;
  const auto resistance = [&](int feed) {
    Network alone = wired.network;
    alone.feeds = {at(wired.network.feeds, feed)};
    const auto& bar = at(wired.posts, d->bank->post.index);
    return seen_from(alone, bar.plus, bar.minus).value_or(SeenFrom{}).resistance;
  };
  return resistance(first) < resistance(last) ? last : first;
}

std::vector<Single> single_sources(const design::Design& d, const Wired& wired) {
  std::vector<Single> all;
  if (d->bank)
    all.push_back(single(d, wired, d->bank->parallel > 1 ? "one battery" : "the battery",
                         d->bank->post, farthest_battery(d, wired)));
  if (d->bank) all.back().supplied = !d->bank->high;
  for (std::size_t i = 0; i < d->feeds.size(); ++i) {
    const auto& feed = d->feeds[i];
    all.push_back(single(d, wired, "\"" + feed.name + "\"", feed.post, wired.feeds[i]));
    if (at(all.back().network.feeds, 0).internal <= least_resistance)
      all.back().unknown = "the high resistance of \"" + feed.name + "\" is not stated";
  }
  for (std::size_t i = 0; i < d->posts.size(); ++i)
    if (wired.jump_posts[i] >= 0) {
      all.push_back(
          single(d, wired, "\"" + d->posts[i].name + "\"", {int(i)}, wired.jump_posts[i]));
      all.back().supplied = true;
    }
  return all;
}

/// What is not stated on the way from a source.
std::string missing_on(const design::Design& d, const Single& s, PostId post) {
  if (!s.unknown.empty()) return s.unknown;
  const Way& way = at(s.ways, post.index);
  for (const auto& part : way.outgoing)
    if (!d[part.run].conductor) return "run \"" + d[part.run].name + "\" has no conductor";
  for (const auto& part : way.back) {
    const Run& run = d[part.run];
    if (run.back.chassis && !d->chassis) return "the resistance of the chassis is not stated";
    if (!run.back.chassis && !run.back.conductor)
      return "run \"" + run.name + "\" has no conductor";
  }
  return {};
}

/// Of a fault that a run and another way feed together, the share in that run.
Ratio share_in(const Single& s, const Wired::Pole& place, int branch) {
  Network shorted = s.network;
  shorted.branches.push_back({place.plus, place.minus, least_resistance});
  const auto solution = solve(shorted);
  const auto* point = std::get_if<OperatingPoint>(&solution);
  if (!point) return 1.0;
  return std::abs(double(at(point->branch, branch) / point->branch.back()));
}

/// k²S² of a conductor: of a run's two poles the weaker.
std::optional<LetThrough> withstood_by(const design::Design& d, const ProtectedConductor& conductor,
                                       Working* working) {
  if (!conductor.run)
    return d->bank->lead ? least_withstand_of(*d->tables, d->bank->lead->conductor, working)
                         : std::nullopt;
  const Run& run = d[*conductor.run];
  if (!run.conductor) return std::nullopt;
  const auto* c = &*run.conductor;
  if (!run.back.chassis && run.back.conductor && run.back.conductor->copper < c->copper)
    c = &*run.back.conductor;
  return withstand_of(*d->tables, run.material, run.insulation, *c, working);
}

/// What one device protects from one source.
class Zone {
public:
  Zone(const design::Design& d, const Neighbours& neighbours, const Single& source,
       const Wired& wired, const DeviceFacts& facts)
      : d_(d), neighbours_(neighbours), s_(source), wired_(wired), facts_(facts),
        seen_(d->runs.size(), false) {}

  /// Through the device's own run to `far`, and on from there.
  void enter(int run, PostId far, bool divided) {
    divided_ = divided;
    std::fill(seen_.begin(), seen_.end(), false);
    (void)protect(run, far, true);
  }
  /// From a post on through all runs that no device protects nearer.
  std::optional<SmallestFault> follow(PostId post) {
    std::optional<SmallestFault> least;
    for (const Neighbour& next : at(neighbours_, post.index)) {
      if (seen_[std::size_t(next.run.index)] || device_at(d_[next.run], post, false)) continue;
      take(least, protect(next.run.index, next.other, false));
    }
    return least;
  }
  std::optional<SmallestFault> fault_at(PostId post) {
    if (divided_ && post == s_.post) return std::nullopt;  // round a ring: it heats no run of it
    const auto& seen = at(s_.seen, post.index);
    if (!seen) return std::nullopt;
    if (why.empty()) why = missing_on(d_, s_, post);
    SmallestFault fault{{}, s_.name, d_[post].name, *seen, 1.0, s_.kind, s_.supplied};
    if (divided_ && facts_.run)
      fault.share =
          share_in(s_, at(wired_.posts, post.index), at(wired_.runs, facts_.run->index).outgoing);
    fault.value = smallest_fault(fault);
    return fault;
  }
  void add(std::optional<RunId> run, const std::optional<SmallestFault>& smallest) {
    if (smallest) found.push_back({run, *smallest});
  }
  static void take(std::optional<SmallestFault>& least, const std::optional<SmallestFault>& other) {
    if (other && (!least || other->value < least->value)) least = other;
  }

  std::vector<ProtectedConductor> found;
  std::string why;

private:
  /// The smallest fault that heats a run: at its far end or beyond.
  std::optional<SmallestFault> protect(int run, PostId far, bool own) {
    seen_[std::size_t(run)] = true;
    const std::size_t place = found.size();
    auto least = fault_at(far);
    if (!device_at(d_->runs[std::size_t(run)], far, own)) take(least, follow(far));
    if (least) found.insert(found.begin() + std::ptrdiff_t(place), {RunId{run}, *least});
    return least;
  }
  /// A device at that end of a run; of the device's own run another one.
  bool device_at(const Run& run, PostId post, bool own) const {
    for (std::size_t n = 0; n < run.protection.size(); ++n)
      if ((run.protection[n].end == design::RunEnd::from ? run.from : run.to) == post &&
          !(own && n == facts_.number))
        return true;
    return false;
  }

  const design::Design& d_;
  const Neighbours& neighbours_;
  const Single& s_;
  const Wired& wired_;
  const DeviceFacts& facts_;
  std::vector<bool> seen_;
  bool divided_ = false;
};

/// Posts that a source reaches on the plus side without one run.
std::vector<bool> reached_without(const Neighbours& neighbours, PostId source, RunId without) {
  std::vector<bool> reached(neighbours.size(), false);
  std::vector<PostId> open{source};
  reached[std::size_t(source.index)] = true;
  while (!open.empty()) {
    const PostId here = open.back();
    open.pop_back();
    for (const Neighbour& next : at(neighbours, here.index)) {
      if (next.run == without || reached[std::size_t(next.other.index)]) continue;
      reached[std::size_t(next.other.index)] = true;
      open.push_back(next.other);
    }
  }
  return reached;
}

void take_zone(const design::Design& d, const Neighbours& neighbours, const Single& s,
               const Wired& wired, DeviceFacts& facts) {
  Zone zone(d, neighbours, s, wired, facts);
  if (facts.run) {
    const Run& run = d[*facts.run];
    const bool from = run.protection[facts.number].end == design::RunEnd::from;
    const PostId near = from ? run.from : run.to, far = from ? run.to : run.from;
    const auto reached = reached_without(neighbours, s.post, *facts.run);
    const bool at_near = reached[std::size_t(near.index)], at_far = reached[std::size_t(far.index)];
    if (at_near) zone.enter(facts.run->index, far, at_far);
    if (at_far) zone.enter(facts.run->index, near, at_near);
  } else if (s.post == d->bank->post) {  // one battery: into the bar, and into a dead battery
    auto least = zone.fault_at(d->bank->post);
    Zone::take(least, zone.follow(d->bank->post));
    if (s.at_battery) {
      SmallestFault dead{{}, s.name, "another battery", *s.at_battery, 1.0, s.kind, s.supplied};
      dead.value = smallest_fault(dead);
      Zone::take(least, dead);
    }
    if (least) zone.found.insert(zone.found.begin(), {std::nullopt, *least});
  }
  if (facts.why_no_smallest.empty()) facts.why_no_smallest = zone.why;
  for (const auto& one : zone.found) {
    const auto same = std::find_if(facts.conductors.begin(), facts.conductors.end(),
                                   [&](const ProtectedConductor& c) { return c.run == one.run; });
    if (same == facts.conductors.end()) facts.conductors.push_back(one);
    else if (one.smallest.value < same->smallest.value) same->smallest = one.smallest;
  }
}

/// The figures of the conductor that is worst off.
void add_figures(const design::Design& d, DeviceFacts& facts) {
  std::optional<SmallestFault> least;
  for (const auto& conductor : facts.conductors) Zone::take(least, conductor.smallest);
  if (!facts.why_no_smallest.empty() || !least) return;
  facts.smallest = least;
  const Protection& device = device_of(d, facts);
  facts.clearing = time_at(time_current_of(device).slow, device.rating, least->value);
  double worst = -1.0;
  for (const auto& conductor : facts.conductors) {
    const FaultHeat heat = fault_heat_of(d, facts, conductor);
    const double share = !heat.withstand    ? 0.0
                         : heat.let_through ? double(*heat.let_through / *heat.withstand)
                                            : 1.0 / heat.withstand->value();
    if (share <= worst) continue;
    worst = share;
    facts.let_through = heat.let_through;
    facts.withstand = heat.withstand;
  }
}

}  // namespace

void inside::add_smallest_faults(const design::Design& d, Assessment& a) {
  const Wired wired =
      network_of(d, stated_conductors(d), Condition::smallest_fault, weakest_state(d));
  const auto sources = single_sources(d, wired);
  const auto neighbours = neighbours_of(d, design::Pole::outgoing);
  for (DeviceFacts& facts : a.devices) {
    for (const Single& s : sources) take_zone(d, neighbours, s, wired, facts);
    add_figures(d, facts);
  }
  for (std::size_t i = 0; i < d->posts.size(); ++i) {
    std::string why;
    for (const Single& s : sources) {
      const auto& seen = s.seen[i];
      if (!seen) continue;
      if (why.empty()) why = missing_on(d, s, {int(i)});
      SmallestFault fault{{}, s.name, d->posts[i].name, *seen, 1.0, s.kind, s.supplied};
      fault.value = smallest_fault(fault);
      Zone::take(a.faults[i].smallest, fault);
    }
    if (!why.empty()) a.faults[i].smallest.reset();
  }
}

Current smallest_fault(const SmallestFault& fault, Working* working) {
  const Source source = solution(fault.kind);
  const Voltage u = given(working, "U", "open-circuit voltage of the source by itself, low",
                          fault.seen.open_circuit, source);
  const Resistance r = given(working, "R_k", "that source and the hot way to the fault and back",
                             fault.seen.resistance, source);
  const Current i = step(working, prospective_current, u, std::max(r, least_resistance));
  if (fault.share == 1.0) return i;
  given(working, "s", "share of it in the device", fault.share, source);
  return step(working, divided_current, fault.share, i);
}

FarFault far_fault_of(const design::Design& d, const DeviceFacts& facts,
                      const ProtectedConductor& conductor, Working* working) {
  const Protection& device = device_of(d, facts);
  FarFault f;
  f.smallest = smallest_fault(conductor.smallest, working);
  f.least = step(working, surely_seen, device.rating);
  f.clears = time_at(time_current_of(device).slow, device.rating, f.smallest, working);
  if (!(f.smallest.value() > 0.0)) return f;  // as in the bridge of a balanced ring
  if (const auto most = withstood_by(d, conductor, working))
    f.withstood = step(working, withstood_for, *most, f.smallest);
  return f;
}

FaultHeat fault_heat_of(const design::Design& d, const DeviceFacts& facts,
                        const ProtectedConductor& conductor, std::optional<Duration> within,
                        Working* working) {
  const Protection& device = device_of(d, facts);
  const Edge slow = time_current_of(device).slow;
  FaultHeat heat;
  Current from = conductor.smallest.value;
  if (within)
    if (const auto later = current_at(slow, device.rating, *within)) from = std::max(from, *later);
  const Current to = std::max(from, facts.largest.value_or(from));
  if (const auto most = largest_let_through(slow, device.rating, from, to, working)) {
    heat.let_through = most->value;
    heat.time = most->time;
  }
  heat.withstand = withstood_by(d, conductor, working);
  return heat;
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// Smallest prospective currents: each unlimited source by itself, and what each device must clear.
#include <cmath>

#include "../inside.hpp"
#include "housepower/wiring/neighbours.hpp"
#include "housepower/wiring/short_circuit.hpp"

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
  PerPost<Way> ways;
  PerPost<std::optional<SeenFrom>> seen;
  std::optional<SeenFrom> at_battery = std::nullopt;  // from the terminals of another battery
  PerPost<std::optional<SeenFrom>> strongest{};       // empty: not known
  Resistance colder{};  // part of its resistance that comes of a cold that was not read
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
  s.seen = PerPost<std::optional<SeenFrom>>(seen_from(s.network, pairs));
  if (another) {
    s.at_battery = s.seen.back();
    s.seen.pop_back();
  }
  return s;
}

/// What a source by itself, all its batteries together, is at its strongest, from each post.
PerPost<std::optional<SeenFrom>> at_its_strongest(const Wired& wired,
                                                  const std::vector<int>& feeds) {
  Network alone = wired.network;
  alone.feeds.clear();
  for (const int feed : feeds) alone.feeds.push_back(at(wired.network.feeds, feed));
  std::vector<NodePair> pairs;
  for (const auto& pole : wired.posts) pairs.push_back(pair_of(pole));
  return PerPost<std::optional<SeenFrom>>(seen_from(alone, pairs));
}

/// The battery that is farthest from the bank's terminals: the way through the links grows towards
/// both ends of the row, so it is one of those.
int farthest_battery(const design::Design& d, const Wired& wired) {
  const int first = wired.batteries.front(), last = wired.batteries.back();
  if (!d->bank->link_positive && !d->bank->link_negative) return first;
  const auto resistance = [&](int feed) {
    Network alone = wired.network;
    alone.feeds = {at(wired.network.feeds, feed)};
    const auto& bar = wired.posts[d->bank->post];
    return seen_from(alone, bar.plus, bar.minus).value_or(SeenFrom{}).resistance;
  };
  return resistance(first) < resistance(last) ? last : first;
}

std::vector<Single> single_sources(const design::Design& d, const Wired& wired,
                                   const Wired& strongest) {
  std::vector<Single> all;
  if (d->bank) {
    all.push_back(single(d, wired, d->bank->parallel > 1 ? "one battery" : "the battery",
                         d->bank->post, farthest_battery(d, wired)));
    Single& battery = all.back();
    battery.supplied = !d->bank->high;
    battery.strongest = at_its_strongest(strongest, strongest.batteries);
    battery.colder = (resistance_in_use(d, weakest_state(d)).value -
                      resistance_in_use(d, weakest_state_read(d)).value) *
                     double(d->bank->in_series);
  }
  for (std::size_t i = 0; i < d->feeds.size(); ++i) {
    const auto& feed = d->feeds[i];
    all.push_back(single(d, wired, "\"" + feed.name + "\"", feed.post, wired.feeds[i]));
    if (at(all.back().network.feeds, 0).internal <= least_resistance)
      all.back().unknown = "the high resistance of \"" + feed.name + "\" is not stated";
    if (feed.resistance_low)
      all.back().strongest = at_its_strongest(strongest, {strongest.feeds[i]});
  }
  for (std::size_t i = 0; i < d->posts.size(); ++i)
    if (wired.jump_posts[i] >= 0) {
      all.push_back(
          single(d, wired, "\"" + d->posts[i].name + "\"", {int(i)}, wired.jump_posts[i]));
      all.back().supplied = true;
    }
  return all;
}

/// A fault of a source as seen from its place.
SmallestFault fault_of(const Single& s, const SeenFrom& seen, std::string where, Ratio share) {
  SmallestFault fault{{}, s.name, std::move(where), seen, share, s.kind, s.supplied};
  fault.value = smallest_fault(fault);
  fault.colder = s.colder;
  return fault;
}

/// Beside the faults of other sources; of one source that reaches a run from both sides the worst.
void add_source(ProtectedConductor& conductor, const SmallestFault& one) {
  const auto same =
      std::find_if(conductor.sources.begin(), conductor.sources.end(),
                   [&](const SmallestFault& other) { return other.source == one.source; });
  if (same == conductor.sources.end()) {
    conductor.sources.push_back(one);
    return;
  }
  const bool known = one.strongest && same->strongest;
  const auto strongest = known ? std::max(one.strongest, same->strongest) : std::nullopt;
  if (one.value < same->value) *same = one;
  same->strongest = strongest;
}

/// What is not stated on the way from a source.
std::string missing_on(const design::Design& d, const Single& s, PostId post) {
  if (!s.unknown.empty()) return s.unknown;
  const Way& way = s.ways[post];
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

/// What one device protects from one source.
class Zone {
public:
  Zone(const design::Design& d, const Neighbours& neighbours, const Single& source,
       const Wired& wired, const DeviceFacts& facts)
      : d_(d), neighbours_(neighbours), s_(source), wired_(wired), facts_(facts),
        seen_(d->runs.size()) {}

  /// Through the device's own run to `far`, and on from there.
  void enter(RunId run, PostId far, bool divided) {
    divided_ = divided;
    seen_ = PerRun<bool>(seen_.size());
    (void)protect(run, far, true);
  }
  /// From a post on through all runs that no device protects nearer.
  std::optional<SmallestFault> follow(PostId post) {
    std::optional<SmallestFault> least;
    for (const Neighbour& next : neighbours_[post]) {
      if (seen_[next.run] || device_at(d_[next.run], post, false)) continue;
      take(least, protect(next.run, next.other, false));
    }
    return least;
  }
  std::optional<SmallestFault> fault_at(PostId post) {
    if (divided_ && post == s_.post) return std::nullopt;  // round a ring: it heats no run of it
    const auto& seen = s_.seen[post];
    if (!seen) return std::nullopt;
    if (why.empty()) why = missing_on(d_, s_, post);
    const Ratio share = divided_ && facts_.run
                            ? share_in(s_, wired_.posts[post], wired_.runs[*facts_.run].outgoing)
                            : Ratio(1.0);
    return fault_of(s_, *seen, d_[post].name, share);
  }
  /// What the source drives to a post at its strongest, all of it.
  std::optional<Current> strongest_at(PostId post) const {
    if (s_.strongest.empty() || !s_.strongest[post]) return std::nullopt;
    const SeenFrom& seen = *s_.strongest[post];
    return prospective_current(seen.open_circuit, std::max(seen.resistance, least_resistance));
  }
  void add(std::optional<RunId> run, const std::optional<SmallestFault>& smallest) {
    if (smallest) found.push_back({run, *smallest, {}});
  }
  static void take(std::optional<SmallestFault>& least, const std::optional<SmallestFault>& other) {
    if (other && (!least || other->value < least->value)) least = other;
  }

  std::vector<ProtectedConductor> found;
  std::string why;

private:
  /// The smallest fault that heats a run: at its far end or beyond.
  std::optional<SmallestFault> protect(RunId run, PostId far, bool own) {
    seen_[run] = true;
    const std::size_t place = found.size();
    auto least = fault_at(far);
    if (!device_at(d_[run], far, own)) take(least, follow(far));
    if (least) {
      const auto here = found.insert(found.begin() + std::ptrdiff_t(place), {run, *least, {}});
      here->smallest.strongest = strongest_at(far);
    }
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
  PerRun<bool> seen_;
  bool divided_ = false;
};

void take_zone(const design::Design& d, const Neighbours& neighbours, const Single& s,
               const Wired& wired, DeviceFacts& facts) {
  Zone zone(d, neighbours, s, wired, facts);
  if (facts.run) {
    const Run& run = d[*facts.run];
    const bool from = run.protection[facts.number].end == design::RunEnd::from;
    const PostId near = from ? run.from : run.to, far = from ? run.to : run.from;
    const auto reached = joined_without(neighbours, s.post, *facts.run);
    const bool at_near = reached[near], at_far = reached[far];
    if (at_near) zone.enter(*facts.run, far, at_far);
    if (at_far) zone.enter(*facts.run, near, at_near);
  } else if (s.post == d->bank->post) {  // one battery: into the bar, and into a dead battery
    auto least = zone.fault_at(d->bank->post);
    Zone::take(least, zone.follow(d->bank->post));
    if (s.at_battery) {
      Zone::take(least, fault_of(s, *s.at_battery, "another battery", 1.0));
    }
    if (least) zone.found.insert(zone.found.begin(), {std::nullopt, *least, {}});
  }
  if (facts.why_no_smallest.empty()) facts.why_no_smallest = zone.why;
  for (const auto& one : zone.found) {
    auto same = std::find_if(facts.conductors.begin(), facts.conductors.end(),
                             [&](const ProtectedConductor& c) { return c.run == one.run; });
    if (same == facts.conductors.end()) same = facts.conductors.insert(same, one);
    else if (one.smallest.value < same->smallest.value) same->smallest = one.smallest;
    add_source(*same, one.smallest);
  }
}

/// The figures of the conductor that is worst off.
void add_figures(const design::Design& d, const Assessment& a, DeviceFacts& facts) {
  std::optional<SmallestFault> least;
  for (const auto& conductor : facts.conductors) Zone::take(least, conductor.smallest);
  if (!facts.why_no_smallest.empty() || !least) return;
  facts.smallest = least;
  const Protection& device = device_of(d, facts);
  facts.clearing = time_at(time_current_of(device).slow, device.rating, least->value);
  double worst = -1.0;
  for (const auto& conductor : facts.conductors) {
    const FaultHeat heat = quick_heat_of(d, a, facts, conductor);
    if (!heat.withstand) continue;
    const double share = heat.let_through ? double(heat.let_through->value / *heat.withstand) : 0.0;
    if (share <= worst) continue;
    worst = share;
    facts.let_through.reset();
    if (heat.let_through) facts.let_through = heat.let_through->value;
    facts.withstand = heat.withstand;
  }
}

}  // namespace

void inside::add_smallest_faults(const design::Design& d, Assessment& a) {
  const Wired wired =
      network_of(d, stated_conductors(d), Condition::smallest_fault, weakest_state(d));
  const Wired strongest = network_of(d, stated_conductors(d), Condition::largest_fault);
  const auto sources = single_sources(d, wired, strongest);
  const auto neighbours = neighbours_of(d, design::Pole::outgoing);
  for (DeviceFacts& facts : a.devices) {
    for (const Single& s : sources) take_zone(d, neighbours, s, wired, facts);
    add_figures(d, a, facts);
  }
  for (std::size_t i = 0; i < d->posts.size(); ++i) {
    std::string why;
    for (const Single& s : sources) {
      const auto& seen = s.seen[i];
      if (!seen) continue;
      if (why.empty()) why = missing_on(d, s, {int(i)});
      Zone::take(a.faults[i].smallest, fault_of(s, *seen, d->posts[i].name, 1.0));
    }
    if (!why.empty()) a.faults[i].smallest.reset();
  }
}

Current smallest_fault(const SmallestFault& fault, Working* working) {
  const Source source = solution(fault.kind);
  const Voltage u = given(working, "U", "open-circuit voltage of the source by itself, low",
                          fault.seen.open_circuit, source);
  const Resistance r = given(working, "R_k", "that source and the hot cables to the fault and back",
                             fault.seen.resistance, source);
  const Current i = step(working, prospective_current, u, std::max(r, least_resistance));
  if (fault.share == 1.0) return i;
  given(working, "s", "share of it in the device", fault.share, source);
  return step(working, divided_current, fault.share, i);
}

}  // namespace housepower::wiring

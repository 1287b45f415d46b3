// SPDX-License-Identifier: Apache-2.0
#include "housepower/wiring/devices_before.hpp"

#include "../inside.hpp"
#include "housepower/units/unit.hpp"
#include "housepower/wiring/short_circuit.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

DeviceBefore batteries_devices(const design::Design& d) {
  const auto& bank = *d->bank;
  return {std::nullopt, 0, bank.each_device->device.rating * double(bank.parallel)};
}

/// Of a run's devices, or of those at one end.
std::optional<DeviceBefore> smallest_on(const Run& run, RunId id,
                                        std::optional<design::RunEnd> end = {}) {
  std::optional<DeviceBefore> least;
  for (std::size_t n = 0; n < run.protection.size(); ++n) {
    const Protection& p = run.protection[n];
    if (end && p.end != *end) continue;
    if (!least || p.rating < least->rating) least = DeviceBefore{id, n, p.rating};
  }
  return least;
}

void take_larger(std::optional<DeviceBefore>& most, const DeviceBefore& one) {
  if (!most || most->rating < one.rating) most = one;
}

/// A walk over the plus side that starts at one post and never comes back to it.
class Walk {
public:
  Walk(const design::Design& d, const Neighbours& plus) : d_(d), plus_(plus) {}

  DevicesBefore from(PostId post, RunId without) {
    walked_ = Reached(plus_.size());
    step_on(post, without);
    return std::move(found_);
  }

private:
  void step_on(PostId post, RunId without) {
    walked_[post] = true;
    for (const Neighbour& next : plus_[post]) {
      if (next.run == without || walked_[next.other]) continue;
      const Run& run = d_[next.run];
      const auto device = smallest_on(run, next.run);
      if (!device) arrive(next.other, next.run);
      else if (leads_to_source(next.other)) found_.nearest.push_back(*device);
    }
  }
  void arrive(PostId post, RunId by) {
    const Post& here = d_[post];
    if (here.kind == PostKind::bank && d_->bank->each_device) {
      found_.nearest.push_back(batteries_devices(d_));
      walked_[post] = true;
    } else if (drives_any_current(here)) {
      found_.unheld = here.name;
      walked_[post] = true;
    } else {
      step_on(post, by);
    }
  }
  /// Without coming back to where the walk has been.
  bool leads_to_source(PostId start) const {
    bool found = drives_any_current(d_[start]);
    Reached seen = walked_;
    walk(plus_, start, seen, [&](PostId, const Neighbour& next) {
      found = found || drives_any_current(d_[next.other]);
      return !found;
    });
    return found;
  }

  const design::Design& d_;
  const Neighbours& plus_;
  Reached walked_{};
  DevicesBefore found_{};
};

const DeviceFacts* facts_of(const Assessment& a, const DeviceBefore& device) {
  for (const DeviceFacts& facts : a.devices)
    if (facts.run == device.run && facts.number == device.number) return &facts;
  return nullptr;
}

/// Out along the tap and home beside it, both hot; a chassis counts nothing.
Resistance hot_way(const Run& run, Length length, Working* working) {
  const auto pole = [&](const tables::Conductor& c) {
    const auto r = step(working, resistance_at_temperature, c.resistance_at_20, run.insulation);
    return step(working, pole_resistance, r, length, Ratio(double(run.parallel)), Resistance{});
  };
  std::vector<Term<Resistance>> way{{"out", pole(*run.conductor)}};
  if (!run.back.chassis && run.back.conductor) way.push_back({"back", pole(*run.back.conductor)});
  return sum(working, "R_t", "the tap, hot, out and back", way);
}

/// Of a fault that the device's way feeds together with another, the device's part.
Ratio share_through(const design::Design& d, const DeviceFacts& facts, PostId post) {
  Ratio least = 1.0;
  for (const ProtectedConductor& one : facts.conductors)
    if (one.run && (d[*one.run].from == post || d[*one.run].to == post))
      least = std::min(least, one.smallest.share);
  return least;
}

/// Whether a device ends all faults in a stretch in time; nothing where no k is known for it.
std::optional<bool> ends_in_time(const design::Design& d, const Assessment& a,
                                 const DeviceFacts& facts, const ProtectedConductor& stretch,
                                 Working* working) {
  const Bearing bearing = bearing_of(d, a, stretch);
  if (!bearing.factor) return std::nullopt;
  const FarFault far = short_circuit_of(d, a, facts, stretch, stretch.smallest, working);
  return clears_in_time(far, bearing) &&
         is_borne(fault_heat_of(d, a, facts, stretch, nullptr, far.from), bearing);
}

}  // namespace

DevicesBefore devices_before(const design::Design& d, const Neighbours& plus, PostId post,
                             RunId without) {
  return Walk(d, plus).from(post, without);
}

std::optional<DeviceBefore> largest_before_post(const design::Design& d, const Neighbours& plus,
                                                PostId post) {
  std::optional<DeviceBefore> most;
  for (const DeviceBefore& one : devices_before(d, plus, post).nearest) take_larger(most, one);
  return most;
}

namespace {

constexpr Length stub = Length::from_value(0.2);  // an item of no stated place stands behind it

/// Whether an item is reached from that end only through the device there.
bool stands_before(const Run& run, const Protection& device,
                   const design::resolved::InlineItem& item) {
  if (!item.sits_in(design::Pole::outgoing)) return true;  // what goes home has passed the device
  Length whole{};
  for (const auto& s : run.sections) whole += s.length;
  const Length there = device.distance.value_or(Length{});
  if (!item.distance) return there <= stub;
  const Length at =
      device.end == design::RunEnd::from ? *item.distance : Length(whole - *item.distance);
  return there <= at;
}

}  // namespace

std::optional<DeviceBefore> largest_before_item(const design::Design& d, const Neighbours& plus,
                                                RunId id,
                                                const design::resolved::InlineItem& item) {
  const Run& run = d[id];
  std::optional<DeviceBefore> most;
  for (const auto end : {design::RunEnd::from, design::RunEnd::to}) {
    const PostId post = end == design::RunEnd::from ? run.from : run.to;
    const DevicesBefore before = devices_before(d, plus, post, id);
    const bool at_source = drives_any_current(d[post]) || !before.unheld.empty();
    if (!at_source && before.nearest.empty()) continue;
    const auto own = smallest_on(run, id, end);
    const bool holds = own && (at_source || stands_before(run, run.protection[own->number], item));
    if (holds) take_larger(most, *own);
    else if (d[post].kind == PostKind::bank && d->bank->each_device)
      take_larger(most, batteries_devices(d));
    else if (at_source) {
      const auto other = smallest_on(
          run, id, end == design::RunEnd::from ? design::RunEnd::to : design::RunEnd::from);
      if (other) take_larger(most, *other);
    } else
      for (const DeviceBefore& one : before.nearest) take_larger(most, one);
  }
  return most;
}

std::string name_of(const design::Design& d, const DeviceBefore& device) {
  if (!device.run)
    return "the " + print(d->bank->each_device->device.rating) + " device at each battery";
  const Run& run = d[*device.run];
  return "the " + print(device.rating) + " " + run.protection[device.number].type + " of run \"" +
         run.name + "\"";
}

TapFault fault_at_tap(const design::Design& d, const Assessment& a, RunId tap, PostId post,
                      Length length, const DevicesBefore& before, const DeviceBefore& device,
                      Working* working) {
  TapFault found;
  const DeviceFacts* facts = facts_of(a, device);
  const Run& run = d[tap];
  const auto& there = a.faults[post].smallest;
  if (!facts || !there || !run.conductor) found.why_unknown = "the fault there is not known";
  else if (!facts->why_unknown.empty()) found.why_unknown = facts->why_unknown;
  else if (time_current_of(device_of(d, *facts)).slow.points.empty())
    found.why_unknown = "no time-current curve is known for " + name_of(d, device);
  if (!found.why_unknown.empty()) return found;
  ProtectedConductor stretch{tap, *there, {}};
  stretch.smallest.where = "the end of the tap";
  stretch.smallest.seen.resistance += hot_way(run, length, working);
  if (before.nearest.size() > 1) stretch.smallest.share = share_through(d, *facts, post);
  stretch.smallest.value = smallest_fault(stretch.smallest);
  found.smallest = stretch.smallest.value;
  found.supplied = there->supplied;
  const auto ends = ends_in_time(d, a, *facts, stretch, working);
  if (!ends) found.why_unknown = "no k is known for the insulation of run \"" + run.name + "\"";
  found.clears = ends.value_or(false);
  return found;
}

}  // namespace housepower::wiring

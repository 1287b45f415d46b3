// SPDX-License-Identifier: Apache-2.0
// Devices in a row: the upstream one's fast edge against the downstream one's slow edge.
#include "housepower/wiring/selectivity.hpp"

#include "../inside.hpp"
#include "housepower/wiring/clearing.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

bool uses(const std::vector<Way::Part>& parts, RunId run) {
  return std::any_of(parts.begin(), parts.end(),
                     [&](const Way::Part& part) { return part.run == run; });
}

/// The way from the source to a device's own run.
const Way* way_to(const design::Design& d, const Assessment& a, const DeviceFacts& facts) {
  if (!facts.run) return nullptr;
  const Run& run = d[*facts.run];
  for (const PostId end : {run.from, run.to})
    if (const Way& way = a.ways[end]; way.source && !uses(way.outgoing, *facts.run)) return &way;
  return nullptr;
}

/// How much of what an upstream device bears a fault may take: all batteries share it.
double side_by_side(const design::Design& d, const DeviceFacts& upstream) {
  return upstream.run ? 1.0 : double(d->bank->parallel);
}

bool always_on(const Appliance& a) {
  Duration on{};
  for (const Window& w : a.windows) on += w.to - w.from;
  return !a.per_day && on >= 24.0 * hour;
}

/// The first that is always on among what hangs on a consumer's post.
std::string always_on_at(const design::Design& d, const Consumer& c) {
  using Kind = Consumer::Kind;
  for (const Appliance& a : d->appliances) {
    const bool here = c.kind == Kind::appliance  ? &a == &d->appliances[{c.index}]
                      : c.kind == Kind::inverter ? a.inverter && a.inverter->index == c.index
                                                 : false;
    if (here && always_on(a)) return a.name;
  }
  return {};
}

/// A consumer on which something hangs that is always on.
struct AlwaysOn {
  Consumer consumer;
  std::string name;
  bool from_bank = false;
};
bool among(const std::vector<Consumer>& list, const Consumer& c) {
  return std::any_of(list.begin(), list.end(), [&](const Consumer& other) {
    return other.kind == c.kind && other.index == c.index;
  });
}

/// What goes dark with the upstream device and not with the other.
std::string in_the_dark(const std::vector<AlwaysOn>& all,
                        const PerRun<std::vector<Consumer>>& beyond, const DeviceFacts& device,
                        const DeviceFacts& upstream) {
  for (const AlwaysOn& one : all) {
    const auto behind = [&](const DeviceFacts& d) {
      return d.run ? among(beyond[*d.run], one.consumer) : one.from_bank;
    };
    if (!behind(device) && behind(upstream)) return one.name;
  }
  return {};
}

/// The earliest that an upstream device opens; in the heat of its place it opens as if it were
/// smaller, where that is published.
std::optional<Duration> holds_at(const design::Design& d, const DeviceFacts& upstream, Current i,
                                 Working* working) {
  const Protection& device = device_of(d, upstream);
  const Current carries = carries_there(device, working).value_or(device.rating);
  return time_at(time_current_of(device).fast, carries, i / side_by_side(d, upstream), working);
}

/// Between gates both edges are straight on logarithmic scales, so they are closest at a gate of
/// either or at an end.
void find_closest(const design::Design& d, const DeviceFacts& facts, const DeviceFacts& upstream,
                  Meeting& m) {
  const Protection& device = device_of(d, facts);
  const Protection& above = device_of(d, upstream);
  const Edge slow = time_current_of(device).slow, fast = time_current_of(above).fast;
  const Current from =
      std::max(facts.smallest->value, device.rating * double(slow.points.front().multiple));
  const Current to = std::max(from, *facts.largest);
  std::vector<Current> where{from, to};
  for (const auto& point : slow.points) where.push_back(device.rating * double(point.multiple));
  const Current carries_each = carries_there(above).value_or(above.rating);
  const Current carries = carries_each * side_by_side(d, upstream);
  for (const auto& point : fast.points) where.push_back(carries * double(point.multiple));
  double closest = 0.0;
  for (const Current& i : where) {
    const auto opens = from <= i && i <= to ? time_at(slow, device.rating, i) : std::nullopt;
    if (!opens) continue;
    const auto holds = time_at(fast, carries_each, i / side_by_side(d, upstream));
    const double nearness = holds ? double(*opens / *holds) : 0.0;
    if (d->bank)
      if (const auto switches = switches_hold(*d->bank, i); switches && *switches < *opens)
        m.switches_first = true;
    if (m.at.value() > 0.0 && nearness <= closest) continue;
    closest = nearness;
    m.at = i;
    m.opens = *opens;
    m.holds = holds;
  }
}

}  // namespace

std::vector<Meeting> meetings_of(const design::Design& d, const Assessment& a) {
  const auto beyond = beyond_runs(d, a.ways);
  std::vector<AlwaysOn> dark;
  for (const Consumer& c : drawing(d)) {
    std::string name = always_on_at(d, c);
    if (name.empty()) continue;
    const Way& way = a.ways[post_of(d, c)];
    dark.push_back({c, std::move(name), way.source && d->bank && *way.source == d->bank->post});
  }
  PerRun<std::vector<std::size_t>> of_run(d->runs.size());
  std::vector<std::size_t> at_battery;
  for (std::size_t i = 0; i < a.devices.size(); ++i)
    (a.devices[i].run ? of_run[*a.devices[i].run] : at_battery).push_back(i);

  std::vector<Meeting> all;
  for (std::size_t i = 0; i < a.devices.size(); ++i) {
    const DeviceFacts& facts = a.devices[i];
    const Way* way = way_to(d, a, facts);
    if (!way) continue;
    std::vector<std::size_t> above;
    for (const Way::Part& part : way->outgoing)
      for (const std::size_t k : of_run[part.run]) above.push_back(k);
    if (d->bank && *way->source == d->bank->post)
      above.insert(above.end(), at_battery.begin(), at_battery.end());
    for (const std::size_t k : above) {
      const DeviceFacts& upstream = a.devices[k];
      Meeting& m = all.emplace_back();
      m.device = i;
      m.upstream = k;
      if (!facts.smallest || !facts.largest) m.unknown = "the faults that reach it are not known";
      else if (time_current_of(device_of(d, facts)).slow.points.empty())
        m.unknown = "no curve is known of " + name_of(d, facts);
      else if (time_current_of(device_of(d, upstream)).fast.points.empty())
        m.unknown = "no fast edge is known of " + name_of(d, upstream);
      else find_closest(d, facts, upstream, m);
      m.in_the_dark = in_the_dark(dark, beyond, facts, upstream);
    }
  }
  return all;
}

Duration opens_at(const design::Design& d, const Assessment& a, const Meeting& m,
                  Working* working) {
  const DeviceFacts& facts = a.devices[m.device];
  const Protection& device = device_of(d, facts);
  given(working, "I", "fault at which they come closest", m.at,
        solution(SourceKind::common_practice));
  (void)holds_at(d, a.devices[m.upstream], m.at, working);
  return time_at(time_current_of(device).slow, device.rating, m.at, working).value_or(m.opens);
}

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// Largest prospective currents: all unlimited sources through cold copper, resistive, and beside
// them the largest set of limited sources that can coincide.
#include "../inside.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::wiring {

using namespace inside;

namespace {

using ConsumerKind = Consumer::Kind;

/// What the faults of a whole design are reckoned from.
struct Faults {
  Wired wired;
  PerPost<int> group;  // posts that runs join
  std::vector<ChargingSet> sets;
};

Faults faults_of(const design::Design& d) {
  return {network_of(d, stated_conductors(d), Condition::largest_fault), groups_of(d),
          charging_sets(d)};
}

/// The largest current of a limited source in a fault; an array's as of its panels in strong sun.
Current fault_limit(const design::Design& d, const Consumer& c) {
  const double sun = c.kind == ConsumerKind::array ? 1.25 : 1.0;
  return -full_current(d, c) * sun;
}

/// The largest set of limited sources at the post's part of the network.
std::vector<Term<Current>> limited_at(const design::Design& d, const Faults& faults, PostId post) {
  std::vector<Term<Current>> largest;
  Current most{};
  for (const auto& set : faults.sets) {
    std::vector<Term<Current>> terms;
    for (const Consumer& c : set.members)
      if (c.kind != ConsumerKind::charger_in && faults.group[post_of(d, c)] == faults.group[post])
        terms.push_back({name_of(d, c), fault_limit(d, c)});
    const Current total = sum<Current>(nullptr, "", "", terms);
    if (total <= most) continue;
    most = total;
    largest = std::move(terms);
  }
  return largest;
}

/// What is not stated and would be needed.
std::string missing_at(const design::Design& d, const Faults& faults, const Way& way, PostId post) {
  const int here = faults.group[post];
  for (const auto& feed : d->feeds)
    if (faults.group[feed.post] == here && !feed.resistance_low)
      return "the low resistance of \"" + feed.name + "\" is not stated";
  for (const auto& array : d->arrays)
    if (faults.group[array.post] == here && !array.module.isc)
      return "the short-circuit current of \"" + array.name + "\" is not stated";
  for (const auto& part : way.outgoing)
    if (!d[part.run].conductor) return "run \"" + d[part.run].name + "\" has no conductor";
  for (const auto& part : way.back)
    if (!d[part.run].back.chassis && !d[part.run].back.conductor)
      return "run \"" + d[part.run].name + "\" has no conductor";
  return {};
}

/// Current at a post, or beyond a stretch of one conductor from it.
std::optional<Current> fault_through(const design::Design& d, const FaultSources& sources,
                                     SourceKind kind, const Run* run, Length stretch,
                                     Working* working) {
  std::vector<Term<Current>> terms;
  if (sources.unlimited) {
    const Source source = solution(kind);
    const Voltage u =
        given(working, "U", "open-circuit voltage there", sources.unlimited->open_circuit, source);
    std::vector<Term<Resistance>> way{
        {"sources and cables", given(working, "R_k", "resistance seen into the network",
                                     sources.unlimited->resistance, source)}};
    if (run && run->conductor && stretch.value() > 0.0) {
      const Area s = std::max(run->conductor->nominal, run->conductor->copper);
      const auto r20 = step(working, copper_resistance, copper_resistivity, s);
      const auto r = step(working, resistance_at_temperature, r20, coldest(d));
      way.push_back({"conductor to the device", step(working, pole_resistance, r, stretch,
                                                     Ratio(double(run->parallel)), Resistance{})});
    }
    const Resistance all = sum(working, "R", "resistance to the fault", way);
    terms.push_back({"batteries and feeds",
                     step(working, prospective_current, u, std::max(all, least_resistance))});
  }
  terms.insert(terms.end(), sources.limited.begin(), sources.limited.end());
  if (terms.empty()) return std::nullopt;
  return sum(working, "I_max", "largest prospective current", terms);
}

SourceKind kind_of_sources(const FaultSources& sources, const Faults& faults) {
  return sources.unlimited ? weakest(faults.wired.network) : SourceKind::supplier;
}

/// The post at the end of its run where a device sits.
PostId post_at(const design::Design& d, const DeviceFacts& facts) {
  if (!facts.run) return d->bank->post;
  const Run& run = d[*facts.run];
  return run.protection[facts.number].end == design::RunEnd::from ? run.from : run.to;
}

/// A device at each battery meets that battery alone, or all other sources feeding a dead battery.
void take_at_battery(const design::Design& d, const Faults& faults, DeviceFacts& facts) {
  const int own = faults.wired.batteries.front();
  const Feed battery = at(faults.wired.network.feeds, own);
  Network others = faults.wired.network;
  others.feeds.erase(others.feeds.begin() + own);
  const FaultSources alone{SeenFrom{battery.internal, battery.open_circuit}, {}};
  const FaultSources dead{seen_from(others, battery.plus, battery.minus),
                          limited_at(d, faults, d->bank->post)};
  const auto current = [&](const FaultSources& s) {
    return fault_through(d, s, facts.kind, nullptr, Length{}, nullptr).value_or(Current{});
  };
  facts.sources = current(dead) > current(alone) ? dead : alone;
}

void take_on_run(const design::Design& d, const Faults& faults, const Way& way, PostId post,
                 DeviceFacts& facts) {
  facts.sources.limited = limited_at(d, faults, post);
  facts.kind = kind_of_sources(facts.sources, faults);
  facts.why_unknown = missing_at(d, faults, way, post);
  const Run& run = d[*facts.run];
  const auto& distance = run.protection[facts.number].distance;
  if (facts.why_unknown.empty() && !run.conductor && distance && distance->value() > 0.0)
    facts.why_unknown = "run \"" + run.name + "\" has no conductor";
}

}  // namespace

void inside::add_largest_faults(const design::Design& d, Assessment& a) {
  const Faults faults = faults_of(d);
  std::vector<NodePair> pairs;
  for (const auto& pole : faults.wired.posts) pairs.emplace_back(pole.plus, pole.minus);
  const PerPost<std::optional<SeenFrom>> seen(seen_from(faults.wired.network, pairs));
  for (std::size_t i = 0; i < d->runs.size(); ++i)
    for (std::size_t n = 0; n < d->runs[i].protection.size(); ++n) {
      DeviceFacts& facts = a.devices.emplace_back();
      facts.run = RunId{int(i)};
      facts.number = n;
      const PostId post = post_at(d, facts);
      facts.sources.unlimited = seen[post];
      facts.on_bank = d->bank && faults.group[post] == faults.group[d->bank->post];
      take_on_run(d, faults, a.ways[post], post, facts);
    }
  if (d->bank && d->bank->each_device) {
    DeviceFacts& facts = a.devices.emplace_back();
    facts.on_bank = true;
    facts.kind = weakest(faults.wired.network);
    facts.why_unknown = missing_at(d, faults, a.ways[d->bank->post], d->bank->post);
    take_at_battery(d, faults, facts);
  }
  for (DeviceFacts& facts : a.devices) {
    facts.largest = largest_fault(d, facts);
    if (!facts.largest && facts.why_unknown.empty()) facts.why_unknown = "no source reaches it";
  }
  for (std::size_t i = 0; i < d->posts.size(); ++i) {
    const PostId post{int(i)};
    PostFaults& here = a.faults.emplace_back();
    if (!missing_at(d, faults, a.ways[post], post).empty()) continue;
    const FaultSources sources{seen[i], limited_at(d, faults, post)};
    here.largest = fault_through(d, sources, SourceKind::published, nullptr, Length{}, nullptr);
  }
}

std::optional<Current> largest_fault(const design::Design& d, const DeviceFacts& facts,
                                     Working* working) {
  if (!facts.why_unknown.empty()) return std::nullopt;
  return fault_through(d, facts.sources, facts.kind, facts.run ? &d[*facts.run] : nullptr,
                       device_of(d, facts).distance.value_or(Length{}), working);
}

const Protection& device_of(const design::Design& d, const DeviceFacts& facts) {
  return facts.run ? d[*facts.run].protection[facts.number] : d->bank->each_device->device;
}

design::Subject subject_of(const design::Design& d, const DeviceFacts& facts) {
  return facts.run ? subject_of(d, d[*facts.run]).protection(facts.number)
                   : design::subject_of_bank().battery_device();
}

std::string name_of(const design::Design& d, const DeviceFacts& facts) {
  const Protection& device = device_of(d, facts);
  return "the " + device.type + " " + print(device.rating) +
         (facts.run ? " of run \"" + d[*facts.run].name + "\"" : " at each battery");
}

}  // namespace housepower::wiring

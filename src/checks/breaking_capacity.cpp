// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "common.hpp"
#include "housepower/wiring/formulas.hpp"
#include "housepower/wiring/network_of.hpp"

namespace housepower::checks {
namespace {

/// Types of the tables that are made in this rating and break the fault as the check reads them.
std::string sufficient_types(const Evidence& e, const Protection& device, Current fault) {
  std::string types;
  for (const auto& type : e.design->tables->fuses) {
    const bool made = !type.ratings.empty() && type.ratings.front() <= device.rating &&
                      device.rating <= type.ratings.back();
    if (made && !type.breaking.empty() && type.breaking.front().capacity >= fault)
      types += (types.empty() ? "" : ", ") + type.name;
  }
  return types;
}

double tenths_up(double value) { return std::ceil(value * 10.0 - 1e-9) / 10.0; }

/// What a fault meets on a metre of a feed, out and back: cold pure copper.
ResistancePerLength cold_loop(const design::Design& d, const Run& feed,
                              const tables::Conductor& conductor) {
  const auto r20 = wiring::copper_resistance(wiring::copper_resistivity,
                                             std::max(conductor.copper, conductor.nominal));
  return 2.0 / double(feed.parallel) * wiring::resistance_at_temperature(r20, wiring::coldest(d));
}

/// The smallest of the series that still bears what the feed carries and its device lets through.
const tables::Conductor* smallest_bearing(const Evidence& e, const Run& feed) {
  const auto& facts = e.wiring.runs[std::size_t(&feed - e.design->runs.data())];
  Current needed = facts.current.outgoing;
  for (const Protection& device : feed.protection) needed = std::max(needed, device.rating);
  for (const auto& one : tables::series_named(*e.design->tables, e.design->sizes)) {
    if (feed.conductor->copper <= one.copper) break;
    const auto answer = wiring::ampacity_of(e.design, feed, one, design::Pole::outgoing);
    const auto* ampacity = std::get_if<wiring::Ampacity>(&answer);
    if (ampacity && needed <= ampacity->value) return &one;
  }
  return nullptr;
}

/// "run "x" at least 5.1 m long in its 35 mm2, or at least 1.2 m in 10 mm2, which still bears it".
std::string feed_cure(const Evidence& e, const Run& feed, Resistance missing) {
  const auto length_in = [&](const tables::Conductor& c) {
    const Length length = (cold_loop(e.design, feed, *feed.conductor) * feed.length + missing) /
                          cold_loop(e.design, feed, c);
    return print_plain(tenths_up(length.value()), 3) + " m";
  };
  std::string cure = "run " + quoted(feed.name) + " at least " + length_in(*feed.conductor) +
                     " long in its " + feed.conductor->name;
  if (const auto* smaller = smallest_bearing(e, feed))
    cure += ", or at least " + length_in(*smaller) + " long in " + smaller->name +
            ", which still bears its current";
  return cure;
}

/// The run through which all of a fault at a post comes; nothing where several feed it.
const Run* only_feed(const Evidence& e, design::resolved::PostId post) {
  const auto& way = e.wiring.ways[std::size_t(post.index)].outgoing;
  if (way.empty()) return nullptr;
  const Run& feed = e.design[way.back().run];
  const auto joined = joined_with(e.wiring.plus, post, way.back().run);
  for (std::size_t i = 0; i < joined.size(); ++i)
    if (joined[i] && is_unlimited(e.design->posts[i])) return nullptr;
  return feed.conductor && !feed.back.chassis ? &feed : nullptr;
}

/// The least change that helps: more conductor before the device, or a type that suffices.
std::string cure_of(const Evidence& e, const wiring::DeviceFacts& facts, Current fault) {
  const Protection& device = wiring::device_of(e.design, facts);
  const std::string types = sufficient_types(e, device, fault);
  const std::string by_type =
      "a device that breaks at least " + print(fault) + (types.empty() ? "" : ": " + types);
  Current limited{};
  for (const auto& source : facts.sources.limited) limited += source.value;
  if (!facts.run || !facts.sources.unlimited || limited >= *device.breaking_capacity)
    return by_type;
  // What the unlimited sources may still give, and the loop that holds them to it.
  const Voltage open = facts.sources.unlimited->open_circuit;
  const Resistance missing =
      open / (*device.breaking_capacity - limited) - open / (fault - limited);
  const Run& run = e.design[*facts.run];
  const auto& start = device.end == design::RunEnd::from ? run.from : run.to;
  if (const Run* feed = only_feed(e, start))
    return feed_cure(e, *feed, missing) + "; or " + by_type;
  return by_type;
}

std::vector<Finding> check_breaking(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& facts : e.wiring.devices) {
    const Protection& device = wiring::device_of(e.design, facts);
    const std::string subject = wiring::path_of(e.design, facts);
    const std::string who = wiring::name_of(e.design, facts);
    if (!facts.largest || !device.breaking_capacity) {
      Finding f = not_checked(
          rule, subject,
          who + ": " +
              (facts.largest ? "no breaking capacity is known for it" : facts.why_unknown));
      f.cure = facts.largest ? "state its `breaking_capacity` from its maker's sheet"
                             : "state the least resistance that the source can have";
      findings.push_back(std::move(f));
      continue;
    }
    Working working;
    const auto fault = wiring::largest_fault(e.design, facts, e.kept(working));
    Finding f = judge(rule, subject, *fault, Bound::at_most,
                      {*device.breaking_capacity, device.breaking_source}, std::move(working));
    f.message = who + " may have to break " + print(*fault) + "; it can break " +
                print(*device.breaking_capacity);
    if (f.verdict == Verdict::fail && !device.backed_by.empty()) {
      f.verdict = Verdict::caution;
      f.message +=
          "; the design says that " + quoted(device.backed_by) + " backs it up by its maker's word";
      f.cure = "keep the maker's statement of the combination with the vehicle's papers";
    } else if (f.verdict == Verdict::fail) {
      f.cure = cure_of(e, facts, *fault);
    }
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign signs[] = {{Parameter::length, Effect::better},
                          {Parameter::area, Effect::worse},
                          {Parameter::batteries, Effect::worse},
                          {Parameter::distance, Effect::better}};

}  // namespace

extern const Rule breaking_capacity{
    .name = "breaking-capacity",
    .asks = "Can each device interrupt the largest fault that the bank can drive through it?",
    .why = "A device that meets more than it can break explodes or welds; the arc then has the "
           "whole bank behind it.",
    .cure = "A type that breaks the fault, or a thinner or longer feed that limits it.",
    .source = {SourceKind::from_memory, "IEC 60364-4-43:2008", "434.5.1, not read"},
    .signs = signs,
    .concern = Concern::safety,
    .of_one_run = OneRun::with_its_device,
    .check = check_breaking};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "common.hpp"
#include "housepower/wiring/formulas.hpp"

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

/// The least change that helps: more conductor before the device, or a type that suffices.
std::string cure_of(const Evidence& e, const wiring::DeviceFacts& facts, Current fault) {
  const Run& run = e.design[facts.run];
  const Protection& device = run.protection[facts.number];
  const std::string types = sufficient_types(e, device, fault);
  const std::string by_type =
      "a device that breaks at least " + print(fault) + (types.empty() ? "" : ": " + types);
  Current limited{};
  for (const auto& source : facts.sources.limited) limited += source.value;
  if (!facts.sources.unlimited || limited >= *device.breaking_capacity) return by_type;
  // What the unlimited sources may still give, and the loop that holds them to it.
  const Voltage open = facts.sources.unlimited->open_circuit;
  const Resistance missing =
      open / (*device.breaking_capacity - limited) - open / (fault - limited);
  const Temperature cold =
      std::min(celsius(20.0), e.design->site.record_low.value_or(celsius(20.0)));
  const auto& start = device.end == design::RunEnd::from ? run.from : run.to;
  for (const Run& feed : e.design->runs) {
    if (feed.to != start || &feed == &run || !feed.conductor || feed.back.chassis) continue;
    const Area copper = std::max(feed.conductor->copper, feed.conductor->nominal);
    const ResistancePerLength loop =
        2.0 / double(feed.parallel) *
        wiring::resistance_at_temperature(
            wiring::copper_resistance(wiring::copper_resistivity, copper), cold);
    const double longer = tenths_up((feed.length + missing / loop).value());
    return "run " + quoted(feed.name) + " at least " + print_plain(longer, 3) + " m long in its " +
           feed.conductor->name + ", or in less copper; or " + by_type;
  }
  return by_type;
}

std::vector<Finding> check_breaking(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& facts : e.wiring.devices) {
    const Run& run = e.design[facts.run];
    const Protection& device = run.protection[facts.number];
    const std::string subject = subject_of(run, facts.number);
    const std::string who =
        "the " + device.type + " " + print(device.rating) + " of run " + quoted(run.name);
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
    const auto fault = wiring::largest_fault(e.design, facts, &working);
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
    .source = {SourceKind::published, "IEC 60364-4-43:2008", "434.5.1"},
    .signs = signs,
    .of_safety = true,
    .check = check_breaking};

}  // namespace housepower::checks

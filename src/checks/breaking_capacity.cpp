// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "common.hpp"
#include "housepower/wiring/formulas.hpp"

namespace housepower::checks {
namespace {

/// The least change that helps: more conductor before the device, or a type that suffices.
std::string cure_of(const Evidence& e, const Run& run, const Protection& device, Current fault) {
  const Voltage open = e.design->bank ? 3.4 * volt * 4.0 * double(e.design->bank->in_series) : 13.6 * volt;
  const Resistance missing = open / *device.breaking_capacity - open / fault;
  const auto& start = device.end == design::RunEnd::from ? run.from : run.to;
  std::string cure;
  for (const Run& feed : e.design->runs) {
    const bool feeds = feed.to == start && &feed != &run && feed.conductor;
    if (!feeds) continue;
    const ResistancePerLength loop = 2.0 * wiring::copper_resistance(wiring::copper_resistivity, feed.conductor->copper);
    const Length longer = missing / loop;
    const Area thinner = 2.0 * wiring::copper_resistivity * feed.length /
                         (missing + loop * feed.length);
    cure = "at least " + print(longer + feed.length, 2) + " of " + feed.conductor->name + " in run " +
           quoted(feed.name) + ", or no more than " + print(thinner, 2) + " at its present length; or ";
  }
  std::string types;
  for (const auto& type : e.design->tables->fuses)
    for (const auto& rated : type.breaking)
      if (rated.capacity >= fault && rated.at >= highest_charging_voltage(e.design).value) {
        types += (types.empty() ? "" : ", ") + type.name;
        break;
      }
  return cure + "a device that breaks at least " + print(fault) + (types.empty() ? "" : ": " + types);
}

std::vector<Finding> check_breaking(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& facts : e.wiring.devices) {
    const Run& run = e.design[facts.run];
    const Protection& device = run.protection[facts.number];
    const std::string subject = subject_of(run, facts.number);
    const std::string who = "the " + device.type + " " + print(device.rating) + " of run " + quoted(run.name);
    if (!facts.largest || !device.breaking_capacity) {
      findings.push_back(not_checked(rule, subject, who + ": " + (facts.largest ? "no breaking capacity is known for it; state its `breaking_capacity`" : facts.why_unknown)));
      continue;
    }
    Working working;
    const auto fault = wiring::largest_fault(e.design, facts, &working);
    Finding f = judge(rule, subject, *fault, Bound::at_most, {*device.breaking_capacity, device.breaking_source}, std::move(working));
    f.message = who + " may have to break " + print(*fault) + "; it can break " + print(*device.breaking_capacity);
    if (f.verdict == Verdict::fail && !device.backed_by.empty()) {
      f.verdict = Verdict::caution;
      f.message += "; the design says that " + quoted(device.backed_by) + " backs it up by its maker's word";
      f.cure = "keep the maker's statement of the combination with the vehicle's papers";
    } else if (f.verdict == Verdict::fail) {
      f.cure = cure_of(e, run, device, *fault);
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
    .why = "A device that meets more than it can break explodes or welds; the arc then has the whole bank behind it.",
    .cure = "A type that breaks the fault, or a thinner or longer feed that limits it.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008", "434.5.1"},
    .signs = signs,
    .of_safety = true,
    .check = check_breaking};

}  // namespace housepower::checks

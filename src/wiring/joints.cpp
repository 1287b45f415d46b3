// SPDX-License-Identifier: Apache-2.0
// Joints of runs, and the currents of the bank's links and leads.
#include "housepower/wiring/joints.hpp"

#include <cmath>

#include "inside.hpp"

namespace housepower::wiring {

using namespace inside;

Contact contact_of(Current i, Resistance r, const Source& source, Voltage may_lose,
                   Working* working) {
  given(working, "R_j", "resistance of one joint or contact", r, source);
  Contact contact{step(working, contact_voltage, i, r), step(working, contact_heat, i, r), {}};
  if (i.value() > 0.0) contact.sufficient = step(working, contact_resistance, may_lose, i);
  return contact;
}

JointValue joint_of(const RunFacts& facts, const Run& run, design::Pole pole) {
  if (run.joint_resistance)
    return {*run.joint_resistance, {SourceKind::supplier, "the design", "as stated"}};
  const bool back = pole == design::Pole::return_ && facts.back;
  return {default_joint(back ? facts.back->conductor : facts.outgoing.conductor),
          default_joint_source};
}

namespace {
Current magnitude(Current i) { return Current::from_value(std::abs(i.value())); }
}  // namespace

Current current_in_links(const design::Design& d, const Assessment& a, design::Pole pole,
                         Working* working) {
  // Beside the battery at which the bank is tapped the links carry all batteries on that side.
  const int tap = d->bank->takeoff[pole == design::Pole::outgoing ? 0 : 1];
  std::vector<Term<Current>> most;
  Current in_all{};
  for (const CaseResult& in : a.cases) {
    if (in.load_case.judged) continue;
    for (const bool above : {false, true}) {
      std::vector<Term<Current>> terms;
      for (const BatteryInCase& b : in.batteries)
        if (above ? b.number > tap : b.number < tap)
          terms.push_back({"battery " + std::to_string(b.number), magnitude(b.current)});
      const Current together = sum<Current>(nullptr, "", "", terms);
      if (together <= in_all) continue;
      in_all = together;
      most = std::move(terms);
    }
  }
  return sum(working, "I_l", "largest steady current of a link", most);
}

Current current_in_leads(const design::Design& d, const Assessment& a, Working* working) {
  std::vector<Term<Current>> busiest;
  for (const CaseResult& in : a.cases)
    for (const BatteryInCase& b : in.batteries)
      if (!in.load_case.judged)
        busiest.push_back({"battery " + std::to_string(b.number) + ", " + in.load_case.name,
                           magnitude(b.current)});
  const Current load = largest(
      working, "I_b", "current of the busiest battery, from the solution of the network", busiest);
  if (!d->bank->each_device) return load;
  return smallest(
      working, "I_B", "what the lead carries: its load, or what its device lets through",
      std::vector<Term<Current>>{{"load", load}, {"device", d->bank->each_device->device.rating}});
}

}  // namespace housepower::wiring

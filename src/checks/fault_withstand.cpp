// SPDX-License-Identifier: Apache-2.0
#include "clearing.hpp"

namespace housepower::checks {
namespace {

using wiring::DeviceFacts;
using wiring::ProtectedConductor;

Finding check_one(const Rule& rule, const Evidence& e, const DeviceFacts& facts,
                  const ProtectedConductor& conductor) {
  const std::string subject = wiring::path_of(e.design, facts);
  const std::string who = wiring::name_of(e.design, facts);
  if (const std::string why = cannot_judge(e, facts); !why.empty()) {
    Finding f = not_checked(rule, subject, who + ": " + why);
    f.cure = "state what is missing; a `curve` from the device's maker";
    return f;
  }
  const Verdict beyond = conductor.smallest.supplied ? Verdict::caution : Verdict::fail;
  const auto all = wiring::fault_heat_of(e.design, facts, conductor);
  if (!all.withstand) {
    Finding f = not_checked(rule, subject,
                            who + ": no k is known for the insulation of " + name_of(e, conductor));
    f.cure = "state `insulation` and `insulation_material` as they are";
    return f;
  }
  const std::string cure =
      "a device that lets less through, or a larger conductor in " + name_of(e, conductor);
  if (!all.let_through) {
    Finding f = state(rule, subject, beyond,
                      who + " need not open at the smallest fault of " +
                          print(conductor.smallest.value) + " at " + conductor.smallest.where +
                          ": nothing limits the heat in " + name_of(e, conductor),
                      rule.source);
    f.cure = cure;
    return f;
  }
  // What takes longer is for the heat balance, and far-fault-clears judges it.
  const bool only_shorter = *all.withstand < *all.let_through && adiabatic_end < all.time &&
                            bears_for_good(e, facts, conductor);
  const std::optional<Duration> within =
      only_shorter ? std::optional<Duration>(adiabatic_end) : std::nullopt;
  Working working;
  const auto heat = wiring::fault_heat_of(e.design, facts, conductor, within, e.kept(working));
  Finding f = judge(rule, subject, *heat.let_through, Bound::at_most,
                    {*heat.withstand, rule.source, beyond}, std::move(working));
  f.message = who + " lets " + print(*heat.let_through) + " through at most, of faults from " +
              print(conductor.smallest.value) + " to " + print(*facts.largest) + "; " +
              name_of(e, conductor) + " withstands " + print(*heat.withstand);
  if (only_shorter)
    f.message += "; faults that take over 5 s are not in this, since it bears the rating for good";
  if (f.verdict != Verdict::pass) f.cure = cure;
  return f;
}

std::vector<Finding> check_withstand(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const DeviceFacts& facts : e.wiring.devices)
    for (const ProtectedConductor& conductor : facts.conductors) {
      findings.push_back(check_one(rule, e, facts, conductor));
      findings.back().in_case = case_of(e, facts, conductor);
    }
  return findings;
}

constexpr Sign signs[] = {{Parameter::area, Effect::better},
                          {Parameter::device_rating, Effect::worse},
                          {Parameter::load, Effect::none}};

}  // namespace

extern const Rule fault_withstand{
    .name = "fault-withstand",
    .asks = "Does each conductor survive what its device lets through, whatever the fault between "
            "the smallest and the largest?",
    .why = "A device that opens too late leaves a conductor with melted insulation, ready for the "
           "next fault.",
    .cure = "A device that lets less through, or a larger conductor.",
    .source = {SourceKind::published, "IEC 60949 / IEC 60364-5-54 annex A", "I²t ≤ k²S²"},
    .signs = signs,
    .concern = Concern::safety,
    .check = check_withstand};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
#include "clearing.hpp"

namespace housepower::checks {
namespace {

using wiring::DeviceFacts;
using wiring::ProtectedConductor;

constexpr Source heat_balance{SourceKind::from_memory, "judgement",
                              "the adiabatic test holds up to 5 s; beyond, I_n ≤ I_z"};

/// A current-limited source never clears a fuse: there the conductor must bear what it gives.
Finding check_limited(const Rule& rule, const Evidence& e, const DeviceFacts& facts) {
  const std::string subject = wiring::path_of(e.design, facts);
  const std::string who = wiring::name_of(e.design, facts);
  if (!facts.why_unknown.empty() || !facts.run)
    return not_checked(rule, subject, who + ": " + facts.why_unknown);
  const auto ampacity = least_of_poles(e.wiring.runs[std::size_t(facts.run->index)]);
  if (!ampacity)
    return not_checked(rule, subject, who + ": the ampacity of its conductor is not known");
  Working working;
  const auto most = wiring::largest_fault(e.design, facts, e.kept(working));
  Finding f =
      judge(rule, subject, *most, Bound::at_most, {*ampacity, rule.source}, std::move(working));
  f.message = who +
              " is fed by current-limited sources only, which never clear a fuse: they give " +
              print(*most) + ", the conductor bears " + print(*ampacity);
  if (f.verdict != Verdict::pass) f.cure = "a conductor that bears " + print(*most);
  return f;
}

std::string place_of(const wiring::SmallestFault& fault) {
  return fault.where + ", fed by " + fault.source + " alone";
}

Finding check_one(const Rule& rule, const Evidence& e, const DeviceFacts& facts,
                  const ProtectedConductor& conductor) {
  const std::string subject = wiring::path_of(e.design, facts);
  const std::string who = wiring::name_of(e.design, facts);
  if (const std::string why = cannot_judge(e, facts); !why.empty()) {
    Finding f = not_checked(rule, subject, who + ": " + why);
    f.cure = "state what is missing; a `curve` from the device's maker";
    return f;
  }
  Working working;
  const auto far = wiring::far_fault_of(e.design, facts, conductor, e.kept(working));
  const Verdict beyond = conductor.smallest.supplied ? Verdict::caution : Verdict::fail;
  const std::string fault = who + ": the smallest fault is " + print(far.smallest) + " (" +
                            place_of(conductor.smallest) + ")";
  const std::string cure = "a smaller rating, a device that opens sooner, or a larger or shorter "
                           "conductor in " +
                           name_of(e, conductor);
  if (far.smallest < far.least || !far.clears) {
    Finding f = far.smallest < far.least
                    ? judge(rule, subject, far.smallest, Bound::at_least,
                            {far.least, rule.source, beyond}, std::move(working))
                    : state(rule, subject, beyond, {}, rule.source);
    if (f.working.empty()) f.working = std::move(working);
    f.message = fault + (far.clears ? "; it surely opens only from " + print(far.least)
                                    : "; at that current it need not open at all");
    f.cure = cure;
    return f;
  }
  const std::string opens = fault + "; it opens within " + print(*far.clears) + ", ";
  const auto& profile = *e.design->profile;
  if (profile.clearing_time && *profile.clearing_time < *far.clears) {
    Finding f =
        judge(rule, subject, *far.clears, Bound::at_most,
              {*profile.clearing_time, profile.clearing_time_source, beyond}, std::move(working));
    f.message =
        opens + "the profile " + profile.name + " asks for " + print(*profile.clearing_time);
    f.cure = cure;
    return f;
  }
  if (!far.withstood) {
    Finding f = not_checked(
        rule, subject, opens + "but no k is known for the insulation of " + name_of(e, conductor));
    f.cure = "state `insulation` and `insulation_material` as they are";
    return f;
  }
  const bool heats_long = *far.withstood < *far.clears && adiabatic_end < *far.clears;
  if (heats_long && bears_for_good(e, facts, conductor)) {
    Finding f = state(rule, subject, Verdict::pass,
                      opens + "too long for the adiabatic test, but " + name_of(e, conductor) +
                          " bears its rating for good and gives off heat meanwhile",
                      heat_balance);
    f.working = std::move(working);
    return f;
  }
  Finding f = judge(rule, subject, *far.clears, Bound::at_most,
                    {*far.withstood, rule.source, beyond}, std::move(working));
  f.message = opens + name_of(e, conductor) + " withstands it for " + print(*far.withstood);
  if (f.verdict != Verdict::pass) f.cure = cure;
  return f;
}

std::vector<Finding> check_far(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const DeviceFacts& facts : e.wiring.devices) {
    if (facts.conductors.empty()) findings.push_back(check_limited(rule, e, facts));
    for (const ProtectedConductor& conductor : facts.conductors) {
      findings.push_back(check_one(rule, e, facts, conductor));
      findings.back().in_case = case_of(e, facts, conductor);
    }
  }
  return findings;
}

constexpr Sign signs[] = {{Parameter::length, Effect::worse},
                          {Parameter::area, Effect::better},
                          {Parameter::device_rating, Effect::worse},
                          {Parameter::load, Effect::none}};

}  // namespace

extern const Rule far_fault_clears{
    .name = "far-fault-clears",
    .asks = "Does each device open in time for the smallest fault at the far end of what it "
            "protects?",
    .why = "A fault at the end of a long thin cable may draw no more than the device bears: it "
           "never opens, and the cable is the heater.",
    .cure = "A smaller rating, a faster device, or a larger or shorter conductor.",
    .source = {SourceKind::published, "IEC 60949 / IEC 60364-5-54 annex A", "t ≤ (k·S/I)²"},
    .signs = signs,
    .concern = Concern::safety,
    .check = check_far};

}  // namespace housepower::checks

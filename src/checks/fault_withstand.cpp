// SPDX-License-Identifier: Apache-2.0
#include "bears.hpp"
#include "clearing.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

using wiring::DeviceFacts;
using wiring::ProtectedConductor;

constexpr Source half_rating{SourceKind::from_memory, "judgement",
                             "a fuse of at most half of what the conductor is rated for"};

/// Without a curve: a device that protects against overload at half of what the conductor bears.
Finding without_curve(const Rule& rule, const Evidence& e, const Guarded& g) {
  const Current rating = wiring::device_of(e.design, g.facts).rating, bears = *g.bearing.ampacity;
  if (rating > 0.5 * bears || !wiring::guards_overload(e.design, e.wiring, g.facts, g.bearing))
    return not_judged(rule, g, "no time-current curve is known for it", std::string(state_curve),
                      curve_of(g));
  return state(rule, g.subject, Verdict::pass,
               g.who +
                   ": no time-current curve is known for it; its rating is no more than half "
                   "of the " +
                   print(bears) + " that " + g.conductor_name +
                   " is rated for, which is taken as enough",
               half_rating);
}

/// What happens to it, before why.
std::string comes_to(const Guarded& g, Temperature reached, const char* how) {
  return g.conductor_name + (melts_copper(reached) ? std::string(" would melt its copper")
                                                   : std::string(how) + print(reached));
}

std::string range_of(const Guarded& g, const wiring::FaultHeat& heat) {
  return "of faults from " + print(heat.from) + " to " + print(*g.facts.largest);
}

Finding warming_of(const Rule& rule, const Guarded& g, const wiring::FaultHeat& heat,
                   Working working) {
  const wiring::Warming& w = *heat.warming;
  const auto& end = *g.bearing.factor;
  Finding f =
      judge(rule, g.subject, w.reached, Bound::at_most, {end.to, end.source}, std::move(working));
  const std::string at = " at " + print(w.at) + ", the worst " + range_of(g, heat);
  const std::string bears = ", " + print(end.to) + " allowed: ";
  f.message =
      w.time ? comes_to(g, w.reached, " would get to ") + bears + g.who + " takes up to " +
                   print(*w.time) + " to open" + at
             : comes_to(g, w.reached, " would settle at ") + bears + g.who + " may never open" + at;
  return f;
}

Finding let_through_of(const Rule& rule, const Guarded& g, const wiring::FaultHeat& heat,
                       Working working) {
  Finding f = judge(rule, g.subject, heat.let_through->value, Bound::at_most,
                    {*heat.withstand, rule.source}, std::move(working));
  const auto [lets, bears] = figures(f);
  f.message = g.who + " lets " + lets + " through at most, " + range_of(g, heat) + "; " +
              g.conductor_name + " withstands " + bears;
  if (heat.warming)
    f.message +=
        ", and what takes over 5 s heats it to no more than " + print(heat.warming->reached);
  return f;
}

Finding check_withstand(const Rule& rule, const Evidence& e, const DeviceFacts& facts,
                        const ProtectedConductor& conductor) {
  const Guarded g = guarded(e, facts, conductor);
  if (const std::string why = cannot_judge(g); !why.empty())
    return not_judged(rule, g, why, "state what is missing", unstated_of_network(e));
  if (!g.opens.read) return without_curve(rule, e, g);
  if (!g.bearing.factor)
    return not_judged(rule, g, "no k is known for the insulation of " + g.conductor_name,
                      std::string(state_insulation), insulation_of(e, g));
  Working working;
  const auto heat = wiring::fault_heat_of(e.design, e.wiring, facts, conductor, e.kept(working));
  const std::string cure =
      "a device that lets less through, or a larger conductor in " + g.conductor_name;
  if (heat.without_end) {
    Finding f =
        state(rule, g.subject, Verdict::fail,
              g.conductor_name + " is rated for " + print(*g.bearing.ampacity) + " in the " +
                  print(g.bearing.ambient) + " as installed; " + g.who + " need not open below " +
                  print(g.opens.value) + ", and nothing limits the heat",
              rule.source);
    f.cure = cure;
    return f;
  }
  Finding f = heat.warming_is_worse ? warming_of(rule, g, heat, std::move(working))
                                    : let_through_of(rule, g, heat, std::move(working));
  if (f.verdict != Verdict::pass) f.cure = cure;
  return f;
}

std::vector<Finding> check_withstand(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const DeviceFacts& facts : e.wiring.devices)
    for (const ProtectedConductor& conductor : facts.conductors) {
      findings.push_back(check_withstand(rule, e, facts, conductor));
      findings.back().in_case = case_of(e, facts, conductor);
      if (!conductor.run) say_how_leads_lie(findings.back(), e.design);
    }
  return findings;
}

constexpr Sign fault_withstand_signs[] = {{Parameter::area, Effect::better},
                                          {Parameter::device_rating, Effect::worse},
                                          {Parameter::load, Effect::worse}};

constexpr auto fault_withstand_leans_on =
    leanings(std::array{Leaning{LeanKind::bank, "resistance/low", true}}, lean_on_lie);

}  // namespace

extern const Rule fault_withstand{
    .name = "fault-withstand",
    .asks = "Does each conductor survive what its device lets through, whatever the fault from an "
            "overload up to the largest?",
    .why = "A device that opens too late leaves a conductor with melted insulation, ready for the "
           "next fault.",
    .cure = "A device that lets less through, or a larger conductor.",
    .source = {SourceKind::published, "IEC 60949 / IEC 60364-5-54 annex A",
               "I²t ≤ k²S² up to 5 s, as quoted; beyond, the heat balance of a conductor"},
    .signs = fault_withstand_signs,
    .concern = Concern::safety,
    .of_one_run = OneRun::with_its_device,
    .leans_on = fault_withstand_leans_on,
    .check = check_withstand};

}  // namespace housepower::checks

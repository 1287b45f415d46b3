// SPDX-License-Identifier: Apache-2.0
#include "housepower/wiring/selectivity.hpp"

#include "common.hpp"

namespace housepower::checks {
namespace {

using wiring::Meeting;

/// How much a meeting matters: what goes dark first, then what is not known, then what is not
/// selective though nothing needs it.
int weight(const Meeting& m) {
  if (m.unknown.empty() && !m.selective()) return m.in_the_dark.empty() ? 1 : 3;
  return m.unknown.empty() ? 0 : 2;
}

Finding finding_of(const Rule& rule, const Evidence& e, const Meeting& m) {
  const auto& facts = e.wiring.devices[m.device];
  const auto& upstream = e.wiring.devices[m.upstream];
  const Subject subject = wiring::subject_of(e.design, facts);
  const std::string who = wiring::name_of(e.design, facts),
                    above = wiring::name_of(e.design, upstream);
  if (!m.unknown.empty()) {
    Finding f = not_checked(
        rule, subject, who + " after " + above + ": " + m.unknown,
        {subject.with("curve"), wiring::subject_of(e.design, upstream).with("curve_fast")});
    f.cure = "state the `curve` and `curve_fast` of both from their makers";
    return f;
  }
  Working working;
  const Duration opens = wiring::opens_at(e.design, e.wiring, m, e.kept(working));
  const std::string at = " at " + print(m.at);
  Finding f;
  if (m.holds && (m.selective() || !m.in_the_dark.empty())) {
    f = judge(rule, subject, opens, Bound::at_most, {*m.holds, rule.source, Verdict::caution},
              std::move(working));
  } else {
    f = state(rule, subject, Verdict::pass, {}, rule.source);
    f.working = std::move(working);
  }
  f.message = who + " opens within " + print(opens) + at + "; " + above +
              (m.holds ? " may open from " + print(*m.holds) + " on" : " carries indefinitely");
  if (!m.selective())
    f.message += m.in_the_dark.empty() ? "; nothing else that is always on is fed by that"
                                       : "; " + quoted(m.in_the_dark) + " would go dark with it";
  if (m.switches_first) f.message += "; the batteries' own switches may open sooner still";
  if (f.verdict != Verdict::pass)
    f.cure =
        "a larger or slower device upstream if its conductor carries it, a faster one here, or "
        "a circuit of its own for " +
        quoted(m.in_the_dark);
  return f;
}

std::vector<Finding> check_selectivity(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  const auto meetings = wiring::meetings_of(e.design, e.wiring);
  for (std::size_t i = 0; i < meetings.size();) {
    const Meeting* worst = &meetings[i];
    const auto nearness = [](const Meeting& m) {
      return m.holds ? double(m.opens / *m.holds) : 0.0;
    };
    for (; i < meetings.size() && meetings[i].device == worst->device; ++i)
      if (weight(meetings[i]) > weight(*worst) ||
          (weight(meetings[i]) == weight(*worst) && nearness(meetings[i]) > nearness(*worst)))
        worst = &meetings[i];
    findings.push_back(finding_of(rule, e, *worst));
  }
  return findings;
}

constexpr Sign selectivity_signs[] = {{Parameter::load, Effect::none}};

}  // namespace

extern const Rule selectivity{
    .name = "selectivity",
    .asks = "Does the device nearest to a fault open before one that feeds more than its own "
            "circuit?",
    .why = "A short circuit in a reading lamp then takes the fridge and the gas detector with it.",
    .cure = "A slower or larger device upstream, or a faster one downstream.",
    .source = {SourceKind::common_practice, "practice of the trade",
               "fast edge upstream above slow edge downstream"},
    .signs = selectivity_signs,
    .concern = Concern::service,
    .check = check_selectivity};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

constexpr Formula allowed_drop{
    "U_max",
    "allowed drop",
    "s · U_n",
    {{"s", "allowed share"}, {"U_n", "nominal voltage"}},
    Source{SourceKind::common_practice, "practice of the trade", "shares count of nominal voltage"},
    [](Ratio share, Voltage nominal) -> Voltage { return double(share) * nominal; }};

Voltage allowed(const tables::DropClass& use, Voltage nominal, Working* working) {
  if (use.volts) return given(working, "U_max", "allowed drop", *use.volts, use.source);
  return step(working, allowed_drop, use.share.value_or(Ratio(0.05)), nominal);
}

std::string numbers(Voltage drop, Voltage limit, Voltage nominal) {
  const auto [lost, allowed_] = apart(drop, limit);
  const auto [share, allowed_share] = apart(Ratio(drop / nominal), Ratio(limit / nominal));
  return lost + " (" + share + "), " + allowed_ + " (" + allowed_share + ") allowed";
}

/// What shares count of: the system's nominal voltage, or 12 V on the side of a feed of 12 V.
Voltage nominal_at(const Evidence& e, const wiring::ConsumerInCase& at) {
  const auto& source = e.wiring.ways[at.post].source;
  for (const auto& feed : e.design->feeds)
    if (source && feed.post == *source && feed.low < 0.75 * e.design->nominal)
      return std::min(e.design->nominal, 12.0 * volt);
  return e.design->nominal;
}

Finding check_path(const Rule& rule, const Evidence& e, const wiring::CaseResult& in,
                   const wiring::ConsumerInCase& at) {
  const auto& use = e.design->profile->drop_classes[at.drop_class];
  Working working;
  const Voltage lost = wiring::path_drop_of(e.design, e.wiring, in, at, e.kept(working));
  const Voltage nominal = nominal_at(e, at);
  const Voltage limit = allowed(use, nominal, e.kept(working));
  Finding f =
      judge(rule, at.subject, lost, Bound::at_most,
            {limit, use.source, use.fails ? Verdict::fail : Verdict::caution}, std::move(working));
  f.message = "voltage drop to " + quoted(at.name) + ": " + numbers(lost, limit, nominal) +
              " (class " + quoted(use.name) + ")";
  return f;
}

/// The run of whose way home the chassis takes half of the drop or more.
const Run* lost_in_chassis(const Evidence& e, const wiring::CaseResult& in,
                           const wiring::ConsumerInCase& at) {
  if (!e.design->chassis) return nullptr;
  for (const auto& part : e.wiring.ways[at.post].back) {
    const Run& run = e.design[part.run];
    if (run.back.chassis && 2.0 * (in.runs[part.run].current * *e.design->chassis) >= at.path_drop)
      return &run;
  }
  return nullptr;
}

/// The run on the consumer's own way that loses most, and a larger size for it where there is one.
std::string cure_in(const Evidence& e, const wiring::CaseResult& in,
                    const wiring::ConsumerInCase& at) {
  const RunId* most = nullptr;
  for (const auto& part : e.wiring.ways[at.post].outgoing)
    if (!most || in.runs[part.run].drop > in.runs[*most].drop) most = &part.run;
  if (!most) return "";
  if (const Run* home = lost_in_chassis(e, in, at))
    return "the way home of run " + quoted(home->name) +
           " through the chassis loses most of it: a return conductor of its own, or a better bond";
  const Run& run = e.design[*most];
  const auto& facts = e.wiring.runs[*most];
  const auto& larger = facts.smallest_for_drop;
  const bool helps = larger && run.conductor && larger->copper > run.conductor->copper;
  return "run " + quoted(run.name) + " loses most of it, " + print(in.runs[*most].drop) + ": " +
         (helps ? "take " + tables::shown_name(*larger) + " or larger there"
                : std::string("take the next sizes up there, also for its return, or shorten it"));
}

/// Of a case without an operating point the brink is shown; beyond it no drop is small enough.
void judge_beyond_brink(const Evidence& e, const wiring::CaseResult& in,
                        const wiring::ConsumerInCase& at, Finding& f) {
  if (in.collapsed.empty() || f.verdict != Verdict::pass) return;
  f.verdict =
      e.design->profile->drop_classes[at.drop_class].fails ? Verdict::fail : Verdict::caution;
  f.message += " just before " + at.unknown;
  f.measured.reset();
  f.limit.reset();
  f.margin = 0.0;
}

std::vector<Finding> by_path(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  const auto loss = [](const wiring::ConsumerInCase& at) { return at.path_drop.value(); };
  for (const auto& worst_case : worst_cases(e.wiring, loss)) {
    const auto& [in, at] = worst_case;
    Finding f = check_path(rule, e, *in, *at);
    f.in_case = in->load_case.name;
    judge_beyond_brink(e, *in, *at, f);
    hold_back(f, at->unknown, e);
    if (f.verdict >= Verdict::caution) f.cure = cure_in(e, *in, *at);
    rest_on_open(f, e, e.wiring.ways[at->post], *in);
    findings.push_back(std::move(f));
  }
  return findings;
}

std::vector<Finding> by_segment(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& stated : e.wiring.cases) {
    const wiring::CaseResult* borne = stated.borne();
    if (!stated.load_case.judged || !borne) continue;
    const wiring::CaseResult& in = *borne;
    for (std::size_t i = 0; i < in.runs.size(); ++i) {
      if (in.runs[i].current <= 0.0 * ampere) continue;
      // A run that ends at an appliance is judged by its class, a feeder by the strictest.
      std::size_t chosen = 0;
      for (const auto& at : in.consumers)
        if (e.design[e.design->runs[i].to].name == at.name) chosen = at.drop_class;
      const auto& use = e.design->profile->drop_classes[chosen];
      Working working;
      const Voltage lost = wiring::drop_of(e.design, e.wiring, in, {int(i)}, e.kept(working));
      const Voltage limit = allowed(use, e.design->nominal, e.kept(working));
      Finding f = judge(rule, subject_of(e.design, e.design->runs[i]), lost, Bound::at_most,
                        {limit, use.source, use.fails ? Verdict::fail : Verdict::caution},
                        std::move(working));
      f.message = "voltage drop of run " + quoted(e.design->runs[i].name) + ": " +
                  numbers(lost, limit, e.design->nominal) + " (class " + quoted(use.name) + ")";
      f.in_case = in.load_case.name;
      if (e.design->runs[i].back.chassis && !e.design->chassis)
        hold_back(f, "the resistance of the chassis is not stated", e);
      if (!stated.solved()) hold_back(f, "the case has no operating point");
      if (f.verdict >= Verdict::caution && e.wiring.runs[i].smallest_for_drop)
        f.cure = tables::shown_name(*e.wiring.runs[i].smallest_for_drop) + " or larger";
      wiring::Way way;
      way.outgoing.push_back({{int(i)}});
      rest_on_open(f, e, way, in);
      findings.push_back(std::move(f));
    }
  }
  return findings;
}

std::vector<Finding> check_drop(const Rule& rule, const Evidence& e) {
  return e.design->profile->drop_judged == tables::RuleProfile::DropJudged::segment
             ? by_segment(rule, e)
             : by_path(rule, e);
}

constexpr Sign drop_signs[] = {{Parameter::length, Effect::worse},
                               {Parameter::area, Effect::better},
                               {Parameter::ambient, Effect::worse},
                               {Parameter::load, Effect::worse},
                               {Parameter::joint_resistance, Effect::worse},
                               {Parameter::joints, Effect::worse},
                               {Parameter::battery_resistance_high, Effect::worse},
                               {Parameter::charge_limit, Effect::none}};

}  // namespace

extern const Rule drop{
    .name = "drop",
    .asks = "Is the voltage drop to each appliance within what its class allows?",
    .why = "At the end of a thin or long cable fridges do not start, heaters lock out and lights "
           "dim; the "
           "lost power heats the loom.",
    .cure = "A larger conductor on the run that loses most, a shorter run, or the load moved to "
            "another run.",
    .source = {SourceKind::published, "EN 1648-2; ABYC E-11; other profiles name their own",
               "drop by class of use, as quoted in public copies"},
    .signs = drop_signs,
    .concern = Concern::service,
    .about = About::drop,
    .of_one_run = OneRun::yes,
    .check = check_drop};

}  // namespace housepower::checks

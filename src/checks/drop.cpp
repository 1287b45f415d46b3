// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

constexpr Formula allowed_drop{
    "U_max", "allowed drop", "s · U_n",
    {{"s", "allowed share"}, {"U_n", "nominal voltage"}},
    Source{SourceKind::common_practice, "practice of the trade", "shares count of nominal voltage"},
    [](Ratio share, Voltage nominal) -> Voltage { return double(share) * nominal; }};

Voltage allowed(const tables::DropClass& use, Voltage nominal, Working* working) {
  if (use.volts) return given(working, "U_max", "allowed drop", *use.volts, use.source);
  return step(working, allowed_drop, use.share.value_or(Ratio(0.05)), nominal);
}

std::string numbers(Voltage drop, Voltage limit, const design::Design& design) {
  return "loses " + print(drop) + " (" + print(Ratio(drop / design->nominal)) + "), at most " + print(limit) + " (" +
         print(Ratio(limit / design->nominal)) + ") is allowed";
}

Finding check_path(const Rule& rule, const Evidence& e, const wiring::CaseResult& in, const wiring::ConsumerInCase& at) {
  const auto& use = e.design->profile->drop_classes[at.drop_class];
  Working working;
  const Voltage lost = wiring::path_drop_of(e.design, e.wiring, in, at, &working);
  const Voltage limit = allowed(use, e.design->nominal, &working);
  Finding f = judge(rule, at.path, lost, Bound::at_most, {limit, use.source, use.fails ? Verdict::fail : Verdict::caution}, std::move(working));
  f.message = "the way to " + quoted(at.name) + " and back " + numbers(lost, limit, e.design) + " for " + quoted(use.name);
  return f;
}

/// The run that loses most in this case among those that have a larger size to change to.
std::string cure_in(const Evidence& e, const wiring::CaseResult& in) {
  std::size_t most = 0;
  for (std::size_t i = 1; i < in.runs.size(); ++i)
    if (in.runs[i].drop > in.runs[most].drop) most = i;
  if (in.runs.empty()) return "";
  const auto& facts = e.wiring.runs[most];
  return "run " + quoted(e.design->runs[most].name) + " loses most of it, " + print(in.runs[most].drop) + ": " +
         (facts.smallest_for_drop ? "take " + facts.smallest_for_drop->name + " or larger there" : std::string("shorten it or double its conductors"));
}

std::vector<Finding> by_path(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& in : e.wiring.cases) {
    if (!in.load_case.judged || !in.solved()) continue;
    for (const auto& at : in.consumers) {
      Finding f = check_path(rule, e, in, at);
      f.in_case = in.load_case.name;
      if (f.verdict != Verdict::pass) f.cure = cure_in(e, in);
      findings.push_back(std::move(f));
    }
  }
  return findings;
}

std::vector<Finding> by_segment(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& in : e.wiring.cases) {
    if (!in.load_case.judged || !in.solved()) continue;
    for (std::size_t i = 0; i < in.runs.size(); ++i) {
      if (in.runs[i].current <= 0.0 * ampere) continue;
      // A run that ends at an appliance is judged by its class, a feeder by the strictest.
      std::size_t chosen = 0;
      for (const auto& at : in.consumers)
        if (e.design[e.design->runs[i].to].name == at.name) chosen = at.drop_class;
      const auto& use = e.design->profile->drop_classes[chosen];
      Working working;
      const Voltage lost = wiring::drop_of(e.design, e.wiring, in, {int(i)}, &working);
      const Voltage limit = allowed(use, e.design->nominal, &working);
      Finding f = judge(rule, subject_of(e.design->runs[i]), lost, Bound::at_most,
                        {limit, use.source, use.fails ? Verdict::fail : Verdict::caution}, std::move(working));
      f.message = "run " + quoted(e.design->runs[i].name) + " " + numbers(lost, limit, e.design) + " for " + quoted(use.name);
      f.in_case = in.load_case.name;
      if (f.verdict != Verdict::pass && e.wiring.runs[i].smallest_for_drop)
        f.cure = e.wiring.runs[i].smallest_for_drop->name + " or larger";
      findings.push_back(std::move(f));
    }
  }
  return findings;
}

std::vector<Finding> check_drop(const Rule& rule, const Evidence& e) {
  return e.design->profile->drop_judged == tables::RuleProfile::DropJudged::segment ? by_segment(rule, e) : by_path(rule, e);
}

constexpr Sign signs[] = {{Parameter::length, Effect::worse},
                          {Parameter::area, Effect::better},
                          {Parameter::ambient, Effect::worse},
                          {Parameter::load, Effect::worse}};

}  // namespace

extern const Rule drop{
    .name = "drop",
    .asks = "Does the way to each appliance and back lose less than its class allows?",
    .why = "Behind a thin or long way fridges do not start, heaters lock out and lights dim; the lost power heats the loom.",
    .cure = "A larger conductor on the run that loses most, a shorter way, or the load moved to another run.",
    .source = {SourceKind::published, "EN 1648-2; ABYC E-11; other profiles name their own", "drop by class of use"},
    .signs = signs,
    .of_safety = false,
    .check = check_drop};

}  // namespace housepower::checks

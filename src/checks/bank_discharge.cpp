// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

/// A case, or where it collapses what the bank gives just before.
Finding check_case(const Rule& rule, const Evidence& e, const wiring::CaseResult& stated) {
  const auto& bank = *e.design->bank;
  const std::string none = "case " + quoted(stated.load_case.name) + " has no operating point";
  const wiring::CaseResult* in = stated.borne();
  if (!in) {
    Finding f =
        not_checked(rule, subject_of_bank(), none + ": what the bank would give is not known");
    f.in_case = stated.load_case.name;
    return f;
  }
  const bool at_start = in->load_case.starting.has_value() && bank.peak;
  const Current limit = at_start ? bank.peak->current : *bank.discharge_limit;
  std::vector<Term<Current>> terms;
  for (const auto& battery : in->batteries)
    terms.push_back({"battery " + std::to_string(battery.number), battery.current});
  Working working;
  const Current busiest =
      largest(e.kept(working), "I_b",
              "current of the busiest battery, from the solution of the network", terms);
  Finding f = judge(rule, subject_of_bank(), busiest, Bound::at_most, {limit, as_stated},
                    std::move(working));
  f.in_case = in->load_case.name;
  const auto [gives, may_give] = figures(f);
  f.message = "the busiest battery " +
              (busiest < 0.0 * ampere ? "is charged with " + print(-busiest) : "gives " + gives) +
              "; each may give " + may_give + (at_start ? " at a start" : "");
  if (!stated.solved()) hold_back(f, none);
  if (f.verdict > Verdict::not_checked)
    f.cure = "another battery in parallel, batteries with a higher limit, or fewer loads at once";
  return f;
}

/// Everything at once never runs by itself, but nothing hinders it: then the van goes dark.
Finding check_everything(const Rule& rule, const Evidence& e) {
  Finding f = check_case(rule, e, wiring::everything_at_once(e.design, e.wiring));
  f.of_safety = false;
  f.verdict = std::min(f.verdict, Verdict::caution);
  f.message = "with everything on " + f.message;
  return f;
}

std::vector<Finding> check_discharge(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  if (!e.design->bank) return {not_checked(rule, subject_of_bank(), "no bank is described")};
  if (!e.design->bank->discharge_limit)
    return {not_checked(rule, subject_of_bank().with("discharge_limit"),
                        "the bank's `discharge_limit` is not stated")};
  const auto draws = [&](const wiring::CaseResult& in) {
    return in.load_case.judged && (!in.borne() || !in.borne()->batteries.empty());
  };
  for (const auto& in : e.wiring.cases)
    if (draws(in)) findings.push_back(check_case(rule, e, in));
  if (!findings.empty()) findings.push_back(check_everything(rule, e));
  return findings;
}

constexpr Sign bank_discharge_signs[] = {{Parameter::load, Effect::worse},
                                         {Parameter::batteries, Effect::better},
                                         {Parameter::discharge_limit, Effect::better},
                                         {Parameter::charge_limit, Effect::none}};

constexpr auto bank_discharge_leans_on =
    leanings(lean_on_loads, lean_on_behaviour, lean_on_bank_parts, lean_on_case, lean_on_way);

}  // namespace

extern const Rule bank_discharge{
    .name = "bank-discharge",
    .asks = "Does each battery stay within its discharge limit, whatever runs together?",
    .why =
        "Above its limit the battery's own protection opens and the whole van goes dark at once.",
    .cure = "More batteries in parallel, batteries with a higher limit, or fewer loads at once.",
    .source = {SourceKind::supplier, "the battery's maker",
               "discharge limit and peak as the design states them"},
    .signs = bank_discharge_signs,
    .concern = Concern::safety,
    .leans_on = bank_discharge_leans_on,
    .check = check_discharge};

}  // namespace housepower::checks

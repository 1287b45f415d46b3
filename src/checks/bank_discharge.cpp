// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

std::vector<Finding> check_discharge(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  if (!e.design->bank) return {not_checked(rule, "bank", "no bank is described")};
  const auto& bank = *e.design->bank;
  if (!bank.discharge_limit)
    return {
        not_checked(rule, "bank/discharge_limit", "the bank's `discharge_limit` is not stated")};
  for (const auto& in : e.wiring.cases) {
    if (!in.load_case.judged || !in.solved() || in.batteries.empty()) continue;
    const bool at_start = in.load_case.starting.has_value() && bank.peak;
    const Current limit = at_start ? bank.peak->current : *bank.discharge_limit;
    std::vector<Term<Current>> terms;
    for (const auto& battery : in.batteries)
      terms.push_back({"battery " + std::to_string(battery.number), battery.current});
    Working working;
    const Current busiest =
        largest(e.kept(working), "I_b",
                "current of the busiest battery, from the solution of the network", terms);
    Finding f =
        judge(rule, "bank", busiest, Bound::at_most, {limit, as_stated}, std::move(working));
    f.in_case = in.load_case.name;
    f.message = "the busiest battery " +
                (busiest < 0.0 * ampere ? "is charged with " + print(-busiest)
                                        : "gives " + print(busiest)) +
                "; each may give " + print(limit) + (at_start ? " at a start" : "");
    if (f.verdict != Verdict::pass)
      f.cure = "another battery in parallel, batteries that give more, or fewer loads at once";
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign signs[] = {{Parameter::load, Effect::worse}, {Parameter::batteries, Effect::better}};

}  // namespace

extern const Rule bank_discharge{
    .name = "bank-discharge",
    .asks = "Does each battery stay within its discharge limit, whatever runs together?",
    .why =
        "Beyond its limit the battery's own protection opens and the whole van goes dark at once.",
    .cure = "More batteries in parallel, batteries that give more, or fewer loads at once.",
    .source = {SourceKind::supplier, "the battery's maker",
               "discharge limit and peak as the design states them"},
    .signs = signs,
    .concern = Concern::safety,
    .check = check_discharge};

}  // namespace housepower::checks

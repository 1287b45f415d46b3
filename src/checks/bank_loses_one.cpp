// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/sharing.hpp"

namespace housepower::checks {
namespace {

using wiring::LosesOne;

std::string list_of(const std::vector<std::string>& names) {
  std::string list;
  for (const auto& name : names) list += (list.empty() ? "" : ", ") + quoted(name);
  return list;
}

Finding check_without_one(const Rule& rule, const Evidence& e, const LosesOne& after) {
  const auto& bank = *e.design->bank;
  const std::string lost = "if battery " + std::to_string(after.lost) + " opens, ";
  const std::string cure = "another battery in parallel, fewer loads at once, or tell the owner "
                           "that one battery alone cannot carry this case";
  if (!after.collapsed.empty() || !after.starved.empty()) {
    Finding f =
        state(rule, subject_of_bank(), Verdict::caution,
              lost + (after.collapsed.empty()
                          ? list_of(after.starved) + " gets less than its lowest voltage"
                          : quoted(after.collapsed) + " draws more than the others can give"),
              rule.source);
    f.in_case = after.in_case;
    f.cure = cure;
    return f;
  }
  const bool peak = after.at_start && bank.peak;
  if (!peak && !bank.discharge_limit)
    return not_checked(rule, subject_of_bank().with("discharge_limit"),
                       "the bank's `discharge_limit` is not stated");
  const Current limit = peak ? bank.peak->current : *bank.discharge_limit;
  Working working;
  const Current busiest = wiring::busiest_of(after, e.kept(working));
  Finding f = judge(rule, subject_of_bank(), busiest, Bound::at_most,
                    {limit, as_stated, Verdict::caution}, std::move(working));
  f.in_case = after.in_case;
  const auto [gives, may_give] = figures(f);
  const auto [before, falls_to] = apart(after.before, after.after);
  f.message = lost + "the busiest of the others gives " + gives + " and the bank falls " + "from " +
              before + " to " + falls_to + "; each may give " + may_give +
              (peak ? " at a start" : "");
  if (f.verdict != Verdict::pass) {
    f.message += ": the others open too and the van goes dark";
    f.cure = cure;
  }
  return f;
}

std::vector<Finding> check_loss(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  if (!e.design->bank || e.design->bank->parallel < 2) return findings;
  for (const LosesOne& after : e.wiring.loses_one)
    findings.push_back(check_without_one(rule, e, after));
  if (findings.empty())
    findings.push_back(
        not_checked(rule, subject_of_bank(), "no case of the design draws from the bank"));
  return findings;
}

constexpr Sign bank_loses_one_signs[] = {{Parameter::load, Effect::worse},
                                         {Parameter::discharge_limit, Effect::better}};

}  // namespace

extern const Rule bank_loses_one{
    .name = "bank-loses-one",
    .asks = "If one battery opens, do the others carry the heaviest case and start without opening "
            "too?",
    .why = "A battery's own switch opens for cold, for a weak cell, for a fault; its load jumps to "
           "the others in the same instant.",
    .cure = "One battery more than the loads need, or fewer loads at once.",
    .source = {SourceKind::supplier, "the battery's maker",
               "discharge limit and peak as the design states them"},
    .signs = bank_loses_one_signs,
    .concern = Concern::service,
    .needs = Needs::bank,
    .check = check_loss};

}  // namespace housepower::checks

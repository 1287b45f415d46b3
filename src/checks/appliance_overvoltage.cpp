// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/parts/cell.hpp"

namespace housepower::checks {
namespace {

/// A bank at rest, charged lately: whoever charges, this is always there.
constexpr Formula resting_bank{
    "U_rest",
    "the charged bank at rest",
    "n · 3.4",
    {{"n", "cells in series"}},
    Source{SourceKind::from_memory, "practice of the trade", "3.40 V a cell, 13.6 V of four"},
    [](Ratio n) -> Voltage { return double(n) * 3.4 * volt; }};

/// What does not bear the bank itself fails, whoever stated the charge voltage.
std::optional<Finding> check_at_rest(const Rule& rule, const Evidence& e,
                                     const design::resolved::Appliance& appliance) {
  if (!e.design->bank || e.design[e.design->bank->post].part != e.design[appliance.post].part)
    return std::nullopt;
  Working working;
  const Voltage rest = step(e.kept(working), resting_bank, parts::cells_in_series(*e.design->bank));
  if (appliance.highest >= rest) return std::nullopt;
  Finding f = judge(rule, subject_of(e.design, appliance), rest, Bound::at_most,
                    {appliance.highest, as_stated}, std::move(working));
  const auto [has, bears] = figures(f);
  f.message = quoted(appliance.name) + " is rated for " + bears + "; the charged bank itself has " +
              has + " at rest";
  f.cure = "a regulator before it, or an appliance that is rated for it";
  return f;
}

std::vector<Finding> check_overvoltage(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& appliance : e.design->appliances) {
    if (appliance.inverter) continue;
    const Subject subject = subject_of(e.design, appliance);
    const bool stated = !is_assumed(e.design, subject.with("highest_voltage"));
    Working working;
    // Unloaded conductors lose nothing: the charge voltage itself reaches the appliance.
    const auto highest = highest_voltage_at(e.design, appliance.post, e.kept(working));
    if (!highest) {
      findings.push_back(not_checked(rule, subject,
                                     quoted(appliance.name) +
                                         " is fed by an array whose cold voltage is not known",
                                     unstated_of_cold(e)));
      continue;
    }
    if (auto at_rest = check_at_rest(rule, e, appliance)) {
      findings.push_back(*std::move(at_rest));
      continue;
    }
    Finding f = judge(rule, subject, highest->value, Bound::at_most,
                      {appliance.highest, stated ? as_stated : our_method,
                       stated && highest->stated ? Verdict::fail : Verdict::caution},
                      std::move(working));
    const auto [gets, bears] = figures(f);
    f.message = quoted(appliance.name) + " gets up to " + gets + " " + highest->from +
                " and is rated for " + bears +
                (stated ? "" : " (assumed: its own limit is not stated)");
    if (f.verdict != Verdict::pass)
      f.cure = "a lower charge voltage, or a regulator before the appliance";
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign appliance_overvoltage_signs[] = {{Parameter::length, Effect::none}};

}  // namespace

extern const Rule appliance_overvoltage{
    .name = "appliance-overvoltage",
    .asks = "Is each appliance rated for the highest voltage that charging brings?",
    .why = "Electronics meant for a lead battery's 14.4 V fail early or at once above their limit.",
    .cure = "A lower charge voltage, or a regulator before what is not rated for it.",
    .source = {SourceKind::published, "a battery data sheet",
               "absorption 14.6 V; each appliance states its own limit"},
    .signs = appliance_overvoltage_signs,
    .concern = Concern::safety_where_it_fails,
    .check = check_overvoltage};

}  // namespace housepower::checks

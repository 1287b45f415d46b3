// SPDX-License-Identifier: Apache-2.0
// The rules in the order of the report, and the check of a whole design.
#include <algorithm>
#include <array>

#include "common.hpp"

namespace housepower::checks {

extern const Rule voltage_collapse, unprotected_source_end, breaking_capacity, device_voltage,
    far_fault_clears, fault_withstand, selectivity, fuse_near_source, fuse_below_conductor,
    fuse_above_load, fuse_loading, ampacity, return_ampacity, isolator, conductor_fits_terminal,
    hot_joint, drop, appliance_undervoltage, appliance_overvoltage, starting_current,
    inverter_reserve, bank_discharge, parallel_share, bank_loses_one, bank_charge, array_voltage,
    array_current, charge_headroom, tow_feed, lithium_outside, smallest_conductor, autonomy,
    daily_balance, mass, inspection, left_unsaid;

namespace {
constexpr std::array all_rules{&voltage_collapse,
                               &unprotected_source_end,
                               &breaking_capacity,
                               &device_voltage,
                               &far_fault_clears,
                               &fault_withstand,
                               &selectivity,
                               &fuse_near_source,
                               &fuse_below_conductor,
                               &fuse_above_load,
                               &fuse_loading,
                               &ampacity,
                               &return_ampacity,
                               &isolator,
                               &conductor_fits_terminal,
                               &hot_joint,
                               &drop,
                               &appliance_undervoltage,
                               &appliance_overvoltage,
                               &starting_current,
                               &inverter_reserve,
                               &bank_discharge,
                               &parallel_share,
                               &bank_loses_one,
                               &bank_charge,
                               &array_voltage,
                               &array_current,
                               &charge_headroom,
                               &tow_feed,
                               &lithium_outside,
                               &smallest_conductor,
                               &autonomy,
                               &daily_balance,
                               &mass,
                               &inspection,
                               &left_unsaid};

int rank(Verdict v) {
  return v == Verdict::fail ? 0 : v == Verdict::caution ? 1 : v == Verdict::not_checked ? 2 : 3;
}

/// The values that the program supplied for this finding's run or the bank, or else anywhere, and
/// that the kindest defaults supply otherwise: one of them at least decides.
std::string supplied_for(const Finding& f, const design::Design& ordinary,
                         const design::Design& kindest) {
  const std::string run =
      f.subject.rfind("run/", 0) == 0 ? f.subject.substr(0, f.subject.find('/', 4)) + "/" : "";
  std::string list;
  for (const Assumption& a : ordinary->assumptions) {
    const bool same =
        std::any_of(kindest->assumptions.begin(), kindest->assumptions.end(),
                    [&](const Assumption& k) { return k.path == a.path && k.value == a.value; });
    if (same || (!run.empty() && a.path.rfind(run, 0) != 0 && a.path.rfind("bank/", 0) != 0))
      continue;
    list += (list.empty() ? "" : ", ") + a.path + " = " + a.value;
  }
  return list;
}

/// A fail or caution that the kindest defaults do not raise rests on a value nobody stated.
void soften(std::vector<Finding>& findings, const std::vector<Finding>& kinder,
            const design::Design& ordinary, const design::Design& kindest) {
  for (Finding& f : findings) {
    if (f.verdict < Verdict::caution) continue;
    const auto same = std::find_if(kinder.begin(), kinder.end(), [&](const Finding& k) {
      return k.rule == f.rule && k.subject == f.subject && k.in_case == f.in_case;
    });
    if (same == kinder.end() || same->verdict >= Verdict::caution) continue;
    const std::string supplied = supplied_for(f, ordinary, kindest);
    f.verdict = Verdict::caution;
    f.message += "; this rests on values that the design does not state";
    f.cure = "state " +
             (supplied.empty() ? "them (the assumptions are listed below)"
                               : supplied + " as it really is") +
             (f.cure.empty() ? "" : "; else: " + f.cure);
  }
}
}  // namespace

std::span<const Rule* const> rules() { return all_rules; }

const Rule* rule_named(std::string_view name) {
  for (const Rule* rule : all_rules)
    if (rule->name == name) return rule;
  return nullptr;
}

std::vector<Finding> evaluate(const Evidence& evidence) {
  std::vector<Finding> findings;
  for (const Rule* rule : all_rules)
    for (Finding& f : rule->check(*rule, evidence)) findings.push_back(std::move(f));
  std::stable_sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) {
    return rank(a.verdict) < rank(b.verdict);
  });
  return findings;
}

Checked check(const design::Design& ordinary, const design::Design& kindest) {
  Checked checked;
  checked.energy = energy::assess(ordinary);
  checked.wiring = wiring::assess(ordinary, load_cases(ordinary, checked.energy));
  checked.findings = evaluate({ordinary, checked.energy, checked.wiring});
  const bool clean = std::none_of(checked.findings.begin(), checked.findings.end(),
                                  [](const Finding& f) { return f.verdict >= Verdict::caution; });
  if (!clean) {
    const auto kind_energy = energy::assess(kindest);
    const auto kind_wiring = wiring::assess(kindest, load_cases(kindest, kind_energy));
    soften(checked.findings, evaluate({kindest, kind_energy, kind_wiring}), ordinary, kindest);
    std::stable_sort(
        checked.findings.begin(), checked.findings.end(),
        [](const Finding& a, const Finding& b) { return rank(a.verdict) < rank(b.verdict); });
  }
  checked.verdict = worst(checked.findings);
  return checked;
}

void locate(std::vector<Finding>& findings, const Node& document) {
  for (Finding& f : findings) {
    std::string path = f.subject;
    while (!path.empty()) {
      if (const Node* node = document.at(path)) {
        f.place = node->place;
        break;
      }
      const auto slash = path.rfind('/');
      path.resize(slash == std::string::npos ? 0 : slash);
    }
    if (path.empty()) f.place = document.place;
  }
}

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// The rules in the order of the report, and the check of a whole design.
#include <algorithm>
#include <array>

#include "common.hpp"

namespace housepower::checks {

extern const Rule voltage_collapse, unprotected_source_end, breaking_capacity, device_voltage,
    fuse_near_source, fuse_below_conductor, fuse_above_load, fuse_loading, ampacity,
    return_ampacity, drop, appliance_undervoltage, appliance_overvoltage, bank_discharge,
    lithium_outside, smallest_conductor, autonomy, daily_balance, mass, inspection, left_unsaid;

namespace {
constexpr std::array all_rules{
    &voltage_collapse, &unprotected_source_end, &breaking_capacity,      &device_voltage,
    &fuse_near_source, &fuse_below_conductor,   &fuse_above_load,        &fuse_loading,
    &ampacity,         &return_ampacity,        &drop,                   &appliance_undervoltage,
    &appliance_overvoltage, &bank_discharge,    &lithium_outside,        &smallest_conductor,
    &autonomy,         &daily_balance,          &mass,                   &inspection,
    &left_unsaid};

int rank(Verdict v) {
  return v == Verdict::fail ? 0 : v == Verdict::caution ? 1 : v == Verdict::not_checked ? 2 : 3;
}

/// A fail or caution that the kindest defaults do not raise rests on a value nobody stated.
void soften(std::vector<Finding>& findings, const std::vector<Finding>& kindest,
            const design::Design& design) {
  for (Finding& f : findings) {
    if (f.verdict < Verdict::caution) continue;
    const auto same = std::find_if(kindest.begin(), kindest.end(), [&](const Finding& k) {
      return k.rule == f.rule && k.subject == f.subject && k.in_case == f.in_case;
    });
    if (same == kindest.end() || same->verdict >= Verdict::caution) continue;
    f.verdict = Verdict::caution;
    std::string assumed;
    for (const Assumption& a : design->assumptions)
      if (a.path.rfind(f.subject, 0) == 0) assumed += (assumed.empty() ? "" : ", ") + a.path + " = " + a.value;
    f.message += "; this rests on values that the design does not state";
    f.cure = "state " + (assumed.empty() ? "them (the assumptions are listed below)" : assumed + " as it really is") +
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
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding& a, const Finding& b) { return rank(a.verdict) < rank(b.verdict); });
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
    soften(checked.findings, evaluate({kindest, kind_energy, kind_wiring}), ordinary);
    std::stable_sort(checked.findings.begin(), checked.findings.end(),
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

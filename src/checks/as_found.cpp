// SPDX-License-Identifier: Apache-2.0
#include "housepower/checks/as_found.hpp"

#include <algorithm>
#include <cmath>

#include "as_found.hpp"

namespace housepower::checks {

extern const Rule hot_joint, drop, appliance_undervoltage, voltage_collapse;

namespace {

using wiring::Cause;

constexpr Source estimated{SourceKind::common_practice, "the readings", "as estimated from them"};

/// Ohms more than the design has; less than nothing counts nothing.
Resistance excess_of(const Cause& c) {
  const double usual = c.expected && c.is != Cause::Is::joint ? c.expected->si : 0.0;
  return Resistance::from_value(std::max(c.value.si - usual, 0.0));
}
bool is_resistance(const Cause& c) {
  return c.is == Cause::Is::joint || c.is == Cause::Is::conductor || c.is == Cause::Is::device ||
         c.is == Cause::Is::item || c.is == Cause::Is::link;
}
/// The current of the largest heat.
Current full_current(const Cause& c) {
  return Current::from_value(
      c.heat_full && c.value.si > 0.0 ? std::sqrt(c.heat_full->value() / c.value.si) : 0.0);
}

/// Only the likeliest, unless several are true together.
std::vector<const Cause*> believed(const wiring::Diagnosis& d) {
  std::vector<const Cause*> all;
  for (const Cause& c : d.causes)
    if (all.empty() || d.together) all.push_back(&c);
  return all;
}

/// The document with what was found as items in line.
design::Document as_found(design::Document document, const design::Design& design,
                          const std::vector<const Cause*>& causes) {
  for (const Cause* c : causes) {
    if (!is_resistance(*c) || c->run.index < 0) continue;
    for (auto& run : document.run) {
      if (run.name != design[c->run].name) continue;
      auto& item = run.inline_items.emplace_back();
      item.kind = design::InlineKind::plug;
      item.resistance = excess_of(*c);
      item.pole = c->pole;
    }
  }
  return document;
}

bool is_worse(const Finding& f, const std::vector<Finding>& before) {
  for (const Finding& old : before)
    if (old.rule == f.rule && old.subject == f.subject && old.in_case == f.in_case)
      return f.verdict > old.verdict;
  return f.verdict >= Verdict::caution;
}

void add_network(std::vector<Finding>& to, const design::Document& document,
                 const design::Design& design, const Checked& checked,
                 const std::vector<const Cause*>& causes) {
  if (std::none_of(causes.begin(), causes.end(),
                   [](const Cause* c) { return is_resistance(*c) && c->run.index >= 0; }))
    return;
  Diagnostics none;
  const auto changed = as_found(document, design, causes);
  const auto found = design::resolve(changed, *design->tables, Defaults::ordinary, none);
  if (!found) throw std::logic_error("a design with one item more does not resolve");
  const auto no_outlook = [](const energy::DeliveredList&) { return energy::Outlook{}; };
  const Checked again = check(changed, *found, no_outlook, Workings::left_out);
  for (const Finding& f : again.findings)
    for (const Rule* rule : {&drop, &appliance_undervoltage, &voltage_collapse})
      if (f.rule == rule->name && f.verdict >= Verdict::caution && is_worse(f, checked.findings))
        to.push_back(f);
}

}  // namespace

AsFound judge_found(const design::Document& document, const design::Design& design,
                    const Checked& checked, const wiring::Diagnosis& diagnosis) {
  AsFound found;
  const auto causes = believed(diagnosis);
  for (const Cause* c : causes) {
    if (is_resistance(*c) && c->is != Cause::Is::conductor)
      found.findings.push_back(judge_joint(c->element, "what was found at " + c->element.text(),
                                           full_current(*c), excess_of(*c), estimated));
    if ((c->is == Cause::Is::battery || c->is == Cause::Is::link) && diagnosis.batteries.size() > 1)
      found.findings.push_back(judge_shares(diagnosis.batteries));
    if (c->is == Cause::Is::reversed)
      found.findings.push_back(state(voltage_collapse, c->element, Verdict::fail,
                                     "reads the wrong way round: plus and minus are swapped, "
                                     "unless it was the meter's leads",
                                     estimated));
  }
  add_network(found.findings, document, design, checked, causes);
  std::stable_sort(found.findings.begin(), found.findings.end(),
                   [](const Finding& x, const Finding& y) { return x.verdict > y.verdict; });
  for (const Finding& f : found.findings) found.verdict = std::max(found.verdict, f.verdict);
  const bool out = std::any_of(diagnosis.readings.begin(), diagnosis.readings.end(),
                               [](const wiring::ReadPoint& r) { return !r.in_band; });
  if (out || !diagnosis.causes.empty() || diagnosis.unexplained)
    found.verdict = std::max(found.verdict, Verdict::caution);
  return found;
}

}  // namespace housepower::checks

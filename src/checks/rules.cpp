// SPDX-License-Identifier: Apache-2.0
// The rules in the order of the report, and the check of a whole design.
#include <algorithm>
#include <array>
#include <iterator>
#include <map>
#include <stdexcept>

#include "common.hpp"
#include "housepower/checks/delivered.hpp"
#include "housepower/wiring/assess_network.hpp"
#include "resting.hpp"
#include "unsaid.hpp"

namespace housepower::checks {

extern const Rule voltage_collapse, unprotected_source_end, breaking_capacity, device_voltage,
    far_fault_clears, fault_withstand, selectivity, fuse_near_source, fuse_below_conductor,
    fuse_above_load, fuse_loading, ampacity, return_ampacity, isolator, conductor_fits_terminal,
    connector_load, hot_joint, drop, appliance_undervoltage, appliance_overvoltage,
    starting_current, inverter_load, inverter_reserve, bank_discharge, parallel_share,
    bank_loses_one, bank_charge, array_voltage, array_current, charge_headroom, tow_feed,
    lithium_outside, smallest_conductor, autonomy, promised_stay, daily_balance, cold_charging,
    box_too_hot, parked_drain, mass, inspection, left_unsaid;

namespace {
/// In the order in which they are printed: first what starts a fire soonest (no device, one that cannot
/// break the fault, one too large for its conductor), a cause before its consequence, service last.
constexpr std::array all_rules{&unprotected_source_end,
                               &breaking_capacity,
                               &fuse_below_conductor,
                               &ampacity,
                               &return_ampacity,
                               &fault_withstand,
                               &far_fault_clears,
                               &fuse_near_source,
                               &fuse_above_load,
                               &voltage_collapse,
                               &device_voltage,
                               &isolator,
                               &conductor_fits_terminal,
                               &connector_load,
                               &hot_joint,
                               &lithium_outside,
                               &cold_charging,
                               &array_voltage,
                               &array_current,
                               &appliance_overvoltage,
                               &bank_discharge,
                               &bank_charge,
                               &parallel_share,
                               &smallest_conductor,
                               &selectivity,
                               &fuse_loading,
                               &drop,
                               &appliance_undervoltage,
                               &starting_current,
                               &inverter_load,
                               &inverter_reserve,
                               &bank_loses_one,
                               &charge_headroom,
                               &tow_feed,
                               &autonomy,
                               &promised_stay,
                               &daily_balance,
                               &box_too_hot,
                               &parked_drain,
                               &mass,
                               &inspection,
                               &left_unsaid};

/// All in one list: by verdict, what is of safety first, each in the order that they have. It is made
/// once and at its size: to grow and to sort it would touch twice the memory again.
std::vector<Finding> by_verdict(std::vector<std::vector<Finding>> lists) {
  std::size_t count = 0;
  for (const auto& list : lists) count += list.size();
  std::vector<Finding> all;
  all.reserve(count);
  for (const Verdict v : {Verdict::fail, Verdict::caution, Verdict::not_checked, Verdict::pass})
    for (const bool safety : {true, false})
      for (auto& list : lists)
        for (Finding& f : list)
          if (f.verdict == v && f.of_safety == safety) all.push_back(std::move(f));
  return all;
}

/// The run that a subject is, or is a part of; null where it is about none.
const Run* run_of(const Subject& subject, const design::Design& design) {
  const bool one = subject.is(Subject::Kind::run) && subject.index() >= 0;
  return one ? &design->runs[std::size_t(subject.index())] : nullptr;
}

/// What every finding of a rule gets, whichever rule it is.
void complete(const Rule& rule, const design::Design& design, const Resting& resting,
              std::vector<Finding>& findings) {
  for (Finding& f : findings) {
    if (rule.concern == Concern::safety_where_it_fails && f.verdict == Verdict::fail)
      f.of_safety = true;
    if (const std::string supplied = resting.under(rule, f); !supplied.empty())
      f.message += "; this rests on values that the design does not state: " + supplied;
    if (const Run* run = run_of(f.subject, design)) f.label = run->label;
  }
}

/// A fail or caution that passes with the kindest defaults rests on a value nobody stated. What is
/// not checked there has not passed.
///
/// How it works. A design seldom says everything; what it leaves out is supplied, on the safe side. A
/// fail could then be the program's doing and not the van's. So what failed or cautioned is asked once
/// more, of the same document with each missing value at its kindest. If the same rule, subject and
/// case pass there, the missing values decide: it becomes a caution whose cure is to state them, named
/// where they differ between the two. Anything but a pass there, or no such finding, leaves it as it
/// was; nothing that passed is asked again, so that no verdict gets worse by it.
std::vector<Softened> softened_by(std::vector<Finding>& findings,
                                  const std::vector<Finding>& kinder) {
  std::vector<Softened> list;
  for (Finding& f : findings) {
    if (f.verdict < Verdict::caution) continue;
    const Finding* same = same_finding(kinder, f);
    if (same && same->verdict == Verdict::pass) list.push_back({&f, {}});
  }
  return list;
}

void tell_what_it_rests_on(const Softened& one) {
  Finding& f = *one.finding;
  f.verdict = Verdict::caution;
  f.message += "; this rests on values that the design does not state";
  f.cure = state_them(one.values) + (f.cure.empty() ? "" : "; else: " + f.cure);
  f.wants.clear();
  for (const Supplied* value : one.values) f.wants.push_back(value->key);
}

/// "run/fridge": each named member of the document's lists, found without asking all before it.
using Members = std::map<std::string, const Node*, std::less<>>;
Members named_members(const Node& document) {
  Members members;
  if (const auto* table = std::get_if<Node::Table>(&document.value))
    for (const auto& entry : *table)
      if (const auto* list = std::get_if<Node::List>(&entry.value.value))
        for (const Node& member : *list)
          if (const auto name = member.text_at("name"))
            members.try_emplace(entry.key + "/" + std::string(*name), &member);
  return members;
}

const Node* node_at(std::string_view path, const Members& members, const Node& document) {
  const auto end = path.find('/', path.find('/') + 1);
  const auto found = members.find(path.substr(0, end));
  if (found == members.end()) return document.at(path);
  return found->second->at(end == path.npos ? std::string_view{} : path.substr(end + 1));
}

/// The engines as they are.
const Engines& whole() {
  static const Engines all{[](const design::Design& d) { return energy::assess(d); },
                           [](const design::Design& d, std::span<const wiring::LoadCase> cases,
                              Defaults) { return wiring::assess(d, cases); },
                           [](const design::Design& d, const energy::DeliveredList& charging) {
                             return energy::outlook(d, charging);
                           }};
  return all;
}

/// What the rules that found something say of a kinder design; the others have nothing to soften. The
/// simulation is asked again only where it found something.
std::vector<Finding> asked_again(const std::vector<const Rule*>& found,
                                 const design::Design& kinder, const energy::Outlook& outlook,
                                 const Engines& engines) {
  const bool of_bank = std::any_of(found.begin(), found.end(),
                                   [](const Rule* r) { return r->needs == Needs::bank; });
  const auto energy = engines.energy(kinder);
  const auto cases = load_cases(kinder, energy);
  const auto wiring = of_bank ? engines.wiring(kinder, cases, Defaults::kindest)
                              : wiring::assess_network(kinder, cases);
  const bool of_hours = std::any_of(found.begin(), found.end(),
                                    [](const Rule* r) { return r->needs == Needs::hours; });
  const energy::Outlook again =
      of_hours ? engines.outlook(kinder, delivered(kinder, wiring)) : energy::Outlook();
  const Evidence evidence{kinder, energy, wiring, of_hours ? again : outlook, Workings::left_out};
  std::vector<std::vector<Finding>> lists;
  for (const Rule* rule : found) lists.push_back(rule->check(*rule, evidence));
  return by_verdict(std::move(lists));
}

/// The rules of these findings, in their order.
template <class Is> std::vector<const Rule*> rules_where(Is is) {
  std::vector<const Rule*> list;
  std::copy_if(all_rules.begin(), all_rules.end(), std::back_inserter(list), is);
  return list;
}

bool is_clean(const Checked& checked) {
  return std::none_of(checked.findings.begin(), checked.findings.end(),
                      [](const Finding& f) { return f.verdict >= Verdict::caution; });
}

void soften(Checked& checked, const design::Document& document, const design::Design& ordinary,
            const design::Design& kindest, const Engines& engines, Unsaid unsaid) {
  const auto found = rules_where([&](const Rule* rule) {
    return std::any_of(checked.findings.begin(), checked.findings.end(), [&](const Finding& f) {
      return f.rule == rule->name && f.verdict >= Verdict::caution;
    });
  });
  auto softened =
      softened_by(checked.findings, asked_again(found, kindest, checked.outlook, engines));
  const auto supplied = supplied_otherwise(ordinary, kindest);
  for (Softened& one : softened) one.values = supplied_for(*one.finding, supplied, checked.wiring);
  if (unsaid == Unsaid::ranked) {
    const auto rests = rules_where([&](const Rule* rule) {
      return std::any_of(softened.begin(), softened.end(),
                         [&](const Softened& one) { return one.finding->rule == rule->name; });
    });
    keep_what_moves(softened, document, ordinary, [&](const design::Design& kinder) {
      return asked_again(rests, kinder, checked.outlook, whole());
    });
  }
  for (const Softened& one : softened) tell_what_it_rests_on(one);
  std::vector<std::vector<Finding>> lists;
  lists.push_back(std::move(checked.findings));
  checked.findings = by_verdict(std::move(lists));
}

}  // namespace

std::span<const Rule* const> rules() { return all_rules; }

const Rule* rule_named(std::string_view name) {
  for (const Rule* rule : all_rules)
    if (rule->name == name) return rule;
  return nullptr;
}

bool is_about(const Finding& f, About about) {
  const Rule* rule = rule_named(f.rule);
  return rule && rule->about == about;
}

std::vector<Finding> evaluate(const Evidence& evidence) {
  const Resting resting(evidence);
  std::vector<std::vector<Finding>> lists;
  for (const Rule* rule : all_rules) {
    lists.push_back(rule->check(*rule, evidence));
    complete(*rule, evidence.design, resting, lists.back());
  }
  return by_verdict(std::move(lists));
}

Checked check(const design::Document& document, const design::Design& design,
              const Engines& engines, Workings workings, Unsaid unsaid) {
  Checked checked;
  checked.energy = engines.energy(design);
  checked.wiring = engines.wiring(design, load_cases(design, checked.energy), Defaults::ordinary);
  checked.charging = delivered(design, checked.wiring);
  checked.outlook = engines.outlook(design, checked.charging);
  checked.findings = evaluate({design, checked.energy, checked.wiring, checked.outlook, workings});
  for (const Rule* rule : all_rules)
    if (rule->silent)
      if (std::string what = rule->silent(design); !what.empty())
        checked.silences.push_back({rule->name, std::move(what)});
  if (!is_clean(checked)) {
    Diagnostics again;  // the same problems would be told twice
    const auto kindest = design::resolve(document, *design->tables, Defaults::kindest, again);
    if (!kindest)
      throw std::logic_error("a design resolved with ordinary defaults but not with the kindest");
    soften(checked, document, design, *kindest, engines, unsaid);
  }
  if (unsaid == Unsaid::listed)  // for no reader: nobody tries what rules propose
    for (Finding& f : checked.findings) f.cure_set.clear();
  checked.verdicts = worst(checked.findings);
  return checked;
}

Checked check(const design::Document& document, const design::Design& design, Workings workings,
              Unsaid unsaid) {
  return check(document, design, whole(), workings, unsaid);
}

void locate(std::vector<Finding>& findings, const Node& document) {
  const auto members = named_members(document);
  for (Finding& f : findings) {
    std::string_view path = f.subject.text();
    while (!path.empty()) {
      if (const Node* node = node_at(path, members, document)) {
        f.place = node->place;
        break;
      }
      const auto slash = path.rfind('/');
      path = path.substr(0, slash == path.npos ? 0 : slash);
    }
    if (path.empty()) f.place = document.place;
  }
}

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
// The rules in the order of the report, and the check of a whole design.
#include <algorithm>
#include <array>
#include <map>
#include <stdexcept>

#include "common.hpp"
#include "housepower/checks/delivered.hpp"
#include "housepower/wiring/assess_network.hpp"

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
                               &connector_load,
                               &hot_joint,
                               &drop,
                               &appliance_undervoltage,
                               &appliance_overvoltage,
                               &starting_current,
                               &inverter_load,
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
                               &promised_stay,
                               &daily_balance,
                               &cold_charging,
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

/// A pass of safety that rests on values the program supplied says on which.
std::string supplied_values_under(const Rule& rule, const Finding& f,
                                  const design::Design& design) {
  if (f.verdict != Verdict::pass || !f.of_safety) return {};
  std::string list;
  const Run* run = run_of(f.subject, design);
  for (const Leaning& leaning : rule.leans_on) {
    const bool of_bank = leaning.of == Subject::Kind::bank;
    if (!of_bank && !run) continue;
    const Subject key = (of_bank ? subject_of_bank() : subject_of(design, *run)).with(leaning.key);
    if (!is_assumed(design, key)) continue;
    const auto& all = design->assumptions;
    const auto supplied = std::find_if(all.begin(), all.end(),
                                       [&](const Assumption& a) { return a.path == key.text(); });
    list += (list.empty() ? "" : ", ") + (of_bank ? key.text() : std::string(leaning.key)) +
            (supplied == all.end() ? "" : " = " + supplied->value);
  }
  return list;
}

/// What every finding of a rule gets, whichever rule it is.
void complete(const Rule& rule, const design::Design& design, std::vector<Finding>& findings) {
  for (Finding& f : findings) {
    if (rule.concern == Concern::safety_where_it_fails && f.verdict == Verdict::fail)
      f.of_safety = true;
    if (const std::string supplied = supplied_values_under(rule, f, design); !supplied.empty())
      f.message += "; this rests on values that the design does not state: " + supplied;
    if (const Run* run = run_of(f.subject, design)) f.label = run->label;
  }
}

/// An assumption that the kindest defaults make otherwise, and what it is about.
struct Supplied {
  const Assumption* assumption;
  Subject subject;  // its member of a list, or its table
};

/// Reading knows no design and lists what it supplied by path: here each meets its Subject.
std::vector<Supplied> supplied_otherwise(const design::Design& ordinary,
                                         const design::Design& kindest) {
  std::map<std::string, Subject, std::less<>> members;
  const auto add = [&](const auto& list) {
    for (const auto& one : list) {
      Subject subject = subject_of(ordinary, one);
      members.try_emplace(subject.text(), std::move(subject));
    }
  };
  add(ordinary->runs), add(ordinary->appliances), add(ordinary->inverters);
  add(ordinary->chargers), add(ordinary->controllers), add(ordinary->arrays);
  add(ordinary->feeds), add(ordinary->connectors), add(ordinary->posts);
  for (const auto kind : {Subject::Kind::travel, Subject::Kind::promise, Subject::Kind::place}) {
    const Subject table(kind);
    members.try_emplace(table.text(), table);
  }
  std::map<std::string_view, std::string_view> kinder;
  for (const Assumption& k : kindest->assumptions) kinder.try_emplace(k.path, k.value);
  std::vector<Supplied> list;
  for (const Assumption& a : ordinary->assumptions) {
    const auto same = kinder.find(a.path);
    if (same != kinder.end() && same->second == a.value) continue;
    const std::string_view path = a.path;
    const auto table = path.find('/'), member = path.find('/', table + 1);
    auto found = members.find(path.substr(0, member));
    if (found == members.end()) found = members.find(path.substr(0, table));
    if (found != members.end()) list.push_back({&a, found->second});
  }
  return list;
}

/// The values that the program supplied for this finding's run or the bank, or else anywhere, and
/// that the kindest defaults supply otherwise: one of them at least decides.
std::string supplied_for(const Finding& f, const std::vector<Supplied>& supplied) {
  using Kind = Subject::Kind;
  // What is about a consumer hangs on its way and its source; what else, on its own table.
  const Kind own = f.subject.kind();
  const bool of_own_table =
      own == Kind::bank || own == Kind::travel || own == Kind::promise || own == Kind::place;
  const bool of_run = own == Kind::run && f.subject.index() >= 0;
  std::string list;
  for (const Supplied& one : supplied) {
    const bool of_way = one.subject.is(Kind::run) || one.subject.is(Kind::bank);
    const bool concerns = of_run ? f.subject.is_within(one.subject) || one.subject.is(Kind::bank)
                          : of_own_table ? one.subject.is(own)
                                         : of_way || one.subject.is(own);
    if (!concerns) continue;
    list += (list.empty() ? "" : ", ") + one.assumption->path + " = " + one.assumption->value;
  }
  return list;
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
void soften(std::vector<Finding>& findings, const std::vector<Finding>& kinder,
            const design::Design& ordinary, const design::Design& kindest) {
  const auto otherwise = supplied_otherwise(ordinary, kindest);
  for (Finding& f : findings) {
    if (f.verdict < Verdict::caution) continue;
    const auto same = std::find_if(kinder.begin(), kinder.end(), [&](const Finding& k) {
      return k.rule == f.rule && k.subject == f.subject && k.in_case == f.in_case;
    });
    if (same == kinder.end() || same->verdict != Verdict::pass) continue;
    const std::string supplied = supplied_for(f, otherwise);
    f.verdict = Verdict::caution;
    f.message += "; this rests on values that the design does not state";
    f.cure = "state " +
             (supplied.empty() ? "them (the assumptions are listed below)"
                               : supplied + " as it really is") +
             (f.cure.empty() ? "" : "; else: " + f.cure);
  }
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

/// What those rules say of the kindest design; the others have nothing to soften. The simulation is
/// asked again only where it found something.
std::vector<Finding> of_rules_that_found(const std::vector<Finding>& findings,
                                         const design::Design& kindest,
                                         const energy::Outlook& outlook) {
  std::vector<const Rule*> found;
  for (const Rule* rule : all_rules)
    if (std::any_of(findings.begin(), findings.end(), [&](const Finding& f) {
          return f.rule == rule->name && f.verdict >= Verdict::caution;
        }))
      found.push_back(rule);
  const bool of_bank = std::any_of(found.begin(), found.end(),
                                   [](const Rule* r) { return r->needs == Needs::bank; });
  const auto energy = energy::assess(kindest);
  const auto cases = load_cases(kindest, energy);
  const auto wiring =
      of_bank ? wiring::assess(kindest, cases) : wiring::assess_network(kindest, cases);
  const bool of_hours = std::any_of(found.begin(), found.end(),
                                    [](const Rule* r) { return r->needs == Needs::hours; });
  const energy::Outlook again =
      of_hours ? energy::outlook(kindest, delivered(kindest, wiring)) : energy::Outlook();
  const Evidence evidence{kindest, energy, wiring, of_hours ? again : outlook, Workings::left_out};
  std::vector<std::vector<Finding>> kinder;
  for (const Rule* rule : found) kinder.push_back(rule->check(*rule, evidence));
  return by_verdict(std::move(kinder));
}

bool is_clean(const Checked& checked) {
  return std::none_of(checked.findings.begin(), checked.findings.end(),
                      [](const Finding& f) { return f.verdict >= Verdict::caution; });
}

void soften(Checked& checked, const design::Design& ordinary, const design::Design& kindest) {
  const auto kinder = of_rules_that_found(checked.findings, kindest, checked.outlook);
  soften(checked.findings, kinder, ordinary, kindest);
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
  std::vector<std::vector<Finding>> lists;
  for (const Rule* rule : all_rules) {
    lists.push_back(rule->check(*rule, evidence));
    complete(*rule, evidence.design, lists.back());
  }
  return by_verdict(std::move(lists));
}

Checked check(const design::Document& document, const design::Design& design,
              const OutlookOf& outlook_of, Workings workings) {
  Checked checked;
  checked.energy = energy::assess(design);
  checked.wiring = wiring::assess(design, load_cases(design, checked.energy));
  checked.charging = delivered(design, checked.wiring);
  checked.outlook = outlook_of(checked.charging);
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
    soften(checked, design, *kindest);
  }
  checked.verdicts = worst(checked.findings);
  return checked;
}

Checked check(const design::Document& document, const design::Design& design, Workings workings) {
  const auto whole = [&](const energy::DeliveredList& charging) {
    return energy::outlook(design, charging);
  };
  return check(document, design, whole, workings);
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

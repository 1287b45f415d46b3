// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "common.hpp"
#include "housepower/wiring/joints.hpp"
#include "housepower/wiring/network_of.hpp"

namespace housepower::checks {
namespace {

using design::InlineKind;
using design::resolved::Lead;

constexpr Source good_source{SourceKind::published, "a service manual of a 24 V battery pack",
                             "p. 135: a good joint loses 0.008 to 0.030 V, a faulty one 0.200 V"};
constexpr Source shunt_source{SourceKind::from_memory, "shunts as they are sold",
                              "made to lose 50 or 75 mV at their rating"};
constexpr Voltage good = 0.030 * volt, faulty = 0.200 * volt, of_a_shunt = 0.075 * volt;

/// A joint or contact that a run's or battery's current passes.
struct Passed {
  std::string path, who, in_case, why_unknown;
  Resistance each{};
  Source source;
  bool stated = true;
  bool shunt = false;
};

/// "0.12 mΩ": two digits, rounded down so that it suffices.
std::string rounded_down(Resistance r) {
  const double scale = std::pow(10.0, std::floor(std::log10(r.value())) - 1.0);
  return print(Resistance::from_value(std::floor(r.value() / scale + 1e-9) * scale));
}

Finding check_passed(const Rule& rule, const Passed& at, Current current, Working working) {
  const Voltage lost = wiring::contact_voltage(current, at.each);
  const bool fails = at.stated && !at.shunt && lost > faulty;
  const Limit limit = at.shunt ? Limit{of_a_shunt, shunt_source, Verdict::caution}
                      : fails  ? Limit{faulty, good_source}
                               : Limit{good, good_source, Verdict::caution};
  const Voltage may_lose = at.shunt ? of_a_shunt : good;
  const auto contact = wiring::contact_of(current, at.each, at.source, may_lose, &working);
  Finding f = judge(rule, at.path, contact.lost, Bound::at_most, limit, std::move(working));
  f.in_case = at.in_case;
  f.message = at.who + (at.stated ? " lose" : ", its resistance assumed, lose") +
              (at.who.starts_with("each") || at.shunt ? "s " : " ") + print(contact.lost) +
              " and makes " + print(contact.heat) + " of heat at " + print(current);
  hold_back(f, at.why_unknown);
  if (f.verdict >= Verdict::caution && contact.sufficient)
    f.cure =
        (at.stated ? "a joint of at most " : "measure it and state it: it should have at most ") +
        rounded_down(*contact.sufficient) + ": clean, crimped and tight";
  return f;
}

void check_run(const Rule& rule, const Evidence& e, RunId id, std::vector<Finding>& findings) {
  const Run& run = e.design[id];
  const auto& facts = e.wiring.runs[std::size_t(id.index)];
  const std::string at = subject_of(run);
  // A case of joints = 0 that is stated asks nothing; every joint of a pole passes the same current.
  const bool has_joints = run.joints > 0 || is_assumed(e.design, at + "/joints");
  Working out, back;
  const auto load = [&](design::Pole pole, Working& working) {
    const Current i = wiring::carried_of(e.design, e.wiring, id, pole, nullptr);
    return given(&working, "I", "largest steady current of that pole, as its devices hold it", i,
                 as_stated);
  };
  const Current outgoing = load(design::Pole::outgoing, out);
  const Current returning = load(design::Pole::return_, back);
  const bool worse_back = returning > outgoing && !run.back.chassis;
  if (has_joints) {
    const auto joint =
        wiring::joint_of(facts, run, worse_back ? design::Pole::return_ : design::Pole::outgoing);
    findings.push_back(
        check_passed(rule,
                     {at + "/joint_resistance", "each joint of run " + quoted(run.name),
                      facts.current.in_case, facts.current.why_unknown, joint.each, joint.source,
                      !is_assumed(e.design, at + "/joint_resistance")},
                     worse_back ? returning : outgoing, worse_back ? back : out));
  }
  for (std::size_t n = 0; n < run.inline_items.size(); ++n) {
    const auto& item = run.inline_items[n];
    const bool in_return = *item.pole == design::Pole::return_;
    const std::string path = at + "/inline/" + std::to_string(n);
    const bool stated = !is_assumed(e.design, path + "/resistance");
    findings.push_back(check_passed(
        rule,
        {path, item_of(run, n), facts.current.in_case, facts.current.why_unknown, *item.resistance,
         stated ? as_stated : our_method, stated, item.kind == InlineKind::shunt},
        in_return ? returning : outgoing, in_return ? back : out));
  }
}

/// Lugs of the bank's links and leads: nobody states their resistance.
void check_bank(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  const auto& bank = *e.design->bank;
  const auto check = [&](const Lead& lead, const std::string& path, const std::string& who,
                         Current current, Working working) {
    const Passed lug{
        path,  who,  "", "", wiring::default_joint(lead.conductor), wiring::default_joint_source,
        false, false};
    findings.push_back(check_passed(rule, lug, current, std::move(working)));
  };
  const auto links = [&](const Lead& lead, design::Pole pole, const std::string& name) {
    Working working;
    const Current i = wiring::current_in_links(e.design, e.wiring, pole, &working);
    check(lead, "bank/links/" + name, "each lug of the " + name + " links", i, std::move(working));
  };
  if (bank.link_positive) links(*bank.link_positive, design::Pole::outgoing, "positive");
  if (bank.link_negative) links(*bank.link_negative, design::Pole::return_, "negative");
  if (!bank.lead) return;
  Working working;
  const Current i = wiring::current_in_leads(e.design, e.wiring, &working);
  check(*bank.lead, "bank/each_battery/lead", "each lug of the batteries' leads", i,
        std::move(working));
}

std::vector<Finding> check_joints(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) check_run(rule, e, {int(i)}, findings);
  if (e.design->bank) check_bank(rule, e, findings);
  return findings;
}

constexpr Sign signs[] = {{Parameter::length, Effect::none},
                          {Parameter::ambient, Effect::none},
                          {Parameter::load, Effect::worse},
                          {Parameter::device_rating, Effect::worse}};

}  // namespace

extern const Rule hot_joint{
    .name = "hot-joint",
    .asks = "Does each joint and contact stay cool, with no more than 30 mV lost at its largest "
            "steady current?",
    .why = "A joint that loses a few tenths of a volt at a hundred amperes makes the heat of a "
           "soldering iron behind a panel.",
    .cure = "Clean, crimped and tight joints, fewer of them, and measured ones.",
    .source = good_source,
    .signs = signs,
    .of_safety = false,
    .check = check_joints};

}  // namespace housepower::checks

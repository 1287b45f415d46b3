// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

constexpr Source solution{SourceKind::common_practice, "solution of the network",
                          "Newton on the two-wire nodal equations"};

std::vector<Finding> check_collapse(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& in : e.wiring.cases) {
    if (!in.load_case.judged) continue;  // everything at once never runs: it serves ampacity only
    const Subject subject = Subject(Subject::Kind::load_case).with(in.load_case.name);
    Finding f;
    if (const auto* collapse = std::get_if<wiring::Collapse>(&in.solution)) {
      Working working;
      given(e.kept(working), "P_max", "the most that its cable can carry while the others run",
            collapse->most, solution);
      f = judge(rule, subject, collapse->asked, Bound::at_most, {collapse->most, solution},
                std::move(working));
      f.verdict = Verdict::fail;
      f.message = quoted(in.collapsed) + " draws " + print(collapse->asked) +
                  "; its cable can carry " + print(collapse->most) +
                  " at most, whatever the voltage: there is no operating point";
      f.cure = "a shorter run or a larger conductor to " + quoted(in.collapsed) +
               ", or fewer loads at once";
    } else if (const auto* not_solved = std::get_if<wiring::NotSolved>(&in.solution)) {
      f = not_checked(rule, subject, "the network was not solved: " + not_solved->why);
    } else {
      const auto& point = std::get<wiring::OperatingPoint>(in.solution);
      f = state(rule, subject, Verdict::pass,
                "the loads settle at a voltage at which they work, and return to it after a dip; "
                "found in " +
                    std::to_string(point.iterations) + (point.iterations == 1 ? " step" : " steps"),
                solution);
      if (e.design->bank)
        given(&f.working, "U_source", "voltage at the source's terminals", in.source, solution);
      given(&f.working, "ΣI", "largest error of a node's current balance", point.residual,
            solution);
    }
    f.in_case = in.load_case.name;
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign voltage_collapse_signs[] = {{Parameter::length, Effect::worse},
                                           {Parameter::area, Effect::better},
                                           {Parameter::ambient, Effect::worse},
                                           {Parameter::load, Effect::worse},
                                           {Parameter::joint_resistance, Effect::worse},
                                           {Parameter::battery_resistance_high, Effect::worse}};

constexpr auto voltage_collapse_leans_on =
    leanings(lean_on_loads, lean_on_behaviour, lean_on_bank_parts, lean_on_case, lean_on_way);

}  // namespace

extern const Rule voltage_collapse{
    .name = "voltage-collapse",
    .asks = "Is there any voltage at which everything that runs together can be supplied?",
    .why = "A constant-power load draws more the lower its voltage; beyond a point nothing "
           "balances and the voltage falls away.",
    .cure = "Less resistance: shorter or larger cables, fewer joints; or less load at once.",
    .source = {SourceKind::common_practice, "circuit theory", "4·R·P ≤ U² for one load"},
    .signs = voltage_collapse_signs,
    .concern = Concern::safety,
    .of_one_run = OneRun::yes,
    .leans_on = voltage_collapse_leans_on,
    .check = check_collapse};

}  // namespace housepower::checks

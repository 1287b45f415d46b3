// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/charging_circuits.hpp"

namespace housepower::checks {
namespace {

std::vector<Finding> check_headroom(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& array : e.design->arrays) {
    const auto& controller = e.design[array.controller];
    if (controller.kind == design::ControllerKind::step_up) continue;
    const Subject subject = subject_of(e.design, array);
    Working working;
    const auto hot = wiring::hot_string_voltage(e.design, array, e.kept(working));
    if (!hot) {
      findings.push_back(not_checked(
          rule, subject,
          "the voltage of the hot array " + quoted(array.name) +
              " is not known: it needs `vmp` of its module and a place of the climate table",
          {subject.with("module/vmp"), Subject(Subject::Kind::place).with("name")}));
      continue;
    }
    const Voltage needed =
        wiring::charging_voltage_needed(e.design, e.wiring, array, e.kept(working));
    Finding f = judge(rule, subject, *hot, Bound::at_least, {needed, our_method, Verdict::caution},
                      std::move(working));
    const auto [works_at, needs] = figures(f);
    f.message = "in the heat of the year a string of " + quoted(array.name) + " works best at " +
                works_at + "; controller " + quoted(controller.name) + " needs " + needs +
                " to finish a charge";
    if (!array.module.imp && !e.wiring.ways[array.post].outgoing.empty())
      hold_back(f, "the drop in its cable is not counted, as `imp` of the module is not stated",
                {subject.with("module/imp")});
    if (f.verdict >= Verdict::caution)
      f.cure = "modules with more cells, two in series, air behind the modules, or a step-up "
               "controller";
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign charge_headroom_signs[] = {{Parameter::length, Effect::worse},
                                          {Parameter::area, Effect::better},
                                          {Parameter::array, Effect::worse}};

}  // namespace

extern const Rule charge_headroom{
    .name = "charge-headroom",
    .asks = "Do the modules when hot still give enough voltage to finish a charge?",
    .why = "Hot modules lose a fifth of their voltage; a controller that only steps down then "
           "stops short of the end of charge on the sunniest days.",
    .cure = "Modules with more cells, two in series, air behind them, or a step-up controller.",
    .source = {SourceKind::common_practice, "practice of the trade",
               "a step-down controller needs more volts than it gives"},
    .signs = charge_headroom_signs,
    .concern = Concern::service,
    .check = check_headroom};

}  // namespace housepower::checks

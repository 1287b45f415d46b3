// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/charging_circuits.hpp"

namespace housepower::checks {
namespace {

constexpr Voltage touch_limit = Voltage::from_value(60.0);  // d.c., from memory

/// Where the record cold is nobody's record of this place; a pass by that of a far one is none.
void say_whose_cold(Finding& f, const Evidence& e) {
  const Subject key = Subject(Subject::Kind::place).with("record_low");
  const auto& site = e.design->site;
  for (const auto& a : e.design->assumptions)
    if (a.path == key.text()) {
      f.message += "; its record cold is " + a.value + ": " + a.why;
      if (!site.far) continue;
      hold_back(f, "that place is too far away: state `record_low`", {key});
      rest_on(f, e, {key});
    }
}

std::vector<Finding> check_array_voltage(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& array : e.design->arrays) {
    const auto& controller = e.design[array.controller];
    Working working;
    const auto cold = wiring::cold_string_voltage(e.design, array, e.kept(working));
    if (!cold) {
      findings.push_back(not_checked(
          rule, subject_of(e.design, array),
          "the cold open-circuit voltage of " + quoted(array.name) +
              " is not known: it needs `voc` and `voc_coefficient` of the module and the "
              "place's record low",
          unstated_of_cold(e)));
      continue;
    }
    Finding f = judge(rule, subject_of(e.design, array), *cold, Bound::at_most,
                      {controller.max_voltage, as_stated}, std::move(working));
    const auto [gives, bears] = figures(f, 4);
    f.message = "a string of " + quoted(array.name) + " gives " + gives +
                " in the record cold; controller " + quoted(controller.name) + " is rated for " +
                bears;
    if (*cold > touch_limit)
      f.message += "; above 60 V d.c. rules of protection against touch may begin (from memory)";
    if (f.verdict != Verdict::pass)
      f.cure =
          "fewer modules in series, or a controller rated for at least " + print_at_least(*cold, 4);
    say_whose_cold(f, e);
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign array_voltage_signs[] = {
    {Parameter::array, Effect::none},
    {Parameter::record_low, Effect::better}};  // more strings, not longer ones

}  // namespace

extern const Rule array_voltage{
    .name = "array-voltage",
    .asks = "Is each controller rated for its array's open-circuit voltage on the coldest morning?",
    .why = "Modules give their highest voltage in frost at first light; a controller driven above "
           "its highest voltage is destroyed at once and may put the array's voltage on the bank.",
    .cure = "Fewer modules in series, or a controller for more volts.",
    .source =
        {SourceKind::published, "several public pages explaining NEC 690.7",
         "coefficient method at the lowest temperature; the controller's maker sets the limit"},
    .signs = array_voltage_signs,
    .concern = Concern::safety,
    .about = About::array,
    .check = check_array_voltage};

}  // namespace housepower::checks

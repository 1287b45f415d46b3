// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/parts/controller.hpp"
#include "housepower/parts/module.hpp"
#include "housepower/wiring/charging_circuits.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

using design::resolved::Array;
using design::resolved::Controller;
using design::resolved::ControllerId;

Finding check_short_circuit(const Rule& rule, const Evidence& e, ControllerId id) {
  const Controller& controller = e.design[id];
  const Subject subject = subject_of(e.design, controller).with("max_short_circuit_current");
  Working working;
  const auto current = wiring::array_short_circuit(e.design, id, e.kept(working));
  if (!current)
    return not_checked(rule, subject,
                       "an array of controller " + quoted(controller.name) +
                           " does not state the short-circuit current of its module, `isc`",
                       unstated_of_network(e));
  if (!controller.max_short_circuit_current)
    return not_checked(rule, subject,
                       "the `max_short_circuit_current` of controller " + quoted(controller.name) +
                           " is not stated; its arrays drive " + print(*current));
  Finding f = judge(rule, subject, *current, Bound::at_most,
                    {*controller.max_short_circuit_current, as_stated}, std::move(working));
  const auto [drive, bears] = figures(f);
  f.message = "the arrays of controller " + quoted(controller.name) + " drive up to " + drive +
              " in strong sun; its input is rated for " + bears;
  if (f.verdict != Verdict::pass) f.cure = "fewer strings, or a controller rated for more";
  return f;
}

/// What a controller cannot take is lost, not dangerous.
std::optional<Finding> clipping(const Rule& rule, const Evidence& e, ControllerId id) {
  const Controller& controller = e.design[id];
  std::vector<parts::ArrayOutput> outputs;
  for (const Array& a : e.design->arrays)
    if (a.controller == id)
      outputs.push_back(
          {double(a.modules) * a.module.power,
           double(a.modules) / double(a.in_series) * a.module.imp.value_or(0.0 * ampere),
           1000.0 * parts::watt_per_square_metre});
  Working working;
  const auto out =
      parts::controller_output(controller, outputs, controller.charge_voltage, e.kept(working));
  if (!(out.clipped > 0.5 * watt)) return std::nullopt;
  const auto& months = e.energy.months;
  const auto most =
      std::max_element(months.begin(), months.end(),
                       [](const auto& a, const auto& b) { return a.clipped < b.clipped; });
  Finding f =
      state(rule, subject_of(e.design, controller).with("max_charge_current"), Verdict::pass,
            "controller " + quoted(controller.name) + " clips at " +
                print(controller.max_charge_current) + ": up to " + print(out.clipped) +
                " of the rated power is lost",
            as_stated);
  if (e.energy.has_place && most != months.end() && most->clipped > 0.0 * watt_hour)
    f.message +=
        ", " + print(most->clipped) + " in the mean day of " + std::string(month_name(most->month));
  f.working = std::move(working);
  return f;
}

/// From three strings up the others feed a faulty one.
std::vector<Finding> reverse(const Rule& rule, const Evidence& e, const Array& array) {
  std::vector<Finding> findings;
  Working working;
  const auto back = wiring::reverse_current_of(e.design, array, e.kept(working));
  const std::string what = "into one string of " + quoted(array.name) + " the others drive ";
  const auto& bears = array.module.largest_series_fuse;
  if (!back || !bears) {
    findings.push_back(not_checked(
        rule, subject_of(e.design, array).with(back ? "module/largest_series_fuse" : "module/isc"),
        back ? what + print(*back) + "; the module's `largest_series_fuse` is not stated"
             : "the short-circuit current of the modules is not stated"));
    return findings;
  }
  // a device of the string's own, on a run that carries no other, limits it
  Current most = *back;
  for (const Run& run : e.design->runs)
    if (run.from == array.post || run.to == array.post)
      for (const Protection& p : run.protection)
        if (array.modules == array.in_series && p.rating < most)
          most = given(e.kept(working), "I_n", "the string's own device", p.rating, as_stated);
  Finding f = judge(rule, subject_of(e.design, array).with("module"), most, Bound::at_most,
                    {*bears, as_stated}, std::move(working));
  f.message = what + print(*back) +
              (most < *back ? ", its device lets " + print(most) + " through" : std::string()) +
              "; the module is rated for a fuse of " + print(*bears);
  if (f.verdict != Verdict::pass)
    f.cure = "a device of at most " + print_at_most(*bears) +
             " in each string (draw each string as an array with a run of its own)";
  findings.push_back(std::move(f));
  return findings;
}

std::vector<Finding> check_array_current(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->controllers.size(); ++i) {
    const ControllerId id{int(i)};
    const int strings = wiring::strings_on(e.design, id);
    if (strings == 0) continue;
    findings.push_back(check_short_circuit(rule, e, id));
    if (auto f = clipping(rule, e, id)) findings.push_back(*std::move(f));
    for (const Array& array : e.design->arrays)
      if (strings >= 3 && array.controller == id)
        for (Finding& f : reverse(rule, e, array)) findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign array_current_signs[] = {{Parameter::array, Effect::worse}};

constexpr auto array_current_leans_on = std::array{Leaning{LeanKind::controller, "efficiency"}};

}  // namespace

extern const Rule array_current{
    .name = "array-current",
    .asks = "Is the controller's input rated for the array's short-circuit current, and each "
            "string for what the others can drive into it?",
    .why = "A controller protects itself from wrong polarity and faults only up to the current its "
           "maker states; three strings or more can overheat a fourth that has failed.",
    .cure = "Fewer strings, a controller for more amperes, a device in each string.",
    .source = {SourceKind::published, "an equipment manual", "p. 39: I_sc × 1.25"},
    .signs = array_current_signs,
    .concern = Concern::safety,
    .about = About::array,
    .leans_on = array_current_leans_on,
    .check = check_array_current};

}  // namespace housepower::checks

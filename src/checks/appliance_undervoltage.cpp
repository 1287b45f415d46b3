// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

constexpr Formula voltage_at_load{
    "U",
    "voltage at its terminals",
    "U_source - U_drop",
    {{"U_source", "voltage at the source"}, {"U_drop", "voltage lost out and back"}},
    Source{SourceKind::common_practice, "Kirchhoff's voltage law", ""},
    [](Voltage source, Voltage lost) -> Voltage { return source - lost; }};

struct LowestVoltage {
  Voltage value;
  bool stated;
};

LowestVoltage lowest_of_any(const design::Design& design, const wiring::ConsumerInCase& at) {
  for (const auto& a : design->appliances)
    if (a.name == at.name)
      return {a.lowest, !is_assumed(design, subject_of(design, a).with("lowest_voltage"))};
  for (const auto& i : design->inverters)
    if (i.name == at.name)
      return {i.cut_out, !is_assumed(design, subject_of(design, i).with("cut_out"))};
  for (const auto& c : design->chargers)
    if (c.name == at.name)
      return {c.input_cut_out, !is_assumed(design, subject_of(design, c).with("input_cut_out"))};
  return {0.0 * volt, false};
}

std::vector<Finding> check_undervoltage(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  const auto lack = [](const wiring::ConsumerInCase& at) { return -at.voltage.value(); };
  for (const auto& worst_case : worst_cases(e.wiring, lack)) {
    const auto& [in, at] = worst_case;
    const LowestVoltage least = lowest_of_any(e.design, *at);
    Working working;
    const Voltage lost = wiring::path_drop_of(e.design, e.wiring, *in, *at, e.kept(working));
    const Voltage source =
        given(e.kept(working), "U_source",
              "voltage at the source's terminals, from the solution of the network",
              at->voltage + at->path_drop, our_method);
    const Voltage left = step(e.kept(working), voltage_at_load, source, lost);
    Finding f = judge(rule, at->subject, left, Bound::at_least,
                      {least.value, least.stated ? as_stated : our_method,
                       least.stated ? Verdict::fail : Verdict::caution},
                      std::move(working));
    f.in_case = in->load_case.name;
    const auto [gets, needs] = apart(at->voltage, least.value);
    f.message = quoted(at->name) + " gets " + gets + " and needs " + needs +
                (least.stated ? "" : " (assumed: its own limit is not stated)");
    if (!at->unknown.empty() && at->voltage <= 0.0 * volt)
      f.verdict = Verdict::pass;  // none, not a low one
    const bool too_much = at->name == in->collapsed;
    if (too_much && f.verdict == Verdict::pass) {  // enough volts, but not with what it asks for
      f.verdict = Verdict::fail;
      f.measured.reset();
      f.limit.reset();
      f.margin = 0.0;
    }
    if (too_much) f.message += "; that is all the power its cable can carry, and it draws more";
    hold_back(f, at->unknown, e);
    if (f.verdict >= Verdict::caution)
      f.cure = "a larger conductor or a shorter run to it; what runs at the same time counts too";
    rest_on_open(f, e, e.wiring.ways[at->post], *in);
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign appliance_undervoltage_signs[] = {
    {Parameter::length, Effect::worse},
    {Parameter::area, Effect::better},
    {Parameter::ambient, Effect::worse},
    {Parameter::load, Effect::worse},
    {Parameter::joint_resistance, Effect::worse},
    {Parameter::battery_resistance_high, Effect::worse}};

}  // namespace

extern const Rule appliance_undervoltage{
    .name = "appliance-undervoltage",
    .asks = "Does each appliance get at least its lowest voltage in every case?",
    .why = "Below its lowest voltage a fridge trips, a heater locks out and an inverter stops, "
           "though the bank is not empty.",
    .cure = "Less voltage drop: larger conductors, shorter runs, fewer loads at once; or start "
            "heavy loads from a fuller bank.",
    .source = {SourceKind::published, "a refrigerator maker's manual, p. 11",
               "needs more than 10.9 V at the unit; each appliance states its own"},
    .signs = appliance_undervoltage_signs,
    .concern = Concern::service,
    .check = check_undervoltage};

}  // namespace housepower::checks

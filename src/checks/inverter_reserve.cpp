// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "common.hpp"
#include "housepower/wiring/reserve.hpp"

namespace housepower::checks {
namespace {

/// "carries 2 kW down to 34 %": a charge is rounded up.
std::string carries(const wiring::CarriedLoad& load) {
  if (!load.down_to) return "does not carry " + print(load.given) + " even from a full bank";
  return "carries " + print(load.given) + " down to " +
         std::to_string(int(std::ceil(100.0 * double(*load.down_to) - 1e-6))) + " %";
}

struct AskedOfInverter {
  const wiring::CarriedLoad& load;
  const char* what;              // "rated load"
  const char* key;               // of the inverter, for the subject
  std::optional<Current> limit;  // of each battery meanwhile
};

Finding check_reserve(const Rule& rule, const Evidence& e, const wiring::InverterReserve& r,
                      const AskedOfInverter& asked) {
  const auto& inverter = e.design[r.inverter];
  Working working;
  const Ratio charge = wiring::carried_down_to(e.design, r, asked.load, e.kept(working));
  Finding f = judge(rule, subject_of(e.design, inverter).with(asked.key), charge, Bound::at_most,
                    {e.design->promise.reserve, our_method, Verdict::caution}, std::move(working));
  f.in_case = r.beside;
  f.unit = "%";
  f.message = quoted(inverter.name) + " " + carries(asked.load) + " (" + asked.what + ") beside " +
              quoted(r.beside) + ", cells at " + print(r.temperature);
  if (!asked.load.down_to) {
    f.verdict = Verdict::caution;
    f.measured.reset();
    f.limit.reset();
  }
  if (asked.load.drawn > 0.0 * ampere)
    f.message += "; there it draws " + print(asked.load.drawn) + " at " + print(asked.load.input);
  if (f.verdict != Verdict::pass) {
    f.message += "; the promised reserve is only " + print(e.design->promise.reserve);
    f.cure = "a shorter or larger cable to the inverter, another battery in parallel, a warmer "
             "box, or a larger reserve";
  }
  return f;
}

/// What the batteries themselves allow at that point.
std::optional<Finding> check_batteries(const Rule& rule, const Evidence& e,
                                       const wiring::InverterReserve& r,
                                       const AskedOfInverter& asked) {
  if (!asked.load.down_to || !asked.limit) return std::nullopt;
  Working working;
  given(e.kept(working), "I_b", "current of the busiest battery, from the solution of the network",
        asked.load.busiest, our_method);
  Finding f =
      judge(rule, subject_of(e.design, e.design[r.inverter]).with(asked.key), asked.load.busiest,
            Bound::at_most, {*asked.limit, as_stated, Verdict::caution}, std::move(working));
  f.in_case = r.beside + ", batteries";
  const auto [gives, may_give] = figures(f);
  f.message = "meanwhile (" + std::string(asked.what) + ") the busiest battery gives " + gives +
              "; each may give " + may_give;
  if (f.verdict != Verdict::pass) f.cure = "another battery in parallel, or a smaller inverter";
  return f;
}

std::vector<Finding> check_reserve(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& r : e.wiring.reserves) {
    const auto& inverter = e.design[r.inverter];
    if (!r.why_unknown.empty()) {
      findings.push_back(not_checked(rule, subject_of(e.design, inverter),
                                     quoted(inverter.name) + ": " + r.why_unknown,
                                     unstated_of_network(e)));
      continue;
    }
    const auto& bank = *e.design->bank;
    std::vector<AskedOfInverter> list{{r.rated, "rated load", "", bank.discharge_limit}};
    std::string start;
    if (r.start) {
      start = quoted(e.design[*r.starter].name) + " starting";
      list.push_back({*r.start, start.c_str(), "surge",
                      bank.peak ? std::optional(bank.peak->current) : bank.discharge_limit});
    }
    for (const AskedOfInverter& asked : list) {
      Finding f = check_reserve(rule, e, r, asked);
      if (&asked == &list.front() && r.surge)
        f.message += "; its surge rating: it " + carries(*r.surge);
      findings.push_back(std::move(f));
      if (auto b = check_batteries(rule, e, r, asked)) findings.push_back(*std::move(b));
    }
  }
  return findings;
}

constexpr Sign inverter_reserve_signs[] = {{Parameter::length, Effect::worse},
                                           {Parameter::area, Effect::better},
                                           {Parameter::load, Effect::worse},
                                           {Parameter::batteries, Effect::better},
                                           {Parameter::bank_age, Effect::worse},
                                           {Parameter::reserve, Effect::better},
                                           {Parameter::joint_resistance, Effect::worse},
                                           {Parameter::battery_resistance_high, Effect::worse},
                                           {Parameter::discharge_limit, Effect::better}};

}  // namespace

extern const Rule inverter_reserve{
    .name = "inverter-reserve",
    .asks = "Does each inverter carry its rated load, and the largest start on it, down to the "
            "reserve?",
    .why = "The resting voltage falls and the resistance rises as the bank empties and in the "
           "cold; the inverter then cuts out at supper though a third of the charge is left.",
    .cure = "Shorter or larger cables, more batteries in parallel, a warmer box, a larger reserve.",
    .source = {SourceKind::common_practice, "practice of the trade",
               "input voltage at least the inverter's cut-out"},
    .signs = inverter_reserve_signs,
    .concern = Concern::service,
    .needs = Needs::bank,
    .about = About::reserve,
    .check = check_reserve};

}  // namespace housepower::checks

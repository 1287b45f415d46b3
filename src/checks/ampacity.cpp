// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

std::vector<Finding> check_ampacity(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  if (e.design->runs.empty()) return {not_checked(rule, "run", "no run is described")};
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    const wiring::RunFacts& facts = e.wiring.runs[i];
    if (!run.conductor) {
      findings.push_back(not_checked(rule, subject_of(run), no_conductor(run, facts)));
      continue;
    }
    Working working;
    const auto answer =
        wiring::ampacity_of(e.design, run, *run.conductor, design::Pole::outgoing, &working);
    const auto* found = std::get_if<wiring::Ampacity>(&answer);
    if (!found) {
      findings.push_back(
          not_checked(rule, subject_of(run),
                      "run " + quoted(run.name) + ": " + std::get<wiring::NoAmpacity>(answer).why));
      continue;
    }
    const Current carried = bounded_by_devices(
        run,
        wiring::design_current_of(e.design, e.wiring, {int(i)}, design::Pole::outgoing, &working),
        &working);
    Finding f = judge(rule, subject_of(run), carried, Bound::at_most, {found->value, found->source},
                      std::move(working));
    f.in_case = facts.current.in_case;
    f.message = "run " + quoted(run.name) + " carries " + print(carried) + "; " +
                run.conductor->name + " bears " + print(found->value) + " where it lies (" +
                std::string(found->table) + ", row " + found->row + ")";
    hold_back(f, facts.current.why_unknown);
    if (f.verdict >= Verdict::caution) f.cure = larger_conductor(facts);
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign signs[] = {{Parameter::length, Effect::none},
                          {Parameter::area, Effect::better},
                          {Parameter::ambient, Effect::worse},
                          {Parameter::circuits_together, Effect::worse},
                          {Parameter::load, Effect::worse}};

}  // namespace

extern const Rule ampacity{
    .name = "ampacity",
    .asks = "Can each outgoing conductor carry its largest steady current where it lies?",
    .why = "A conductor that carries more than its ampacity outruns its insulation: it hardens, "
           "melts and burns.",
    .cure = "A larger conductor, a hotter-rated insulation, a cooler or freer way, or less load on "
            "the run.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008", "433.1, I_B ≤ I_n ≤ I_z"},
    .signs = signs,
    .of_safety = true,
    .check = check_ampacity};

}  // namespace housepower::checks

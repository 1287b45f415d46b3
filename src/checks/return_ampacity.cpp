// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

std::vector<Finding> check_return(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    const wiring::RunFacts& facts = e.wiring.runs[i];
    const std::string subject = subject_of(run) + "/return";
    if (run.back.chassis) {
      if (!e.design->chassis)
        findings.push_back(
            not_checked(rule, subject,
                        "run " + quoted(run.name) +
                            " returns through the chassis, whose resistance is not stated"));
      continue;
    }
    const auto& conductor = run.back.conductor;
    if (!conductor) {
      findings.push_back(not_checked(rule, subject, no_conductor(run, facts)));
      continue;
    }
    Working working;
    const auto answer =
        wiring::ampacity_of(e.design, run, *conductor, design::Pole::return_, &working);
    const auto* found = std::get_if<wiring::Ampacity>(&answer);
    if (!found) {
      findings.push_back(not_checked(rule, subject,
                                     "return of run " + quoted(run.name) + ": " +
                                         std::get<wiring::NoAmpacity>(answer).why));
      continue;
    }
    // A return that others share is not bounded by this run's own device.
    const Current carried =
        wiring::design_current_of(e.design, e.wiring, {int(i)}, design::Pole::return_, &working);
    Finding f = judge(rule, subject, carried, Bound::at_most, {found->value, found->source},
                      std::move(working));
    f.in_case = facts.current.in_case;
    f.message = "the return of run " + quoted(run.name) + " carries " + print(carried) + "; " +
                conductor->name + " bears " + print(found->value) + " where it lies (" +
                std::string(found->table) + ", row " + found->row + ")";
    hold_back(f, facts.current.why_unknown);
    if (f.verdict >= Verdict::caution)
      f.cure = "a larger return conductor, or separate returns for the runs that share it";
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign signs[] = {{Parameter::area, Effect::better},
                          {Parameter::ambient, Effect::worse},
                          {Parameter::circuits_together, Effect::worse},
                          {Parameter::load, Effect::worse}};

}  // namespace

extern const Rule return_ampacity{
    .name = "return-ampacity",
    .asks =
        "Can each return conductor carry what comes back through it, from all runs that share it?",
    .why = "A shared return sums the currents of its runs, and no device of any one run limits the "
           "sum.",
    .cure = "A larger return, or a return of its own for each heavy run.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008", "433.1, applied to the return"},
    .signs = signs,
    .of_safety = true,
    .check = check_return};

}  // namespace housepower::checks

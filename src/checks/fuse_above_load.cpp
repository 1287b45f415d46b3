// SPDX-License-Identifier: Apache-2.0
#include "clearing.hpp"
#include "housepower/wiring/links.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

/// The device of each battery holds the busiest one's current.
Finding check_battery_device(const Rule& rule, const Evidence& e, const Protection& device) {
  Working working;
  const Current load = wiring::current_in_leads(e.wiring, e.kept(working));
  Finding f = judge(rule, subject_of_bank().battery_device(), load, Bound::at_most,
                    {device.rating, rule.source}, std::move(working));
  const auto [carried, rated] = figures(f);
  f.message =
      "the " + rated + " device of each battery carries up to " + carried + " at the busiest one";
  if (f.verdict >= Verdict::caution)
    f.cure =
        "a rating of at least " + print_at_least(load) + " on leads that carry it, or less load";
  return f;
}

/// At an inverter's cut-out, by its ripple, a device may carry a tenth more than its rating: nobody
/// stays there for long.
constexpr double at_cut_out = 1.1;

std::vector<Finding> check_above_load(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    for (std::size_t n = 0; n < run.protection.size(); ++n) {
      const Protection& device = run.protection[n];
      Working working;
      const Current load = wiring::design_current_of(e.design, e.wiring, {int(i)},
                                                     design::Pole::outgoing, e.kept(working));
      const auto carries = wiring::carries_there(device, e.kept(working));
      if (!carries) {
        findings.push_back(
            not_checked(rule, subject_of(e.design, run).protection(n), too_hot(run, device)));
        continue;
      }
      Finding f = judge(rule, subject_of(e.design, run).protection(n), load, Bound::at_most,
                        {*carries, rule.source}, std::move(working));
      f.in_case = e.wiring.runs[i].current.in_case;
      const auto [carried, bears] = figures(f);
      const bool full = *carries >= device.rating;
      f.message = "the " + (full ? bears : print(device.rating)) + " device of run " +
                  quoted(run.name) + " carries up to " + carried;
      if (!full) f.message += "; where it sits it carries " + bears;
      if (f.verdict == Verdict::fail && e.wiring.runs[i].current.of_inverter &&
          load <= at_cut_out * *carries) {
        f.verdict = Verdict::caution;
        f.of_safety = false;
        f.message += "; that is at the inverter's cut-out only, and less than a tenth above";
      }
      hold_back(f, e.wiring.runs[i].current.why_unknown, e);
      if (f.verdict >= Verdict::caution)
        f.cure = "a rating of at least " + print_at_least(load) +
                 " on a conductor that carries it, or less load";
      findings.push_back(std::move(f));
    }
  }
  if (e.design->bank && e.design->bank->each_device)
    findings.push_back(check_battery_device(rule, e, e.design->bank->each_device->device));
  return findings;
}

constexpr Sign fuse_above_load_signs[] = {{Parameter::load, Effect::worse},
                                          {Parameter::device_rating, Effect::better}};

constexpr auto fuse_above_load_leans_on = leanings(lean_on_loads, lean_on_bank_parts);

}  // namespace

extern const Rule fuse_above_load{
    .name = "fuse-above-load",
    .asks = "Is each device's rating at least the largest steady current of its run?",
    .why = "A device below its load opens in normal use, and someone will replace it by a larger "
           "one than the conductor is rated for.",
    .cure = "A larger rating together with the conductor it needs, or split the load.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008",
               "433.1, I_B ≤ I_n, as quoted in partial copies"},
    .signs = fuse_above_load_signs,
    .concern = Concern::safety,
    .about = About::load,
    .of_one_run = OneRun::with_its_device,
    .leans_on = fuse_above_load_leans_on,
    .check = check_above_load};

}  // namespace housepower::checks

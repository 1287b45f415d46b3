// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/wiring/carried.hpp"
#include "housepower/wiring/links.hpp"

namespace housepower::checks {
namespace {

/// Of a run's two conductors the one with the lower ampacity, which is what the device protects.
struct Weaker {
  std::optional<wiring::Ampacity> found;
  std::string name, why;
  Working working;
};
Weaker weaker_of(const Evidence& e, const Run& run) {
  Weaker least;
  for (const auto pole : {design::Pole::outgoing, design::Pole::return_}) {
    if (pole == design::Pole::return_ && run.back.chassis) break;
    const auto& conductor = pole == design::Pole::outgoing ? *run.conductor : *run.back.conductor;
    Working working;
    const auto answer = wiring::ampacity_of(e.design, run, conductor, pole, e.kept(working));
    const auto* found = std::get_if<wiring::Ampacity>(&answer);
    if (!found) return {std::nullopt, conductor.name, std::get<wiring::NoAmpacity>(answer).why, {}};
    if (!least.found || found->value < least.found->value)
      least = {*found, conductor.name, "", std::move(working)};
  }
  return least;
}

/// Parallel conductors: if one of them opens unseen, the device should still protect what is left.
Finding check_left(const Rule& rule, const Evidence& e, const Run& run, std::size_t n,
                   const Weaker& weaker) {
  Working working = weaker.working;
  const Current left = step(e.kept(working), wiring::left_if_one_opens, weaker.found->value,
                            Ratio(double(run.parallel)));
  const Current rating = run.protection[n].rating;
  Finding f = judge(rule, subject_of(run, n), rating, Bound::at_most,
                    {left, weaker.found->source, Verdict::caution}, std::move(working));
  f.in_case = "one of its conductors open";
  f.message = "run " + quoted(run.name) + " has " + std::to_string(run.parallel) +
              " conductors in parallel; if one opens the rest bear " + print(left) +
              ", its device lets " + print(rating) + " through";
  if (f.verdict != Verdict::pass)
    f.cure = "a rating of at most " + print(left) + ", larger conductors or one in place of them";
  return f;
}

/// Profiles that limit the devices of small conductors, whatever these bear.
void check_profile(const Rule& rule, const Evidence& e, const Run& run, std::size_t n,
                   std::vector<Finding>& findings) {
  const Area area = run.back.chassis
                        ? run.conductor->nominal
                        : std::min(run.conductor->nominal, run.back.conductor->nominal);
  const auto& profile = *e.design->profile;
  const auto& limits = profile.device_limits;
  const auto limit = std::find_if(limits.begin(), limits.end(),
                                  [&](const auto& one) { return area <= one.up_to; });
  if (limit == limits.end()) return;
  const Current rating = run.protection[n].rating;
  Working working;
  given(e.kept(working), "S", "area of the thinner conductor", area, as_stated);
  Finding f = judge(
      rule, subject_of(run, n), rating, Bound::at_most,
      {limit->at_most, limit->source, limit->fails ? Verdict::fail : Verdict::caution}, working);
  f.message = "the profile " + profile.name + " allows a device of at most " +
              print(limit->at_most) + " on " + limit->conductor + ", whatever it bears; run " +
              quoted(run.name) + " has " + print(rating);
  if (f.verdict != Verdict::pass)
    f.cure = "a rating of at most " + print(limit->at_most) + ", or a larger conductor";
  findings.push_back(std::move(f));
}

/// The device of each battery protects its lead; what that lies in is not stated: no more than a
/// caution.
Finding check_each(const Rule& rule, const Evidence& e) {
  const auto& bank = *e.design->bank;
  const Current rating = bank.each_device->device.rating;
  const std::string path = "bank/each_battery/protection";
  Working working;
  const auto answer = wiring::ampacity_of_lead(e.design, *bank.lead, e.kept(working));
  const auto* found = std::get_if<wiring::Ampacity>(&answer);
  if (!found)
    return not_checked(rule, path,
                       "the leads of the batteries: " + std::get<wiring::NoAmpacity>(answer).why);
  Finding f = judge(rule, path, rating, Bound::at_most,
                    {found->value, found->source, Verdict::caution}, std::move(working));
  f.message = "the " + print(rating) + " device of each battery lets its lead of " +
              bank.lead->conductor.name + " carry that much; laid free and insulated as the runs " +
              "at the bank it bears " + print(found->value);
  if (f.verdict != Verdict::pass)
    f.cure = "a rating of at most " + print(found->value) + ", or larger leads";
  return f;
}

std::vector<Finding> check_below_conductor(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const Run& run : e.design->runs) {
    const wiring::RunFacts& facts = e.wiring.runs[std::size_t(&run - e.design->runs.data())];
    for (std::size_t n = 0; n < run.protection.size(); ++n) {
      const Protection& device = run.protection[n];
      const std::string subject = subject_of(run, n);
      if (!run.conductor || (!run.back.chassis && !run.back.conductor)) {
        findings.push_back(not_checked(rule, subject, no_conductor(run, facts)));
        continue;
      }
      const Weaker weaker_pole = weaker_of(e, run);
      if (!weaker_pole.found) {
        findings.push_back(
            not_checked(rule, subject, "run " + quoted(run.name) + ": " + weaker_pole.why));
        continue;
      }
      Working working = weaker_pole.working;
      const auto* found = &*weaker_pole.found;
      Finding f = judge(rule, subject, device.rating, Bound::at_most, {found->value, found->source},
                        std::move(working));
      f.message = "the " + print(device.rating) + " device lets " + weaker_pole.name + " of run " +
                  quoted(run.name) + " carry that much; the conductor bears " +
                  print(found->value) + " (" + std::string(found->table) + ", row " + found->row +
                  ")";
      if (f.verdict != Verdict::pass)
        f.cure = "a rating of at most " + print(found->value) + ", or " + larger_conductor(facts);
      findings.push_back(std::move(f));
      if (run.parallel > 1) findings.push_back(check_left(rule, e, run, n, weaker_pole));
      check_profile(rule, e, run, n, findings);
    }
  }
  if (e.design->bank && e.design->bank->lead && e.design->bank->each_device)
    findings.push_back(check_each(rule, e));
  return findings;
}

constexpr Sign signs[] = {{Parameter::area, Effect::better},
                          {Parameter::ambient, Effect::worse},
                          {Parameter::circuits_together, Effect::worse},
                          {Parameter::device_rating, Effect::worse}};

}  // namespace

extern const Rule fuse_below_conductor{
    .name = "fuse-below-conductor",
    .asks = "Is each device's rating at most the ampacity of the conductor that it protects?",
    .why = "A device above the ampacity watches the conductor burn: an overload stays below its "
           "rating.",
    .cure = "A smaller rating where the load allows it, else a larger conductor.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008", "433.1, I_n ≤ I_z"},
    .signs = signs,
    .concern = Concern::safety,
    .of_one_run = OneRun::with_its_device,
    .check = check_below_conductor};

}  // namespace housepower::checks

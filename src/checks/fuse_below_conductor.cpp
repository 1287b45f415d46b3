// SPDX-License-Identifier: Apache-2.0
#include "bears.hpp"
#include "housepower/wiring/carried.hpp"

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
    if (!found)
      return {std::nullopt,
              tables::shown_name(conductor),
              std::get<wiring::NoAmpacity>(answer).why,
              {}};
    if (!least.found || found->value < least.found->value)
      least = {*found, tables::shown_name(conductor), "", std::move(working)};
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
  Finding f = judge(rule, subject_of(e.design, run).protection(n), rating, Bound::at_most,
                    {left, weaker.found->source, Verdict::caution}, std::move(working));
  f.in_case = "one of its conductors open";
  const auto [let, carry] = figures(f);
  f.message = "run " + quoted(run.name) + " has " + std::to_string(run.parallel) +
              " conductors in parallel; if one opens the rest carry " + carry +
              ", its device lets " + let + " through";
  if (f.verdict != Verdict::pass)
    f.cure = "a rating of at most " + print_at_most(left) +
             ", larger conductors or one in place of them";
  return f;
}

/// Profiles that limit the devices of small conductors, whatever these bear.
void check_profile(const Rule& rule, const Evidence& e, const Run& run, std::size_t n,
                   std::vector<Finding>& findings) {
  const Area area = run.back.chassis
                        ? run.conductor->nominal
                        : std::min(run.conductor->nominal, run.back.conductor->nominal);
  const auto& profile = *e.design->profile;
  const auto* limit = profile.device_limit(area);
  if (!limit) return;
  const Current rating = run.protection[n].rating;
  Working working;
  given(e.kept(working), "S", "area of the thinner conductor", area, as_stated);
  Finding f = judge(
      rule, subject_of(e.design, run).protection(n), rating, Bound::at_most,
      {limit->at_most, limit->source, limit->fails ? Verdict::fail : Verdict::caution}, working);
  f.in_case = "the profile's limit for small conductors";
  f.message = "the profile " + profile.name + " allows a device of at most " +
              print(limit->at_most) + " on " + limit->conductor + ", whatever it carries; run " +
              quoted(run.name) + " has " + print(rating);
  if (f.verdict != Verdict::pass)
    f.cure = "a rating of at most " + print_at_most(limit->at_most) + ", or a larger conductor";
  findings.push_back(std::move(f));
}

/// The device of each battery protects its lead, which counts as lying free.
Finding check_each_lead(const Rule& rule, const Evidence& e) {
  const auto& bank = *e.design->bank;
  const Current rating = bank.each_device->device.rating;
  const Subject path = subject_of_bank().battery_device();
  Working working;
  const auto answer = wiring::ampacity_of_lead(e.design, *bank.lead, e.kept(working));
  const auto* found = std::get_if<wiring::Ampacity>(&answer);
  if (!found)
    return not_checked(rule, path,
                       "the leads of the batteries: " + std::get<wiring::NoAmpacity>(answer).why);
  Finding f =
      judge(rule, path, rating, Bound::at_most, {found->value, found->source}, std::move(working));
  const auto [let, bears] = figures(f);
  f.message = "the " + let + " device of each battery lets " + let + " through its lead of " +
              tables::shown_name(bank.lead->conductor) + "; laid free and insulated as the runs " +
              "at the bank it is rated for " + bears;
  if (f.verdict != Verdict::pass)
    f.cure = "a rating of at most " + print_at_most(found->value) + ", or larger leads";
  say_how_leads_lie(f, e.design);
  return f;
}

/// The devices of the runs that leave the bank: each run's smallest.
struct BankDevices {
  std::vector<Term<Current>> each;     // of all of them
  std::vector<Term<Current>> drawing;  // without those that only charge
};
BankDevices devices_of_bank(const design::Design& design) {
  using design::resolved::PostKind;
  const auto bank = design->bank->post;
  BankDevices found;
  for (const Run& run : design->runs) {
    if ((run.from != bank && run.to != bank) || run.protection.empty()) continue;
    Current least = run.protection.front().rating;
    for (const Protection& p : run.protection) least = std::min(least, p.rating);
    const auto kind = design[run.from == bank ? run.to : run.from].kind;
    found.each.push_back({"run " + run.name, least});
    if (kind != PostKind::charger_out && kind != PostKind::controller_out && kind != PostKind::feed)
      found.drawing.push_back(found.each.back());
  }
  return found;
}

/// Links or leads of the bank that no device of their own protects, against those of its runs.
struct Joining {
  Subject path;
  std::string what;
  const design::resolved::Lead* lead;
  std::optional<design::Pole> pole;  // of links
};
Finding check_joining_lead(const Rule& rule, const Evidence& e, const Joining& joining,
                           wiring::Batteries which, const std::vector<Term<Current>>& devices,
                           bool together) {
  Working working;
  const auto answer = wiring::ampacity_of_lead(e.design, *joining.lead, e.kept(working));
  const auto* found = std::get_if<wiring::Ampacity>(&answer);
  if (!found)
    return not_checked(rule, joining.path,
                       joining.what + ": " + std::get<wiring::NoAmpacity>(answer).why);
  const auto part = joining.pole
                        ? wiring::share_in_links(e.design, *joining.pole, which, e.kept(working))
                        : wiring::share_in_leads(e.design, which, e.kept(working));
  const Current most = step(e.kept(working), wiring::borne_by_links, found->value, part.share);
  const Current let =
      together ? sum(e.kept(working), "I_n", "the devices of the bank's runs", devices)
               : largest(e.kept(working), "I_n", "largest device of the bank's runs", devices);
  const bool fails = which == wiring::Batteries::all_in && !together;
  Finding f =
      judge(rule, joining.path, let, Bound::at_most,
            {most, found->source, fails ? Verdict::fail : Verdict::caution}, std::move(working));
  if (part.open > 0) f.in_case = "battery " + std::to_string(part.open) + " open";
  if (together) f.in_case = "the devices of all runs together";
  const auto [lets, may_give] = figures(f);
  f.message = joining.what + " carry up to " + print(part.share) + " of the bank's current" +
              (part.open > 0 ? " if battery " + std::to_string(part.open) + " opens" : "") +
              " and are rated for " + print(found->value) + " each, laid free: the bank may give " +
              may_give + ", its " + (together ? "devices let " : "largest device lets ") + lets +
              " through";
  if (f.verdict != Verdict::pass)
    f.cure = "larger links or leads, a device of at most " + print_at_most(most) +
             " at the bank, or a device for each battery";
  say_how_leads_lie(f, e.design);
  return f;
}

/// No rating helps that is below the load.
std::string cure_of(const wiring::Ampacity& found, const wiring::RunFacts& facts) {
  const std::string device = device_between(facts.current.outgoing, found.value);
  return found.value > Current{} && !device.empty() ? device + ", or " + larger_conductor(facts)
                                                    : more_ampacity(found, facts);
}

void check_bank_devices(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  if (!e.design->bank) return;
  const auto& bank = *e.design->bank;
  if (bank.lead && bank.each_device) findings.push_back(check_each_lead(rule, e));
  if (bank.parallel < 2) return;
  std::vector<Joining> all;
  if (bank.link_positive)
    all.push_back({subject_of_bank().link_positive(), "the positive links between the batteries",
                   &*bank.link_positive, design::Pole::outgoing});
  if (bank.link_negative)
    all.push_back({subject_of_bank().link_negative(), "the negative links between the batteries",
                   &*bank.link_negative, design::Pole::return_});
  if (bank.lead && !bank.each_device)
    all.push_back({subject_of_bank().lead(), "the leads from the batteries to their bar",
                   &*bank.lead, std::nullopt});
  const BankDevices devices = devices_of_bank(e.design);
  if (devices.each.empty()) return;  // unprotected-source-end says so
  for (const Joining& one : all) {
    for (const auto which : {wiring::Batteries::all_in, wiring::Batteries::one_open})
      findings.push_back(check_joining_lead(rule, e, one, which, devices.each, false));
    if (devices.drawing.size() > 1)
      findings.push_back(
          check_joining_lead(rule, e, one, wiring::Batteries::all_in, devices.drawing, true));
  }
}

std::vector<Finding> check_below_conductor(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const Run& run : e.design->runs) {
    const wiring::RunFacts& facts = e.wiring.runs[std::size_t(&run - e.design->runs.data())];
    for (std::size_t n = 0; n < run.protection.size(); ++n) {
      const Protection& device = run.protection[n];
      const Subject subject = subject_of(e.design, run).protection(n);
      if (!run.conductor || (!run.back.chassis && !run.back.conductor)) {
        findings.push_back(not_checked(rule, subject, no_conductor(run, facts),
                                       {subject_of(e.design, run).with("conductor")}));
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
      const auto [let, bears] = figures(f);
      f.message = "the " + let + " device lets " + let + " through " + weaker_pole.name +
                  " of run " + quoted(run.name) + "; the conductor is rated for " + bears + " (" +
                  row_and_beyond(*found) + ")";
      if (f.verdict != Verdict::pass) f.cure = cure_of(*found, facts);
      findings.push_back(std::move(f));
      if (run.parallel > 1) findings.push_back(check_left(rule, e, run, n, weaker_pole));
      check_profile(rule, e, run, n, findings);
    }
  }
  check_bank_devices(rule, e, findings);
  return findings;
}

constexpr Sign fuse_below_conductor_signs[] = {{Parameter::area, Effect::better},
                                               {Parameter::ambient, Effect::worse},
                                               {Parameter::circuits_together, Effect::worse},
                                               {Parameter::device_rating, Effect::worse},
                                               {Parameter::record_low, Effect::none},
                                               {Parameter::joint_resistance, Effect::none}};

constexpr auto fuse_below_conductor_leans_on = leanings(lean_on_lie, lean_on_bank_parts);

}  // namespace

extern const Rule fuse_below_conductor{
    .name = "fuse-below-conductor",
    .asks = "Is each device's rating at most the ampacity of the conductor that it protects?",
    .why = "A device rated above the ampacity does not see an overload that burns the conductor.",
    .cure = "A smaller rating where the load allows it, else a larger conductor.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008",
               "433.1, I_n ≤ I_z, as quoted in partial copies"},
    .signs = fuse_below_conductor_signs,
    .concern = Concern::safety,
    .of_one_run = OneRun::with_its_device,
    .leans_on = fuse_below_conductor_leans_on,
    .check = check_below_conductor};

}  // namespace housepower::checks

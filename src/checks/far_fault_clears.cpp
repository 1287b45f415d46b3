// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "bears.hpp"
#include "clearing.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

using wiring::DeviceFacts;
using wiring::ProtectedConductor;

constexpr Source overload_source{SourceKind::from_memory, "IEC 60364-4-43:2008", "433.1, 435.1"};

/// A current-limited source never clears a fuse: there the conductor must bear what it gives.
Finding check_limited(const Rule& rule, const Evidence& e, const DeviceFacts& facts) {
  const Subject subject = wiring::subject_of(e.design, facts);
  const std::string who = wiring::name_of(e.design, facts);
  if (!facts.why_unknown.empty() || !facts.run)
    return not_checked(rule, subject, who + ": " + facts.why_unknown, unstated_of_network(e));
  const auto ampacity = least_of_poles(e.wiring.runs[*facts.run]);
  if (!ampacity)
    return not_checked(rule, subject, who + ": the ampacity of its conductor is not known");
  Working working;
  const auto most = wiring::largest_fault(e.design, facts, e.kept(working));
  Finding f =
      judge(rule, subject, *most, Bound::at_most, {*ampacity, rule.source}, std::move(working));
  f.message = who +
              " is fed by current-limited sources only, which never clear a fuse: they give " +
              print(*most) + ", the conductor is rated for " + print(*ampacity);
  if (f.verdict != Verdict::pass)
    f.cure = "a conductor rated for at least " + print_at_least(*most);
  return f;
}

/// One source by itself against the device and one conductor that it guards.
struct FarEnd {
  const Rule& rule;
  const Evidence& e;
  const Guarded& g;
  const wiring::SmallestFault& source;
  Verdict beyond;  // a fail, or a caution where it rests on what nobody stated or read
  std::string cure;
};

/// "the smallest fault is 310 A (Lamp, fed by one battery alone)".
std::string smallest_of(const FarEnd& a) {
  return a.g.who + ": the smallest fault is " + print(a.source.value) + " (" + a.source.where +
         ", fed by " + a.source.source + " alone)";
}

Finding borne(const FarEnd& a, Working working) {
  Finding f = judge(a.rule, a.g.subject, *a.source.strongest, Bound::at_most,
                    {*a.g.bearing.ampacity, a.g.bearing.source}, std::move(working));
  const auto [strongest, carried] = figures(f);
  f.message = a.g.who + ": even the largest fault at the far end of " + a.g.conductor_name + ", " +
              strongest + " from " + a.source.source +
              ", is no more than the conductor carries continuously (" + carried +
              "); the device will not open for it, and the heat at the place of the fault itself "
              "is not counted";
  return f;
}

/// From which current the device at each battery opens for sure, where a battery by itself is the
/// source and drives that much.
std::optional<Current> opens_at_battery(const FarEnd& a, Current driven) {
  const auto& bank = a.e.design->bank;
  const auto& feeds = a.e.design->feeds;
  const bool of_feed = std::any_of(feeds.begin(), feeds.end(), [&](const auto& feed) {
    return quoted(feed.name) == a.source.source;
  });
  if (!bank || !bank->each_device || of_feed) return std::nullopt;
  const Current from = wiring::opens_for_sure(bank->each_device->device).value;
  return from <= driven ? std::optional(from) : std::nullopt;
}

/// The device protects against overload: what it does not see the conductor bears.
Finding overload(const FarEnd& a, const wiring::FarFault& far, Working working) {
  const std::string holds = "it protects " + a.g.conductor_name +
                            " against overload (its rating is no more than the " +
                            print(*a.g.bearing.ampacity) +
                            " that the conductor is rated for, and it " + opens_from(a.g) + ")";
  Finding f = judge(a.rule, a.g.subject, far.smallest, Bound::at_least,
                    {far.opens.value, overload_source, Verdict::caution}, std::move(working));
  if (f.verdict == Verdict::pass) {
    f.message = smallest_of(a) + "; " + holds +
                (far.clears ? "; it opens within " + print(*far.clears) : "");
    return f;
  }
  if (const auto nearer = opens_at_battery(a, far.smallest)) {
    f = state(a.rule, a.g.subject, Verdict::pass,
              smallest_of(a) + ", for which the device at that battery opens for sure (from " +
                  print(*nearer) + "); " + holds,
              overload_source);
    return f;
  }
  f.of_safety = false;
  f.message = smallest_of(a) + ", less than the " + print(far.opens.value) +
              " from which it opens for sure: when it opens for such a fault is not known; " +
              holds;
  f.cure = a.cure;
  return f;
}

/// It serves for short circuits only: it must open before the conductor is too hot.
Finding by_short_circuit(const FarEnd& a, const wiring::FarFault& far, Working working) {
  std::string only = "it serves for short circuits only, since it does not protect ";
  only += a.g.conductor_name;
  only += " against overload";
  if (!far.opens.read)
    return not_judged(
        a.rule, a.g, "no time-current curve is known for it; " + only,
        "a `curve` from the device's maker, or a rating that protects against overload",
        curve_of(a.g));
  const std::string what = far.from == far.smallest
                               ? smallest_of(a)
                               : smallest_of(a) + ", less than the " + print(far.from) + " that " +
                                     a.g.conductor_name + " is rated for, but its largest is more";
  if (!far.clears) {
    Finding f = judge(a.rule, a.g.subject, far.from, Bound::at_least,
                      {far.opens.value, a.rule.source, a.beyond}, std::move(working));
    f.message = what + "; " + only + ", and it " + opens_from(a.g) +
                ": nothing limits the heat in " + a.g.conductor_name;
    f.cure = a.cure;
    return f;
  }
  const std::string opens = what + "; " + only + "; it opens within " + print(*far.clears);
  if (far.warming) {
    const auto& end = *a.g.bearing.factor;
    Finding f = judge(a.rule, a.g.subject, far.warming->reached, Bound::at_most,
                      {end.to, end.source, a.beyond}, std::move(working));
    f.message = opens + ", when " + a.g.conductor_name +
                (melts_copper(far.warming->reached) ? std::string(" has melted")
                                                    : " has " + print(far.warming->reached)) +
                "; its insulation is rated for " + print(end.to) + " in a short circuit";
    if (f.verdict != Verdict::pass) f.cure = a.cure;
    return f;
  }
  if (!far.withstood)
    return not_judged(a.rule, a.g, "no k is known for the insulation of " + a.g.conductor_name,
                      std::string(state_insulation), insulation_of(a.e, a.g));
  Finding f = judge(a.rule, a.g.subject, *far.clears, Bound::at_most,
                    {*far.withstood, a.rule.source, a.beyond}, std::move(working));
  f.message = opens + ", " + a.g.conductor_name + " withstands it for " + print(*far.withstood);
  if (f.verdict != Verdict::pass) f.cure = a.cure;
  return f;
}

/// A pass that becomes a caution by another limit.
void caution_by(Finding& f, const Finding& other, const std::string& says, const FarEnd& a) {
  if (other.verdict == Verdict::pass) return;
  f.verdict = other.verdict;
  f.bound = other.bound;
  f.measured = other.measured;
  f.limit = other.limit;
  f.margin = other.margin;
  f.source = other.source;
  f.message += says;
  f.cure = a.cure;
}

/// What the conductor bears, while the device need not open for it at all.
void tell_unseen(const FarEnd& a, const wiring::FarFault& far, Finding& f) {
  if (f.verdict != Verdict::pass) return;
  caution_by(f,
             judge(a.rule, a.g.subject, far.smallest, Bound::at_least,
                   {far.opens.value, overload_source, Verdict::caution}, {}),
             "; the smallest is less than the " + print(far.opens.value) +
                 " from which it opens for sure: when it opens for such a fault is not known",
             a);
  f.of_safety = f.verdict == Verdict::pass;
}

/// Limited sources by themselves, as when the batteries have switched off: what the device need not
/// see of them the conductor should bear.
void tell_limited(const FarEnd& a, const wiring::FarFault& far, Finding& f) {
  Current limited{};
  for (const auto& source : a.g.facts.sources.limited) limited += source.value;
  if (f.verdict != Verdict::pass || limited >= far.opens.value) return;
  caution_by(f,
             judge(a.rule, a.g.subject, limited, Bound::at_most,
                   {*a.g.bearing.ampacity, a.g.bearing.source, Verdict::caution}, {}),
             "; chargers by themselves drive up to " + print(limited) +
                 ", for which it need not open and which " + a.g.conductor_name +
                 " is not rated for",
             a);
}

Finding by_guard(const FarEnd& a, const wiring::FarFault& far, Working working) {
  const auto& profile = *a.e.design->profile;
  if (far.guard == wiring::Guard::borne) return borne(a, std::move(working));
  if (profile.clearing_time && far.clears && *profile.clearing_time < *far.clears) {
    Finding f =
        judge(a.rule, a.g.subject, *far.clears, Bound::at_most,
              {*profile.clearing_time, profile.clearing_time_source, a.beyond}, std::move(working));
    f.message = smallest_of(a) + "; it opens within " + print(*far.clears) + ", the profile " +
                profile.name + " asks for " + print(*profile.clearing_time);
    f.cure = a.cure;
    return f;
  }
  if (far.guard == wiring::Guard::overload) return overload(a, far, std::move(working));
  Finding f = by_short_circuit(a, far, std::move(working));
  tell_unseen(a, far, f);
  tell_limited(a, far, f);
  return f;
}

Finding check_source(const Rule& rule, const Evidence& e, const Guarded& g,
                     const wiring::SmallestFault& source) {
  FarEnd asked{
      rule,
      e,
      g,
      source,
      source.supplied ? Verdict::caution : Verdict::fail,
      "a smaller rating, a device that opens sooner, or a larger or shorter conductor in " +
          g.conductor_name};
  Working working;
  const auto far_of = [&](const wiring::SmallestFault& fault, Working* kept) {
    return wiring::far_fault_of(e.design, e.wiring, g.facts, g.conductor, fault, kept);
  };
  const auto far = far_of(source, e.kept(working));
  Finding f = by_guard(asked, far, std::move(working));
  if (f.verdict < Verdict::caution || !(source.colder.value() > 0.0)) return f;
  // What is found only by a resistance that was not read at that temperature counts one less.
  wiring::SmallestFault read = source;
  read.seen.resistance -= source.colder;
  read.value = wiring::smallest_fault(read);
  const FarEnd again{rule, e, g, read, asked.beyond, asked.cure};
  Working as_read;
  Finding softer = by_guard(again, far_of(read, e.kept(as_read)), {});
  if (softer.verdict >= f.verdict) return f;
  if (f.verdict == Verdict::fail) {
    f.verdict = Verdict::caution;
    f.message += "; this rests on the bank's resistance in a cold that was not read (" +
                 print(read.value) + " where it was)";
    return f;
  }
  softer.working = std::move(as_read);
  softer.message += "; in a cold in which the bank's resistance was not read the fault may be " +
                    print(source.value) + ", and when it opens for that is not known";
  return softer;
}

/// The worst of what the sources, each by itself, make of one conductor.
Finding check_far_fault(const Rule& rule, const Evidence& e, const DeviceFacts& facts,
                        const ProtectedConductor& conductor) {
  const Guarded g = guarded(e, facts, conductor);
  if (const std::string why = cannot_judge(g); !why.empty())
    return not_judged(rule, g, why, "state what is missing", unstated_of_network(e));
  std::optional<Finding> worst;
  const auto rank = [](const Finding& f) { return std::pair(f.verdict, -double(f.margin)); };
  for (const auto& source : conductor.sources) {
    Finding f = check_source(rule, e, g, source);
    if (!worst || rank(*worst) < rank(f)) worst = std::move(f);
  }
  return *worst;
}

std::vector<Finding> check_far(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const DeviceFacts& facts : e.wiring.devices) {
    if (facts.conductors.empty()) findings.push_back(check_limited(rule, e, facts));
    for (const ProtectedConductor& conductor : facts.conductors) {
      findings.push_back(check_far_fault(rule, e, facts, conductor));
      findings.back().in_case = case_of(e, facts, conductor);
      if (!conductor.run) say_how_leads_lie(findings.back(), e.design);
    }
  }
  return findings;
}

// Long and thin enough a conductor bears every fault at its far end.
constexpr Sign far_fault_clears_signs[] = {{Parameter::length, Effect::not_monotone},
                                           {Parameter::area, Effect::not_monotone},
                                           {Parameter::device_rating, Effect::worse},
                                           {Parameter::load, Effect::worse},
                                           {Parameter::joint_resistance, Effect::worse},
                                           {Parameter::battery_resistance_high, Effect::worse}};

constexpr auto far_fault_clears_leans_on = leanings(
    on_the_way(leanings(std::array{Leaning{LeanKind::promise, "reserve"}}, lean_on_bank_parts)),
    lean_on_low_feed, lean_on_way, lean_on_loads);

}  // namespace

extern const Rule far_fault_clears{
    .name = "far-fault-clears",
    .asks = "Does each device open in time for the smallest fault at the far end of what it "
            "protects, unless the conductor carries that fault or the device protects it against "
            "overload?",
    .why = "A fault at the end of a long thin cable may draw no more than the device carries: it "
           "never opens, and the cable is the heater.",
    .cure = "A smaller rating, a faster device, or a larger or shorter conductor.",
    .source = {SourceKind::published, "IEC 60949 / IEC 60364-5-54 annex A",
               "t ≤ (k·S/I)², as quoted"},
    .signs = far_fault_clears_signs,
    .concern = Concern::safety,
    .of_one_run = OneRun::with_its_device,
    .leans_on = far_fault_clears_leans_on,
    .check = check_far};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/checks/run_end.hpp"
#include "housepower/wiring/devices_before.hpp"
#include "housepower/wiring/source_ends.hpp"
#include "source_posts.hpp"

namespace housepower::checks {
namespace {

using design::RunEnd;
using design::resolved::PostId;

/// How far a device may stand along a run, where devices before it clear what happens until there.
constexpr Length longest_tap = 3.0 * metre;
constexpr Source tap_source{SourceKind::from_memory, "IEC 60364-4-43",
                            "433.2 and 434.2: a device may be up to 3 m along the conductor"};
/// Without any device before it: as far as the most generous profile goes.
constexpr Length longest_bare = 1.0 * metre;
/// Where the profile names no length for what stands anywhere.
constexpr Length usual_stub = 0.2 * metre;

std::optional<Current> least_ampacity(const wiring::RunFacts& facts) {
  const auto* out = std::get_if<wiring::Ampacity>(&facts.ampacity);
  const auto* back = std::get_if<wiring::Ampacity>(&facts.ampacity_back);
  if (!out) return std::nullopt;
  return back ? std::min(out->value, back->value) : out->value;
}

Length stub_of(const design::Design& design) {
  for (const auto& one : design->profile->first_device)
    if (one.condition == tables::NearSource::Condition::always && one.longest) return *one.longest;
  return usual_stub;
}

/// A device within the stub length of both ends serves both.
bool serves_both_ends(const design::Design& design, const Run& run, Current ampacity) {
  const Length stub = stub_of(design);
  return std::any_of(run.protection.begin(), run.protection.end(), [&](const Protection& p) {
    return p.rating <= ampacity && p.distance && *p.distance <= stub &&
           run.length - *p.distance <= stub;
  });
}

/// A device on a run, seen from one of its ends.
struct Along {
  const Protection* device = nullptr;
  std::optional<Length> distance{};  // nothing: not stated
};
/// The nearest; of those that belong to that end, or of all.
std::optional<Along> nearest_on(const Run& run, RunEnd end, bool own_only) {
  std::optional<Along> nearest;
  for (const Protection& p : run.protection) {
    if (own_only && p.end != end) continue;
    Along one{&p, p.distance};
    if (p.distance && p.end != end) one.distance = std::max(run.length - *p.distance, Length{});
    const bool nearer =
        !nearest || (one.distance && (!nearest->distance || *one.distance < *nearest->distance));
    if (nearer) nearest = one;
  }
  return nearest;
}

/// One end of a run, as its findings need it.
struct End {
  RunId run;
  RunEnd end;
  PostId post;
  std::string where;
};

/// Of its run, the key that says where a device is.
Subject distance_of(const Evidence& e, RunId run, const Along& along) {
  const Run& of = e.design[run];
  return subject_of(e.design, of)
      .protection(std::size_t(along.device - of.protection.data()))
      .with("distance");
}

void hold_back_if_assumed(Finding& f, const Evidence& e, RunId run, const Along& along) {
  if (along.device->distance_assumed)
    hold_back(f,
              "the program wrote the device's `distance` itself; measure it, correct it and take "
              "the word out of `assumed`",
              {distance_of(e, run, along)});
}

/// The run begins at the source: nothing but the length until its own device counts. How near that
/// must be is what the profile says of the first device; where it is a habit only, not so here.
Finding check_at_source(const Rule& rule, const Evidence& e, const End& at, const Along& along) {
  const Subject subject = subject_of(e.design, e.design[at.run]);
  if (!along.distance)
    return not_checked(rule, subject,
                       at.where +
                           ": the `distance` of its device along the conductor is not stated",
                       {distance_of(e, at.run, along)});
  const std::string stands = at.where + ": its device is " + print(*along.distance) +
                             " along the conductor, and nothing before it ends a fault there";
  Working working;
  given(e.kept(working), "d", "along the conductor to the device", *along.distance, as_stated);
  const bool habit = !e.design->profile->first_device_fails;
  if (*along.distance > longest_tap || (habit && *along.distance > longest_bare)) {
    const bool far = *along.distance > longest_tap;
    Finding f = judge(rule, subject, *along.distance, Bound::at_most,
                      {far ? longest_tap : longest_bare, tap_source,
                       far || !along.device->enclosed ? Verdict::fail : Verdict::caution},
                      std::move(working));
    f.message = stands;
    f.cure = "a device within " + print(stub_of(e.design)) + " of the source";
    return f;
  }
  Finding f = state(rule, subject, Verdict::pass,
                    at.where + " has a device of its own (how near the source: fuse-near-source)",
                    rule.source);
  f.working = std::move(working);
  hold_back_if_assumed(f, e, at.run, along);
  return f;
}

/// At a bar nobody needs to be told that its devices are covered.
bool is_bar(const design::resolved::Post& post) {
  return post.node != design::NodeKind::point && post.node != design::NodeKind::plug;
}

/// What the profile allows from a source that is no battery.
bool near_enough(const Evidence& e, const End& at, const Along& along) {
  if (*along.distance <= stub_of(e.design) && (along.device->enclosed || is_bar(e.design[at.post])))
    return true;
  const auto& ways = e.design->profile->first_device;
  return along.device->enclosed && std::any_of(ways.begin(), ways.end(), [&](const auto& one) {
           return one.condition == tables::NearSource::Condition::sheathed && one.longest &&
                  *along.distance <= *one.longest;
         });
}

/// A device before the tap against a fault at the tap's end.
Finding check_way_before(const Rule& rule, const Evidence& e, const End& at, Length length,
                         const wiring::DevicesBefore& before, const wiring::DeviceBefore& device) {
  Working working;
  const auto fault = wiring::fault_at_tap(e.design, e.wiring, at.run, at.post, length, before,
                                          device, e.kept(working));
  const Subject subject = subject_of(e.design, e.design[at.run]);
  const std::string who = at.where + ": " + print(length) +
                          " along the conductor until its device; " +
                          wiring::name_of(e.design, device);
  if (!fault.why_unknown.empty())
    return not_checked(rule, subject, who + ": " + fault.why_unknown, unstated_of_network(e));
  const Verdict beyond = fault.supplied ? Verdict::caution : Verdict::fail;
  Finding f = state(rule, subject, fault.clears ? Verdict::pass : beyond, "", tap_source);
  f.message = who +
              (fault.clears ? " opens in time for a fault of "
                            : " does not surely open in time for a "
                              "fault of ") +
              print(fault.smallest) + " or more in it";
  if (!fault.clears)
    f.cure =
        "the device within " + print(stub_of(e.design)) +
        " of where the run begins, a smaller device before it, or a larger conductor until there";
  f.working = std::move(working);
  return f;
}

/// Chargers and arrays by themselves, as when the batteries have switched off: no device before the tap
/// need see them. A tap is asked to be cleared of what the batteries drive, so this is only said.
void tell_limited(const Evidence& e, RunId run, Finding& f) {
  const auto ampacity = least_ampacity(e.wiring.runs[run]);
  if (f.verdict != Verdict::pass || !ampacity) return;
  Current limited{};
  for (const auto& facts : e.wiring.devices) {
    if (facts.run != run) continue;
    Current here{};
    for (const auto& source : facts.sources.limited) here += source.value;
    limited = std::max(limited, here);
  }
  if (limited <= *ampacity) return;
  f.message += "; what chargers by themselves drive into it, up to " + print(limited) +
               ", that device does not see, and the conductor is rated for " + print(*ampacity);
}

/// A tap: what lies before the run's device is protected by devices before it, or by being short.
Finding check_tap(const Rule& rule, const Evidence& e, const End& at, const Along& along) {
  const Subject subject = subject_of(e.design, e.design[at.run]);
  if (!along.distance)
    return not_checked(rule, subject,
                       at.where +
                           ": the `distance` of its device along the conductor is not stated",
                       {distance_of(e, at.run, along)});
  if (near_enough(e, at, along)) {
    Finding f = state(rule, subject, Verdict::pass,
                      at.where + " has its device " + print(*along.distance) +
                          " along the conductor, which needs no test",
                      rule.source);
    hold_back_if_assumed(f, e, at.run, along);
    return f;
  }
  if (*along.distance > longest_tap) {
    Working working;
    given(e.kept(working), "d", "along the conductor to the device", *along.distance, as_stated);
    Finding f = judge(rule, subject, *along.distance, Bound::at_most, {longest_tap, tap_source},
                      std::move(working));
    f.message = at.where + ": its device is " + print(*along.distance) +
                " along the conductor; no device before it protects more than " +
                print(longest_tap);
    f.cure = "a device where the run begins";
    return f;
  }
  const auto before = wiring::devices_before(e.design, e.wiring.plus, at.post, at.run);
  if (!before.unheld.empty() || before.nearest.empty()) {
    Finding f = state(rule, subject, Verdict::fail,
                      at.where + ": its device is " + print(*along.distance) +
                          " along the conductor, and no device before it ends a fault there",
                      rule.source);
    f.cure = "a device where the run begins";
    return f;
  }
  std::optional<Finding> worst;
  for (const auto& device : before.nearest) {
    Finding f = check_way_before(rule, e, at, *along.distance, before, device);
    if (!worst || f.verdict > worst->verdict) worst = std::move(f);
  }
  tell_limited(e, at.run, *worst);
  hold_back_if_assumed(*worst, e, at.run, along);
  return *worst;
}

/// No device on the run, or none that counts for this end.
Finding check_bare(const Rule& rule, const Evidence& e, const End& at,
                   const wiring::Reaching& source, Current ampacity) {
  const Run& run = e.design[at.run];
  const Subject subject = subject_of(e.design, run);
  if (serves_both_ends(e.design, run, ampacity))
    return state(rule, subject, Verdict::pass,
                 at.where + " is short enough to be served by the device at its other end",
                 rule.source);
  const bool held = source.unlimited.empty();
  Working working;
  if (held) (void)wiring::reaching_of(e.design, source, e.kept(working));
  Finding f = held ? judge(rule, subject, source.most, Bound::at_most, {ampacity, rule.source},
                           std::move(working))
                   : state(rule, subject, Verdict::fail, "", rule.source);
  const auto [reaches, bears] = apart(source.most, ampacity);
  f.message = at.where + ": no device protects it there or before; " +
              (held ? "up to " + reaches + " can reach it"
                    : quoted(source.unlimited) + " can drive any current into it") +
              ", the conductor is rated for " + bears;
  const Current load = e.wiring.runs[at.run].current.outgoing;
  const std::string device = device_between(load, ampacity);
  const std::string too_small =
      ": its load of " + print(load) + " is more than this one is rated for";
  if (!device.empty()) f.cure = device + ", at that end, or a larger conductor";
  else if (held) f.cure = "a larger conductor" + too_small;  // which needs no device there
  else f.cure = "a larger conductor, and a device at that end" + too_small;
  return f;
}

/// Of what the ampacity of a run rests on, the keys that the program supplied.
std::string supplied_of(const design::Design& design, const Run& run) {
  std::string list;
  for (const char* key : {"insulation", "laid", "ambient", "circuits_together"})
    if (is_assumed(design, subject_of(design, run).with(key)))
      list += (list.empty() ? "" : ", ") + std::string(key);
  return list;
}

/// No more can reach the end than the conductor bears.
Finding check_held(const Rule& rule, const Evidence& e, const End& at,
                   const wiring::Reaching& source, Current ampacity) {
  const Subject subject = subject_of(e.design, e.design[at.run]);
  if (source.held.empty())
    return state(rule, subject, Verdict::pass, at.where + ": no source is there", rule.source);
  Working working;
  (void)wiring::reaching_of(e.design, source, e.kept(working));
  Finding f = judge(rule, subject, source.most, Bound::at_most, {ampacity, rule.source},
                    std::move(working));
  const auto [reaches, bears] = figures(f);
  f.message = at.where + ": no more than " + reaches +
              " can reach it from there, the conductor is rated for " + bears;
  if (const auto supplied = supplied_of(e.design, e.design[at.run]);
      f.verdict == Verdict::pass && !supplied.empty())
    f.message += "; this rests on values that the design does not state: " + supplied;
  return f;
}

/// A bank whose batteries have a device each is a bar behind them.
bool is_bare_source(const design::Design& design, PostId post) {
  const bool behind_devices = design[post].kind == design::resolved::PostKind::bank &&
                              design->bank->each_device.has_value();
  return is_unlimited(design[post]) && !behind_devices;
}

Finding check_end(const Rule& rule, const Evidence& e, std::size_t i, RunEnd end) {
  const Run& run = e.design->runs[i];
  const PostId post = end == RunEnd::from ? run.from : run.to;
  const End at{
      {int(i)}, end, post, "run " + quoted(run.name) + " at " + quoted(e.design[post].name)};
  const auto& source = end == RunEnd::from ? e.wiring.ends[i].from : e.wiring.ends[i].to;
  const auto own = nearest_on(run, end, true);
  if (is_bare_source(e.design, post) && own) return check_at_source(rule, e, at, *own);
  const auto ampacity = least_ampacity(e.wiring.runs[i]);
  if (!ampacity)
    return own && own->distance && near_enough(e, at, *own)
               ? check_tap(rule, e, at, *own)
               : not_checked(rule, subject_of(e.design, run),
                             at.where + ": its ampacity is not known, so no device can be judged "
                                        "to protect it",
                             unstated_of_network(e));
  if (source.unlimited.empty() && source.most <= *ampacity) {
    Finding f = check_held(rule, e, at, source, *ampacity);
    hold_back(f, source.why_unknown, e);
    return f;
  }
  if (own && own->distance && !is_bare_source(e.design, post) && near_enough(e, at, *own))
    return check_tap(rule, e, at, *own);
  const bool from_limited_only =
      source.unlimited.empty() &&
      wiring::devices_before(e.design, e.wiring.plus, post, at.run).nearest.empty();
  const auto along = from_limited_only ? own : nearest_on(run, end, false);
  if (!along || is_bare_source(e.design, post)) return check_bare(rule, e, at, source, *ampacity);
  return check_tap(rule, e, at, *along);
}

std::vector<Finding> check_ends(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i)
    for (const RunEnd end : {RunEnd::from, RunEnd::to}) {
      Finding f = check_end(rule, e, i, end);
      f.in_case = case_of(end);
      findings.push_back(std::move(f));
    }
  check_source_posts(rule, e, findings);
  return findings;
}

constexpr Sign unprotected_source_end_signs[] = {{Parameter::area, Effect::better},
                                                 {Parameter::ambient, Effect::worse},
                                                 {Parameter::circuits_together, Effect::worse},
                                                 {Parameter::device_rating, Effect::worse},
                                                 {Parameter::battery_resistance_high, Effect::none},
                                                 {Parameter::discharge_limit, Effect::none}};

}  // namespace

extern const Rule unprotected_source_end{
    .name = "unprotected-source-end",
    .asks = "Does each end of each run that a strong source can feed have a device that protects "
            "the conductor?",
    .why = "A chafed conductor without a device between it and a lithium bank glows within seconds "
           "and nothing stops it.",
    .cure = "A device at that end, rated no higher than the conductor's ampacity; or a conductor "
            "that the device before it protects.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008",
               "433.1, as quoted in partial copies; applied from every source"},
    .signs = unprotected_source_end_signs,
    .concern = Concern::safety,
    .about = About::missing_device,
    .check = check_ends};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "common.hpp"
#include "housepower/tables/breaking.hpp"
#include "housepower/wiring/formulas.hpp"
#include "housepower/wiring/network_of.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

/// Types of the tables that are made in this rating and break the fault as the check reads them.
std::string sufficient_types(const Evidence& e, const Protection& device, Current fault) {
  std::string types;
  for (const auto& type : e.design->tables->fuses) {
    const bool made =
        std::find(type.ratings.begin(), type.ratings.end(), device.rating) != type.ratings.end();
    const auto* breaks = tables::breaking_at(type, e.design->nominal);
    if (made && breaks && breaks->capacity >= fault)
      types += (types.empty() ? "" : ", ") + type.name;
  }
  return types;
}

double tenths_up(double value) { return std::ceil(value * 10.0 - 1e-9) / 10.0; }

/// What a fault meets on a metre of a feed, out and back: cold pure copper.
ResistancePerLength cold_loop(const design::Design& d, const Run& feed,
                              const tables::Conductor& conductor) {
  const auto r20 = wiring::copper_resistance(wiring::copper_resistivity,
                                             std::max(conductor.copper, conductor.nominal));
  return 2.0 / double(feed.parallel) * wiring::resistance_at_temperature(r20, wiring::coldest(d));
}

/// The smallest of the series that still bears what the feed carries and its device lets through.
const tables::Conductor* smallest_bearing(const Evidence& e, const Run& feed) {
  const auto& facts = e.wiring.runs[std::size_t(&feed - e.design->runs.data())];
  Current needed = facts.current.outgoing;
  for (const Protection& device : feed.protection) needed = std::max(needed, device.rating);
  for (const auto& one : tables::series_named(*e.design->tables, e.design->sizes)) {
    if (feed.conductor->copper <= one.copper) break;
    const auto answer = wiring::ampacity_of(e.design, feed, one, design::Pole::outgoing);
    const auto* ampacity = std::get_if<wiring::Ampacity>(&answer);
    if (ampacity && needed <= ampacity->value) return &one;
  }
  return nullptr;
}

/// "run "x" at least 5.1 m long in its 35 mm2, or at least 1.2 m long in 10 mm2, which still carries
/// its current": the last is to be tried.
void propose_feed(const Evidence& e, const Run& feed, Resistance missing, Finding& f) {
  const Unit metres = *unit_named("m"), shown = shown_unit(metres);
  const auto needed_in = [&](const tables::Conductor& c) {
    return (cold_loop(e.design, feed, *feed.conductor) * feed.length + missing) /
           cold_loop(e.design, feed, c);
  };
  const auto text_of = [](Length length, const Unit& unit) {
    return print_plain(tenths_up(in_unit(length, unit)), 3) + " " + std::string(unit.symbol);
  };
  const Subject subject = subject_of(e.design, feed);
  Length least = needed_in(*feed.conductor);
  f.cure += "; or run " + quoted(feed.name) + " at least " + text_of(least, shown) +
            " long in its " + tables::shown_name(*feed.conductor);
  f.cure_set.clear();
  f.cures_elsewhere = true;
  if (const auto* smaller = smallest_bearing(e, feed)) {
    least = needed_in(*smaller);
    f.cure += ", or at least " + text_of(least, shown) + " long in " +
              tables::shown_name(*smaller) + ", which still carries its current";
    f.cure_set.push_back(setting(subject.with("conductor"), smaller->name));
  }
  if (feed.length < least)
    f.cure_set.push_back(setting(subject.with("length"), text_of(least, metres)));
}

/// The run through which all of a fault at a post comes; nothing where several feed it.
const Run* only_feed(const Evidence& e, design::resolved::PostId post) {
  const auto& way = e.wiring.ways[post].outgoing;
  if (way.empty()) return nullptr;
  const Run& feed = e.design[way.back().run];
  const auto joined = wiring::joined_without(e.wiring.plus, post, way.back().run);
  for (std::size_t i = 0; i < joined.size(); ++i)
    if (joined[i] && is_unlimited(e.design->posts[i])) return nullptr;
  return feed.conductor && !feed.back.chassis ? &feed : nullptr;
}

/// The least change that helps: a type that suffices, or more conductor before the device. `room`:
/// how many times the fault the device is to break.
void propose_cure(const Evidence& e, const wiring::DeviceFacts& facts, Current fault, Finding& f,
                  double room = 1.0) {
  const Protection& device = wiring::device_of(e.design, facts);
  const Current breaks = *device.breaking_capacity / room;
  const std::string types = sufficient_types(e, device, fault * room);
  f.cure = "a device that breaks at least " + print_at_least(fault * room) +
           (types.empty() ? "" : ": " + types);
  Current limited{};
  for (const auto& source : facts.sources.limited) limited += source.value;
  if (!facts.run || !facts.sources.unlimited || limited >= breaks) return;
  // What the unlimited sources may still give, and the loop that holds them to it.
  const Voltage open = facts.sources.unlimited->open_circuit;
  const Resistance missing = open / (breaks - limited) - open / (fault - limited);
  const Run& run = e.design[*facts.run];
  const auto& start = device.end == design::RunEnd::from ? run.from : run.to;
  if (const Run* feed = only_feed(e, start)) propose_feed(e, *feed, missing, f);
}

/// Room that a fault must leave where the resistance behind it is the program's own.
constexpr Ratio room_for_unstated = 1.2;
constexpr Leaning unstated{Subject::Kind::bank, "resistance/low", true};
constexpr Formula breaks_with_room{
    "I_r",
    "fault that leaves room for a resistance nobody stated",
    "I_cn / f",
    {{"I_cn", "breaking capacity"}, {"f", "room"}},
    Source{SourceKind::from_memory, "judgement", "a fifth above the fault"},
    [](Current breaks, Ratio room) -> Current { return breaks / double(room); }};

bool is_makers(const Protection& device) { return !device.fuse && device.breaking_capacity; }

/// A device of the file, whose maker may rate it together with another.
const Protection* makers_device(const Evidence& e, const std::string& type) {
  if (const auto& bank = e.design->bank; bank && bank->each_device)
    if (const auto& own = bank->each_device->device; own.type == type && is_makers(own))
      return &own;
  for (const Run& run : e.design->runs)
    for (const Protection& device : run.protection)
      if (device.type == type && is_makers(device)) return &device;
  return nullptr;
}

/// What the device alone cannot break the one upstream takes over, by the word of a maker.
void take_backing(const Evidence& e, const Protection& device, Current fault, Finding& f) {
  const Protection* upstream = makers_device(e, device.backed_by);
  const std::string says = "; the design says that " + quoted(device.backed_by) + " backs it up";
  if (!upstream || !is_makers(device) || *upstream->breaking_capacity < fault) {
    f.message += says + (upstream && is_makers(device)
                             ? ", which itself breaks only " + print(*upstream->breaking_capacity)
                             : ": that counts only where both are devices of a maker (a [[device]] "
                               "of the file) who rates them together");
    return;
  }
  f.verdict = Verdict::caution;
  f.cure_set.clear();
  f.message += says + " by its maker's word";
  f.cure = "keep the maker's statement of the combination with the vehicle's papers";
}

/// A design that states more than is published of the type is told so.
std::string above_published(const Evidence& e, const Protection& device) {
  const auto* published =
      device.fuse ? tables::breaking_at(*device.fuse, e.design->nominal) : nullptr;
  if (!published || *device.breaking_capacity <= published->capacity) return {};
  return " by the design; what is published of the type is " + print(published->capacity);
}

Finding check_what_it_breaks(const Rule& rule, const Evidence& e,
                             const wiring::DeviceFacts& facts) {
  const Protection& device = wiring::device_of(e.design, facts);
  const Subject subject = wiring::subject_of(e.design, facts);
  const std::string who = wiring::name_of(e.design, facts);
  if (!facts.largest || !device.breaking_capacity) {
    Finding f = not_checked(
        rule, subject,
        who + ": " + (facts.largest ? "no breaking capacity is known for it" : facts.why_unknown),
        facts.largest ? std::vector{subject.with("breaking_capacity")} : unstated_of_network(e));
    f.cure = facts.largest ? "state its `breaking_capacity` from its maker's sheet"
                           : "state the least resistance that the source can have";
    return f;
  }
  const Current breaks = *device.breaking_capacity;
  Working working;
  const auto fault = wiring::largest_fault(e.design, facts, e.kept(working));
  Finding f = judge(rule, subject, *fault, Bound::at_most, {breaks, device.breaking_source},
                    std::move(working));
  const auto [has_to, can] = figures(f);
  f.message =
      who + " may have to break " + has_to + "; it can break " + can + above_published(e, device);
  if (f.verdict == Verdict::fail) {
    propose_cure(e, facts, *fault, f);
    if (!device.backed_by.empty()) take_backing(e, device, *fault, f);
  } else if (facts.on_bank && is_assumed(e.design, subject_of_bank().with(unstated.key))) {
    Working roomy = f.working;
    const Current with_room = step(e.kept(roomy), breaks_with_room, breaks, room_for_unstated);
    Finding g = judge(rule, subject, *fault, Bound::at_most,
                      {with_room, breaks_with_room.source, Verdict::caution}, std::move(roomy));
    if (g.verdict == Verdict::pass) return f;
    g.message = f.message;
    f = std::move(g);
    f.message += "; the bank's low resistance is not stated, and that leaves less than a fifth "
                 "above the fault";
    propose_cure(e, facts, *fault, f, double(room_for_unstated));
  }
  return f;
}

/// "15 A and 20 A": the steps of a series about a rating that it does not hold.
std::string nearest_ratings(const std::vector<Current>& ratings, Current rating,
                            const char* joined) {
  const auto above = std::upper_bound(ratings.begin(), ratings.end(), rating);
  if (above == ratings.begin()) return print(ratings.front());
  if (above == ratings.end()) return print(ratings.back());
  return print(*(above - 1)) + joined + print(*above);
}

/// A rating that no series holds is not to be had. Of a series whose steps were not read nothing is
/// said beyond its ends.
std::optional<Finding> check_series(const Rule& rule, const Evidence& e,
                                    const wiring::DeviceFacts& facts) {
  const Protection& device = wiring::device_of(e.design, facts);
  if (!device.fuse || device.fuse->ratings.empty()) return std::nullopt;
  const auto& ratings = device.fuse->ratings;
  const bool held = std::any_of(ratings.begin(), ratings.end(), [&](Current rating) {
    return std::abs(double(rating / device.rating) - 1.0) < 1e-6;
  });
  const bool read = device.fuse->ratings_source.kind != SourceKind::from_memory;
  const bool beyond = device.rating < ratings.front() || ratings.back() < device.rating;
  if (held || (beyond && !read)) return std::nullopt;
  Finding f = state(rule, wiring::subject_of(e.design, facts), Verdict::caution,
                    wiring::name_of(e.design, facts) +
                        ": not a rating that is sold; nearest to it " + "in the series of " +
                        device.type + ": " + nearest_ratings(ratings, device.rating, " and ") +
                        (read ? "" : " (steps from memory)"),
                    device.fuse->ratings_source);
  f.of_safety = false;
  f.in_case = "its rating";
  f.cure = "a rating that is sold: " + nearest_ratings(ratings, device.rating, " or ");
  return f;
}

std::vector<Finding> check_breaking(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& facts : e.wiring.devices) {
    findings.push_back(check_what_it_breaks(rule, e, facts));
    if (auto unsold = check_series(rule, e, facts)) findings.push_back(std::move(*unsold));
  }
  return findings;
}

constexpr Sign breaking_capacity_signs[] = {{Parameter::length, Effect::better},
                                            {Parameter::area, Effect::worse},
                                            {Parameter::batteries, Effect::worse},
                                            {Parameter::distance, Effect::better},
                                            {Parameter::joint_resistance, Effect::none},
                                            {Parameter::battery_resistance_low, Effect::better},
                                            {Parameter::battery_resistance_high, Effect::none},
                                            {Parameter::record_low, Effect::better}};

constexpr auto breaking_capacity_leans_on = leanings(std::array{unstated}, lean_on_high_feed);

}  // namespace

extern const Rule breaking_capacity{
    .name = "breaking-capacity",
    .asks = "Can each device interrupt the largest fault that the bank can drive through it?",
    .why = "A device that has to break more than it can explodes or welds; the arc then has the "
           "whole bank behind it.",
    .cure = "A type that breaks the fault, or a thinner or longer feed that limits it.",
    .source = {SourceKind::from_memory, "IEC 60364-4-43:2008", "434.5.1, not read"},
    .signs = breaking_capacity_signs,
    .concern = Concern::safety,
    .of_one_run = OneRun::with_its_device,
    .leans_on = breaking_capacity_leans_on,
    .check = check_breaking};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
#include <functional>

#include "common.hpp"

namespace housepower::checks {
namespace {

using design::resolved::PostKind;
using tables::NearSource;

constexpr Formula way_from_post{
    "d",
    "distance from the farthest battery post to the device",
    "d_run + d_links",
    {{"d_run", "along the run's conductor"},
     {"d_links", "along the links to the farthest battery, or its lead"}},
    Source{SourceKind::common_practice, "practice of the trade", "measured along the conductor"},
    [](Length run, Length links) -> Length { return run + links; }};

/// Along the links from the take-off to the battery that is farthest from it, or along a lead that
/// has no device of its own.
Length links_to_farthest(const design::Design& design) {
  const auto& bank = *design->bank;
  if (bank.lead && !bank.each_device) return bank.lead->length;
  if (!bank.link_positive) return 0.0 * metre;
  const int steps = std::max(bank.takeoff[0] - 1, bank.parallel - bank.takeoff[0]);
  return bank.link_positive->length * double(steps);
}

bool holds(NearSource::Condition condition, const Protection& device, bool from_battery) {
  switch (condition) {
  case NearSource::Condition::always: return true;
  case NearSource::Condition::outside_enclosure:
    return device.sits == design::Sits::box_wall && from_battery;
  case NearSource::Condition::enclosed: return device.enclosed;
  case NearSource::Condition::sheathed_from_battery: return device.enclosed && from_battery;
  case NearSource::Condition::sheathed: return device.enclosed;
  }
  return false;
}

constexpr Formula way_within_box{
    "d_box",
    "longest distance from the farthest post to the box wall",
    "a + b + 0.2",
    {{"a", "longest side of the box"}, {"b", "next side"}},
    Source{SourceKind::from_memory, "judgement",
           "along two sides of the box, and a hand's breadth through its wall"},
    [](Length a, Length b) -> Length { return a + b + 0.2 * metre; }};

/// Nothing where the design does not state the size of its box.
std::optional<Length> longest_within_box(const design::Design& design, Working* working) {
  const auto& bank = design->bank;
  if (!bank || !bank->box || bank->box->size.size() < 2) return std::nullopt;
  std::vector<Length> sides = bank->box->size;
  std::sort(sides.begin(), sides.end(), std::greater<>());
  return step(working, way_within_box, sides[0], sides[1]);
}

/// A limit that is less than its value, not equal to it: a hair below.
Length longest_of(const NearSource& one) {
  return one.strict ? *one.longest * (1.0 - 1e-6) : *one.longest;
}

/// What lies before the device has nothing that ends a fault there.
std::string rests_on(const Protection& device) {
  return std::string("; the conductor before it has no clearing test and relies on being short") +
         (device.enclosed ? " and enclosed" : "");
}

/// "within 0.2 m; directly outside the battery enclosure; less than 1 m if enclosed": where the
/// profile lets it stand.
std::string ways_of(const tables::RuleProfile& profile, bool from_battery) {
  std::string list;
  for (const NearSource& one : profile.first_device) {
    using Condition = NearSource::Condition;
    const bool of_battery = one.condition == Condition::outside_enclosure ||
                            one.condition == Condition::sheathed_from_battery;
    if (of_battery && !from_battery) continue;
    std::string way =
        one.longest ? (one.strict ? "less than " : "within ") + print(*one.longest) : std::string();
    if (one.condition == Condition::outside_enclosure)
      way += std::string(way.empty() ? "" : " ") + "directly outside the battery enclosure";
    else if (one.condition != Condition::always)
      way += std::string(way.empty() ? "" : " if ") + "enclosed";
    list += (list.empty() ? "" : "; ") + way;
  }
  return list;
}

/// The first device of a run that begins at a source.
struct First {
  const Run& run;
  std::size_t number;
  bool from_battery;
  [[nodiscard]] const Protection& device() const { return run.protection[number]; }
  [[nodiscard]] Subject subject(const Evidence& e) const {
    return subject_of(e.design, run).protection(number);
  }
  [[nodiscard]] std::string who() const { return "the first device of run " + quoted(run.name); }
};

/// One of the ways in which a profile lets it stand; nothing where its condition does not hold.
std::optional<Finding> check_way(const Rule& rule, const Evidence& e, const First& first,
                                 const NearSource& one) {
  const Protection& device = first.device();
  if (!holds(one.condition, device, first.from_battery)) return std::nullopt;
  const bool at_wall = one.condition == NearSource::Condition::outside_enclosure;
  const bool counts_links = first.from_battery && e.design->bank &&
                            (at_wall || one.condition == NearSource::Condition::always);
  Working working;
  const Length way = step(e.kept(working), way_from_post, *device.distance,
                          counts_links ? links_to_farthest(e.design) : 0.0 * metre);
  const auto longest =
      one.longest ? std::optional(longest_of(one)) : longest_within_box(e.design, e.kept(working));
  if (!longest)
    return not_checked(rule, first.subject(e),
                       first.who() + " sits directly outside the battery enclosure, " + print(way) +
                           " along the conductor: whether that can be so is not known without "
                           "the box's `size`",
                       {subject_of_bank().with("box/size")});
  const Verdict beyond = e.design->profile->first_device_fails ? Verdict::fail : Verdict::caution;
  Finding f = judge(rule, first.subject(e), way, Bound::at_most, {*longest, one.source, beyond},
                    std::move(working));
  const std::string within = one.strict ? "less than " : "within ";
  f.message =
      f.verdict == Verdict::pass
          ? first.who() + " is " + print(way) + " from the source, " + within + print(*longest) +
                (at_wall ? ", directly outside the battery enclosure" : "") + rests_on(device)
          : first.who() + " is " + print(way) + " along the conductor from the source; allowed: " +
                ways_of(*e.design->profile, first.from_battery);
  if (f.verdict == Verdict::pass && at_wall && device.sits_assumed)
    hold_back(f, "the program wrote `sits` itself; correct it and take the word out of `assumed`",
              {first.subject(e).with("sits")});
  return f;
}

/// Of two ways the better: what passes, then what is not known, then what is nearer to its limit.
bool better(const Finding& f, const Finding& than) {
  const auto rank = [](Verdict v) {
    return v == Verdict::pass ? 0 : v == Verdict::not_checked ? 1 : 2;
  };
  if (rank(f.verdict) != rank(than.verdict)) return rank(f.verdict) < rank(than.verdict);
  return f.margin > than.margin;
}

Finding check_first_device(const Rule& rule, const Evidence& e, const First& first) {
  if (!first.device().distance)
    return not_checked(rule, first.subject(e),
                       first.who() +
                           ": its `distance` along the conductor from the source is not stated",
                       {first.subject(e).with("distance")});
  std::optional<Finding> best;
  for (const NearSource& one : e.design->profile->first_device)
    if (auto f = check_way(rule, e, first, one); f && (!best || better(*f, *best)))
      best = std::move(f);
  if (!best)
    return not_checked(rule, first.subject(e),
                       first.who() + ": the profile " + e.design->profile->name +
                           " names no distance that applies");
  if (first.device().distance_assumed) {
    Finding f = not_checked(rule, first.subject(e),
                            first.who() + ": its `distance` of " + print(*first.device().distance) +
                                " was written by the program, not measured",
                            {first.subject(e).with("distance")});
    f.cure = "measure it, correct it and take the word out of `assumed`";
    return f;
  }
  if (best->verdict == Verdict::not_checked) best->cure = "state the `size` of the box";
  if (best->verdict >= Verdict::caution)
    best->cure = "move the device to within " + print(*best->limit) +
                 " of the post, or enclose the conductor as the profile asks";
  return *best;
}

std::optional<std::size_t> first_device(const Run& run, design::RunEnd end) {
  std::optional<std::size_t> first;
  for (std::size_t n = 0; n < run.protection.size(); ++n)
    if (run.protection[n].end == end &&
        (!first || run.protection[n].distance.value_or(0.0 * metre) <
                       run.protection[*first].distance.value_or(0.0 * metre)))
      first = n;
  return first;
}

/// Runs that begin at a bar are asked by unprotected-source-end.
std::vector<Finding> check_near(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const Run& run : e.design->runs)
    for (const auto end : {design::RunEnd::from, design::RunEnd::to}) {
      const auto& post = e.design[end == design::RunEnd::from ? run.from : run.to];
      const auto number = first_device(run, end);
      if (!number || !is_unlimited(post)) continue;
      findings.push_back(check_first_device(rule, e, {run, *number, post.kind == PostKind::bank}));
      // A habit alone touches nobody's safety: unprotected-source-end holds what it must.
      findings.back().of_safety = e.design->profile->first_device_fails;
    }
  return findings;
}

constexpr Sign fuse_near_source_signs[] = {{Parameter::distance, Effect::worse}};

}  // namespace

extern const Rule fuse_near_source{
    .name = "fuse-near-source",
    .asks = "Is the first device near enough to the source, measured along the conductor?",
    .why = "Nothing can switch off the conductor before the first device; it has to be so short "
           "and so well enclosed that it cannot be damaged.",
    .cure = "Move the device towards the post, or place and enclose it as the profile allows.",
    .source = {SourceKind::published, "AS/NZS 3001.2:2022",
               "section 5.4, as summarised in trade copies; other profiles name their own"},
    .signs = fuse_near_source_signs,
    .concern = Concern::safety,
    .check = check_near};

}  // namespace housepower::checks

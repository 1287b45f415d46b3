// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

using design::resolved::PostKind;
using tables::NearSource;

constexpr Formula way_from_post{
    "d",
    "way from the farthest battery post to the device",
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

/// What lies before the device has nothing that ends a fault there.
constexpr const char* rests_on =
    "; what lies before it is put through no clearing test and rests on being short and enclosed";

/// `tapped`: from a bar or panel that devices before it do not hold to what the conductor bears;
/// there it is a habit to go by the profile's words on the battery.
Finding check_device(const Rule& rule, const Evidence& e, const Run& run, std::size_t n,
                     bool from_battery, bool tapped) {
  const Protection& device = run.protection[n];
  const std::string subject = subject_of(run, n);
  const auto& profile = *e.design->profile;
  const std::string who = "the first device of run " + quoted(run.name);
  if (!device.distance)
    return not_checked(rule, subject,
                       who + ": its `distance` along the conductor from the source is not stated");
  std::optional<Finding> best;
  for (const NearSource& one : profile.first_device) {
    if (!holds(one.condition, device, from_battery)) continue;
    const bool counts_links =
        one.condition == NearSource::Condition::always && from_battery && e.design->bank;
    Working working;
    const Length way = step(e.kept(working), way_from_post, *device.distance,
                            counts_links ? links_to_farthest(e.design) : 0.0 * metre);
    if (!one.longest) {
      Finding f =
          state(rule, subject, Verdict::pass,
                who + " sits directly outside the battery enclosure" + rests_on, one.source);
      f.working = std::move(working);
      return f;
    }
    Finding f = judge(rule, subject, way, Bound::at_most,
                      {*one.longest, one.source,
                       profile.first_device_fails && !tapped ? Verdict::fail : Verdict::caution},
                      std::move(working));
    f.message = who + " is " + print(way) +
                " along the conductor from the source; the nearest allowed place is within " +
                print(*one.longest);
    if (!best || f.margin > best->margin) best = std::move(f);
  }
  if (!best)
    return not_checked(rule, subject,
                       who + ": the profile " + profile.name + " names no distance that applies");
  if (best->verdict != Verdict::pass)
    best->cure = "move the device to within " + print(*best->limit) +
                 " of the post, or enclose the conductor as the profile asks";
  else
    best->message = who + " is " + print(*best->measured) + " from the source, within " +
                    print(*best->limit) + rests_on;
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

/// More can reach this end than the conductor bears, so that the way to its device counts here too.
bool needs_device(const Evidence& e, std::size_t i, design::RunEnd end) {
  const auto* bears = std::get_if<wiring::Ampacity>(&e.wiring.runs[i].ampacity);
  const auto& ends = e.wiring.ends[i];
  return !bears || (end == design::RunEnd::from ? ends.from : ends.to).most > bears->value;
}

std::vector<Finding> check_near(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i)
    for (const auto end : {design::RunEnd::from, design::RunEnd::to}) {
      const Run& run = e.design->runs[i];
      const auto id = end == design::RunEnd::from ? run.from : run.to;
      const auto& post = e.design[id];
      const bool tapped = !is_unlimited(post);
      const auto first = first_device(run, end);
      if (first && (!tapped || needs_device(e, i, end)))
        findings.push_back(check_device(rule, e, run, *first, post.kind == PostKind::bank, tapped));
    }
  return findings;
}

constexpr Sign signs[] = {{Parameter::distance, Effect::worse}};

}  // namespace

extern const Rule fuse_near_source{
    .name = "fuse-near-source",
    .asks = "Is the first device near enough to the source, measured along the conductor?",
    .why = "What lies before the first device has nothing to switch it off; it must be too short "
           "and too well enclosed to be hurt.",
    .cure = "Move the device towards the post, or place and enclose it as the profile allows.",
    .source = {SourceKind::published, "AS/NZS 3001.2:2022",
               "section 5.4, as summarised in trade copies; other profiles name their own"},
    .signs = signs,
    .concern = Concern::safety,
    .check = check_near};

}  // namespace housepower::checks

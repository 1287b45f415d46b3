// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"

namespace housepower::checks {
namespace {

/// Of a run's two conductors the thinner, and how long it is.
struct Thinner {
  const tables::Conductor* conductor;
  Length length;
};
Thinner thinner_of(const Run& run) {
  const bool back =
      !run.back.chassis && run.back.conductor && run.back.conductor->copper < run.conductor->copper;
  return back ? Thinner{&*run.back.conductor, run.back.length}
              : Thinner{&*run.conductor, run.length};
}

std::vector<Finding> check_smallest(const Rule& rule, const Evidence& e) {
  const auto& profile = *e.design->profile;
  if (!profile.smallest) return {};
  std::vector<Finding> findings;
  for (const Run& run : e.design->runs) {
    if (!run.conductor) continue;
    const Thinner thinner = thinner_of(run);
    if (profile.smallest_beyond && thinner.length <= *profile.smallest_beyond) continue;
    Working working;
    given(e.kept(working), "S", "copper of the conductor", thinner.conductor->copper,
          thinner.conductor->area_source);
    Finding f = judge(rule, subject_of(e.design, run), thinner.conductor->copper, Bound::at_least,
                      {*profile.smallest, profile.smallest_source,
                       profile.smallest_fails ? Verdict::fail : Verdict::caution},
                      std::move(working));
    f.message = "run " + quoted(run.name) + " has " + print(thinner.conductor->copper) +
                " of copper; at least " + profile.smallest_name + " is required";
    if (profile.smallest_beyond)
      f.message += " where it is longer than " + print(*profile.smallest_beyond);
    if (f.verdict != Verdict::pass)
      f.cure = profile.smallest_name + " or larger, whatever the load";
    findings.push_back(std::move(f));
  }
  return findings;
}

std::string silent_on_smallest(const design::Design& design) {
  return design->profile->smallest ? "" : "the smallest conductor";
}

constexpr Sign smallest_conductor_signs[] = {{Parameter::area, Effect::better}};

}  // namespace

extern const Rule smallest_conductor{
    .name = "smallest-conductor",
    .asks = "Is each conductor at least as large as the profile asks, whatever its load?",
    .why = "A very thin conductor breaks by handling and vibration, and a broken strand heats up.",
    .cure = "The profile's smallest size or larger.",
    .source =
        {SourceKind::published, "ABYC E-11",
         "16 AWG, 18 AWG in a sheath, as quoted in public copies; other profiles name their own"},
    .signs = smallest_conductor_signs,
    .concern = Concern::safety_where_it_fails,
    .silent = silent_on_smallest,
    .check = check_smallest};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
#include "clearing.hpp"

namespace housepower::checks {
namespace {

constexpr Formula lasting_load{
    "I_max",
    "largest continuous load of the device",
    "f · I_n",
    {{"f", "loading factor"}, {"I_n", "rated current, or what the device carries in its heat"}},
    Source{SourceKind::common_practice, "practice of the trade",
           "a fuse carries about three quarters of its rating for hours"},
    [](Ratio factor, Current rating) -> Current { return double(factor) * rating; }};

std::vector<Finding> check_loading(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    const Current lasting = e.wiring.runs[i].current.at_normal_voltage;
    for (std::size_t n = 0; n < run.protection.size(); ++n) {
      const auto& profile = *e.design->profile;
      Working working;
      given(e.kept(working), "I", "load that lasts over 30 minutes, at normal voltage", lasting,
            as_stated);
      const Protection& device = run.protection[n];
      const auto carries = wiring::carries_there(device, e.kept(working));
      if (!carries) {
        findings.push_back(
            not_checked(rule, subject_of(e.design, run).protection(n), too_hot(run, device)));
        continue;
      }
      const Current most = step(e.kept(working), lasting_load, profile.loading, *carries);
      Finding f = judge(rule, subject_of(e.design, run).protection(n), lasting, Bound::at_most,
                        {most, profile.loading_source, Verdict::caution}, std::move(working));
      const auto [carried, should] = figures(f);
      f.message = "the " + print(device.rating) + " device of run " + quoted(run.name) +
                  " carries " + carried + " for hours; it should carry no more than " + should +
                  (device.fuse && !device.fuse->rerated.empty()
                       ? " at " + print(device.ambient)
                       : std::string(" (what its type carries in the heat was not read)"));
      hold_back(f, e.wiring.runs[i].current.why_unknown, e);
      if (f.verdict >= Verdict::caution) f.cure = "the next rating up, if the conductor carries it";
      findings.push_back(std::move(f));
    }
  }
  return findings;
}

constexpr Sign fuse_loading_signs[] = {{Parameter::load, Effect::worse},
                                       {Parameter::device_rating, Effect::better}};

}  // namespace

extern const Rule fuse_loading{.name = "fuse-loading",
                               .asks =
                                   "Does each device carry its continuous load with room to spare?",
                               .why = "A device that runs near its rating for hours heats its "
                                      "holder and ages until it opens for no fault.",
                               .cure = "The next rating up, on a conductor rated for it.",
                               .source = {SourceKind::common_practice, "practice of the trade",
                                          "three quarters of the rating"},
                               .signs = fuse_loading_signs,
                               .concern = Concern::service,
                               .about = About::load,
                               .of_one_run = OneRun::with_its_device,
                               .check = check_loading};

}  // namespace housepower::checks

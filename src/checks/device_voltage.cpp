// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "resting.hpp"

namespace housepower::checks {
namespace {

design::resolved::PostId post_of(const Evidence& e, const wiring::DeviceFacts& facts) {
  if (!facts.run) return e.design->bank->post;
  const Run& run = e.design[*facts.run];
  return run.protection[facts.number].end == design::RunEnd::from ? run.from : run.to;
}

std::vector<Finding> check_device_voltage(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& facts : e.wiring.devices) {
    const Protection& device = wiring::device_of(e.design, facts);
    const Subject subject = wiring::subject_of(e.design, facts);
    const std::string who =
        "the " + device.type +
        (facts.run ? " of run " + quoted(e.design[*facts.run].name) : " at each battery");
    if (!device.rated_voltage) {
      findings.push_back(not_checked(
          rule, subject, who + ": no rated voltage is known for it; state its `rated_voltage`",
          {subject.with("rated_voltage")}));
      continue;
    }
    Working working;
    const auto highest = highest_voltage_at(e.design, post_of(e, facts), e.kept(working));
    if (!highest) {
      findings.push_back(
          not_checked(rule, subject,
                      who + ": the array's cold open-circuit voltage is not known; state `voc` "
                            "and `voc_coefficient` of its module",
                      unstated_of_cold(e)));
      continue;
    }
    // A rating printed "at 14 V" is meant for 12 V systems: it cautions, it does not fail.
    const bool meant_for_12 = e.design->nominal == 12.0 * volt &&
                              *device.rated_voltage >= 14.0 * volt && highest->value < 16.0 * volt;
    Finding f = judge(rule, subject, highest->value, Bound::at_most,
                      {*device.rated_voltage, device.voltage_source,
                       meant_for_12 || !highest->stated ? Verdict::caution : Verdict::fail},
                      std::move(working));
    const auto [has, bears] = figures(f);
    f.message =
        who + " is rated for " + bears + "; the highest there is " + has + ", " + highest->from;
    if (f.verdict != Verdict::pass && meant_for_12)
      f.message += "; a rating printed so is read as meant for 12 V systems";
    if (f.verdict != Verdict::pass)
      f.cure = meant_for_12 ? "ask its maker whether the rating holds at " + print(highest->value)
                            : "a device rated for at least " + print_at_least(highest->value);
    findings.push_back(std::move(f));
  }
  return findings;
}

constexpr Sign device_voltage_signs[] = {{Parameter::length, Effect::none}};

constexpr auto device_voltage_leans_on =
    leanings(std::array{Leaning{LeanKind::charger, "charge_voltage", true},
                        Leaning{LeanKind::controller, "charge_voltage", true}},
             lean_on_high_feed);

}  // namespace

extern const Rule device_voltage{
    .name = "device-voltage",
    .asks = "Is each device rated for the highest voltage it works at?",
    .why = "Above its rated voltage a device may not put out the arc it draws.",
    .cure = "A device with a higher voltage rating.",
    .source = {SourceKind::common_practice, "practice of the trade",
               "rated voltage at least the highest working voltage"},
    .signs = device_voltage_signs,
    .concern = Concern::safety,
    .of_one_run = OneRun::with_its_device,
    .leans_on = device_voltage_leans_on,
    .check = check_device_voltage};

}  // namespace housepower::checks

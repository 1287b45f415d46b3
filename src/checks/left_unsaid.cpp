// SPDX-License-Identifier: Apache-2.0
#include "common.hpp"
#include "housepower/design/joined.hpp"

namespace housepower::checks {
namespace {

struct Unsaid {
  bool missing;
  Subject path;
  const char* what;
  bool can_be_stated = true;
  std::string_view key{};  // of the path, where that is a table
};

std::vector<Finding> list_unsaid(const Rule& rule, const Evidence& e) {
  const auto& d = *e.design;
  const auto* bank = d.bank ? &*d.bank : nullptr;
  const Unsaid list[] = {
      {!d.promise.autonomy && !d.promise.stay && !d.promise.unlimited,
       Subject(Subject::Kind::promise),
       "nothing is promised, so energy has nothing to be checked against", true, "autonomy"},
      {!d.site.town && d.site.weather.empty(), Subject(Subject::Kind::place),
       "no place is given: no sun, no cold, no month is counted", true, "name"},
      {!d.site.weather.empty() && !d.site.hourly, Subject(Subject::Kind::place).with("weather"),
       "the weather file was not read: no sun is counted", false},
      {!bank, subject_of_bank(), "no bank is described", true, "capacity"},
      {bank && is_assumed(e.design, subject_of_bank().with("resistance/low")),
       subject_of_bank().with("resistance"),
       "the batteries' resistance is not stated: faults are counted with a low one from practice, "
       "drops with a high one"},
      {bank && !bank->charge_limit, subject_of_bank().with("charge_limit"),
       "the batteries' charge limit is not stated"},
      {bank && !bank->peak, subject_of_bank().with("peak"),
       "the batteries' peak current is not stated: starts are checked against the continuous "
       "limit"},
      {bank && !bank->charge_cut_off_below && !bank->no_cold_cut_off,
       subject_of_bank().with("charge_cut_off_below"),
       "whether charging stops in the cold is not stated"},
      {bank && !bank->box, subject_of_bank().with("box"),
       "the battery box is not described: the cells are taken as warm as the air outside"},
      {!d.mass_allowance, Subject(Subject::Kind::vehicle).with("electrical_mass_allowance"),
       "no mass allowance is given"},
  };
  std::vector<Finding> findings;
  for (const Unsaid& one : list) {
    if (!one.missing) continue;
    Finding f = not_checked(rule, one.path, one.what);
    if (!one.key.empty()) f.wants = {one.path.with(one.key)};
    if (one.can_be_stated) f.cure = "state `" + one.path.text() + "` in the design";
    findings.push_back(std::move(f));
  }
  return findings;
}

/// What is not drawn has neither a conductor nor a device that any other rule could ask.
Finding of_safety(const Rule& rule, const Subject& subject, std::string message, std::string cure) {
  Finding f = not_checked(rule, subject, std::move(message));
  f.of_safety = true;
  f.cure = std::move(cure);
  return f;
}

std::vector<Finding> list_undrawn(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (const auto& appliance : e.design->appliances) {
    if (design::hangs_on_a_run(e.design, appliance)) continue;
    const std::string& where = e.design[appliance.post].name;
    findings.push_back(of_safety(rule, subject_of(e.design, appliance).with("on"),
                                 "no run and no device is drawn from " + quoted(where) + " to " +
                                     quoted(appliance.name) +
                                     ": its conductor and fuse are not checked",
                                 "draw a [[run]] from " + quoted(where) + " to " +
                                     quoted(appliance.name) + " with its conductor and device"));
  }
  for (const auto& lead : design::undrawn_leads(e.design)) {
    Finding f = of_safety(rule, lead.subject,
                          design::in_words(lead) + ": its conductor and device are not checked" +
                              (lead.counts ? ", and its charge is counted as if it were drawn"
                                           : ", and no charge is counted by that way"),
                          design::cure_of(lead));
    f.in_case = lead.from;
    findings.push_back(std::move(f));
  }
  return findings;
}

std::vector<Finding> list_all_unsaid(const Rule& rule, const Evidence& e) {
  auto findings = list_undrawn(rule, e);
  for (Finding& f : list_unsaid(rule, e)) findings.push_back(std::move(f));
  return findings;
}

constexpr Sign left_unsaid_signs[] = {{Parameter::length, Effect::none}};

}  // namespace

extern const Rule left_unsaid{
    .name = "left-unsaid",
    .asks = "What does the design not say, that a check would have needed?",
    .why =
        "What was left out was not checked, and not checked is never a pass. Once a design draws "
        "runs, a lead that it does not draw is of safety: nobody said what cable it is, nor what "
        "protects it.",
    .cure = "State it in the design; draw a run to whatever has none.",
    .source = {SourceKind::common_practice, "practice of the trade",
               "what is not stated is not checked"},
    .signs = left_unsaid_signs,
    .concern = Concern::service,
    .check = list_all_unsaid};

}  // namespace housepower::checks

// SPDX-License-Identifier: Apache-2.0
#include "bears.hpp"

namespace housepower::checks {
namespace {

/// What links and leads lie in is not stated; they count as lying free, which is the kindest.
Finding check_lead_ampacity(const Rule& rule, const Evidence& e, const design::resolved::Lead& lead,
                            const Subject& path, const std::string& who, Current carried,
                            Working working) {
  const auto answer = wiring::ampacity_of_lead(e.design, lead, e.kept(working));
  const auto* found = std::get_if<wiring::Ampacity>(&answer);
  if (!found) return not_checked(rule, path, who + ": " + std::get<wiring::NoAmpacity>(answer).why);
  Finding f =
      judge(rule, path, carried, Bound::at_most, {found->value, found->source}, std::move(working));
  const auto [carry, bears] = figures(f);
  f.message = who + " carry up to " + carry + "; laid free and insulated as the runs at " +
              "the bank " + tables::shown_name(lead.conductor) + " is rated for " + bears + " (" +
              row_and_beyond(*found) + ")";
  if (f.verdict != Verdict::pass) f.cure = "a larger conductor there, or a bar";
  say_how_leads_lie(f, e.design);
  return f;
}

void check_bank_ampacity(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  if (!e.design->bank || e.design->bank->parallel < 2) return;
  const auto& bank = *e.design->bank;
  const auto links = [&](const design::resolved::Lead& lead, design::Pole pole,
                         const Subject& subject, const std::string& name) {
    Working working;
    const Current i = wiring::current_in_links(e.design, e.wiring, pole, e.kept(working));
    findings.push_back(check_lead_ampacity(rule, e, lead, subject,
                                           "the " + name + " links between the batteries", i,
                                           std::move(working)));
  };
  if (bank.link_positive)
    links(*bank.link_positive, design::Pole::outgoing, subject_of_bank().link_positive(),
          "positive");
  if (bank.link_negative)
    links(*bank.link_negative, design::Pole::return_, subject_of_bank().link_negative(),
          "negative");
  if (!bank.lead) return;
  Working working;
  Current i = wiring::current_in_leads(e.wiring, e.kept(working));
  if (bank.each_device)
    i = smallest(
        e.kept(working), "I_B", "what the lead carries: its load, or what its device lets through",
        std::vector<Term<Current>>{{"load", i}, {"device", bank.each_device->device.rating}});
  findings.push_back(check_lead_ampacity(rule, e, *bank.lead, subject_of_bank().lead(),
                                         "the leads from the batteries to their bar", i,
                                         std::move(working)));
}

std::vector<Finding> check_ampacity(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  if (e.design->runs.empty())
    return {not_checked(rule, Subject(Subject::Kind::run), "no run is described")};
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    const wiring::RunFacts& facts = e.wiring.runs[i];
    if (!run.conductor) {
      findings.push_back(not_checked(rule, subject_of(e.design, run), no_conductor(run, facts),
                                     {subject_of(e.design, run).with("conductor")}));
      continue;
    }
    Working working;
    const auto answer =
        wiring::ampacity_of(e.design, run, *run.conductor, design::Pole::outgoing, e.kept(working));
    const auto* found = std::get_if<wiring::Ampacity>(&answer);
    if (!found) {
      findings.push_back(
          not_checked(rule, subject_of(e.design, run),
                      "run " + quoted(run.name) + ": " + std::get<wiring::NoAmpacity>(answer).why));
      continue;
    }
    const Current carried =
        bounded_by_devices(run,
                           wiring::design_current_of(e.design, e.wiring, {int(i)},
                                                     design::Pole::outgoing, e.kept(working)),
                           e.kept(working));
    Finding f = judge(rule, subject_of(e.design, run), carried, Bound::at_most,
                      {found->value, found->source}, std::move(working));
    f.in_case = facts.current.in_case;
    const auto [carry, bears] = figures(f);
    f.message = "run " + quoted(run.name) + " " + std::string(carries(e)) + " " + carry + "; " +
                tables::shown_name(*run.conductor) + " is rated for " + bears + " as installed (" +
                row_and_beyond(*found) + ")";
    hold_back(f, facts.current.why_unknown, e);
    if (f.verdict >= Verdict::caution) f.cure = more_ampacity(*found, facts);
    findings.push_back(std::move(f));
  }
  check_bank_ampacity(rule, e, findings);
  return findings;
}

// A shorter run may bring a hot section within reach of a terminal; a longer one lies longer within
// insulation.
constexpr Sign ampacity_signs[] = {
    {Parameter::length, Effect::not_monotone}, {Parameter::area, Effect::better},
    {Parameter::ambient, Effect::worse},       {Parameter::circuits_together, Effect::worse},
    {Parameter::load, Effect::worse},          {Parameter::record_low, Effect::none},
    {Parameter::charge_limit, Effect::none}};

constexpr auto ampacity_leans_on = leanings(lean_on_lie, lean_on_loads, lean_on_bank_parts);

}  // namespace

extern const Rule ampacity{
    .name = "ampacity",
    .asks =
        "Can each outgoing conductor, link and lead carry its largest steady current as installed?",
    .why = "A conductor that carries more than its ampacity overheats its insulation, which "
           "hardens, melts and burns. Its ampacity hardly depends on its length, since each metre "
           "makes and sheds its own heat. But within 1 m of a device or terminal it may get no "
           "hotter than that terminal is rated for, which is less than good insulation is: a hot "
           "or crowded stretch in that metre counts for more than one further away, and a longer "
           "run can only move it away. A piece in thermal insulation counts by its own length. "
           "What a longer run does lose is voltage: see `drop`.",
    .cure = "A larger conductor, insulation rated for a higher temperature, a cooler or less "
            "crowded route, or less load on the run.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008",
               "433.1, I_B ≤ I_n ≤ I_z, as quoted in partial copies"},
    .signs = ampacity_signs,
    .concern = Concern::safety,
    .about = About::load,
    .of_one_run = OneRun::yes,
    .leans_on = ampacity_leans_on,
    .check = check_ampacity};

}  // namespace housepower::checks

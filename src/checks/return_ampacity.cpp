// SPDX-License-Identifier: Apache-2.0
#include "bears.hpp"
#include "housepower/wiring/carried.hpp"

namespace housepower::checks {
namespace {

Finding check_return(const Rule& rule, const Evidence& e, RunId id) {
  const Run& run = e.design[id];
  const wiring::RunFacts& facts = e.wiring.runs[id];
  const Subject subject = subject_of(e.design, run).back();
  Working working;
  const auto answer = wiring::ampacity_of(e.design, run, *run.back.conductor, design::Pole::return_,
                                          e.kept(working));
  const auto* found = std::get_if<wiring::Ampacity>(&answer);
  if (!found)
    return not_checked(rule, subject,
                       "return of run " + quoted(run.name) + ": " +
                           std::get<wiring::NoAmpacity>(answer).why);
  const Current carried =
      wiring::carried_of(e.design, e.wiring, id, design::Pole::return_, e.kept(working));
  Finding f = judge(rule, subject, carried, Bound::at_most, {found->value, found->source},
                    std::move(working));
  f.in_case = facts.current.in_case;
  const auto [passes, bears] = figures(f);
  f.message = "the return of run " + quoted(run.name) + " " + std::string(carries(e)) + " " +
              passes + "; " + tables::shown_name(*run.back.conductor) + " is rated for " + bears +
              " as installed (" + row_and_beyond(*found) + ")";
  hold_back(f, facts.current.why_unknown, e);
  if (f.verdict >= Verdict::caution)
    f.cure = found->value > Current{}
                 ? "a larger return conductor, or separate returns for the runs that share it"
                 : more_ampacity(*found, facts);
  return f;
}

/// An overload in the runs that share a return may last as long as their devices hold it.
std::optional<Finding> check_let_home(const Rule& rule, const Evidence& e, RunId id) {
  Working working;
  const auto let = wiring::let_home_of(e.design, e.wiring, id, e.kept(working));
  if (!let) return std::nullopt;
  const Run& run = e.design[id];
  const auto answer = wiring::ampacity_of(e.design, run, *run.back.conductor, design::Pole::return_,
                                          e.kept(working));
  const auto* bears = std::get_if<wiring::Ampacity>(&answer);
  if (!bears) return std::nullopt;  // said already
  Finding f = judge(rule, subject_of(e.design, run).back(), *let, Bound::at_most,
                    {bears->value, bears->source, Verdict::caution}, std::move(working));
  f.in_case = "as much as its devices let through";
  const auto [lets, rated] = figures(f);
  f.message = "the return of run " + quoted(run.name) +
              " is shared; the devices of its runs and before them let up to " + lets +
              " through it, it is rated for " + rated;
  if (f.verdict != Verdict::pass)
    f.cure = "a return rated for at least " + print_at_least(*let) +
             ", smaller devices, or a return for each run";
  return f;
}

/// The current comes home by several ways: nobody sees one of them open, so each should bear what
/// it carries then.
Finding check_alone(const Rule& rule, const Evidence& e, const wiring::IfOneOpens& one) {
  const Run& run = e.design[one.run];
  const std::string other = quoted(e.design[one.opened].name);
  Working working;
  const auto answer = wiring::ampacity_of(e.design, run, *run.back.conductor, design::Pole::return_,
                                          e.kept(working));
  const auto& bears = std::get<wiring::Ampacity>(answer);
  const Current carried = wiring::carried_if(e.design, one, e.kept(working));
  Finding f = judge(rule, subject_of(e.design, run).back(), carried, Bound::at_most,
                    {bears.value, bears.source, Verdict::caution}, std::move(working));
  f.in_case = "another return open";
  const auto [passes, rated] = figures(f);
  f.message = "the return of run " + quoted(run.name) + " shares its current with that of run " +
              other + "; if that opens it carries " + passes + " and is rated for " + rated;
  if (f.verdict != Verdict::pass)
    f.cure = "one return for each current: take one of the two out, or a larger return conductor";
  return f;
}

Subject subject_of_bond() { return Subject(Subject::Kind::design).with("chassis/bond"); }

/// What all runs bring home that return by the chassis; `at_most` of it as a fail, or a caution.
Finding check_bond(const Rule& rule, const wiring::Ampacity& bears, Current comes, Verdict beyond,
                   Working working) {
  Finding f = judge(rule, subject_of_bond(), comes, Bound::at_most,
                    {bears.value, bears.source, beyond}, std::move(working));
  const int digits = digits_apart(comes.value(), bears.value.value());
  f.message = std::string("the bond of the chassis ") +
              (beyond == Verdict::fail ? "carries up to " + print(comes, digits)
                                       : "comes behind devices that let up to " +
                                             print(comes, digits) + " through it") +
              " of the runs that return by the chassis; it is rated for " +
              print(bears.value, digits) + " (" + row_and_beyond(bears) + ")";
  if (f.verdict != Verdict::pass)
    f.cure = "a bond rated for at least " + print_at_least(comes) + ", or a return of their own";
  return f;
}

/// All that returns by the chassis comes home through its bond.
void check_bond(const Rule& rule, const Evidence& e, std::vector<Finding>& findings) {
  Working working;
  const auto answer = wiring::ampacity_of_bond(e.design, e.kept(working));
  if (!answer) {
    findings.push_back(not_checked(
        rule, subject_of_bond(),
        "runs return by the chassis; what conductor bonds it to the negative is not stated",
        {Subject(Subject::Kind::design).with("chassis/bonded_at"), subject_of_bond()}));
    return;
  }
  const auto* bears = std::get_if<wiring::Ampacity>(&*answer);
  if (!bears) {
    findings.push_back(
        not_checked(rule, subject_of_bond(),
                    "the bond of the chassis: " + std::get<wiring::NoAmpacity>(*answer).why));
    return;
  }
  Working of_devices = working;
  const Current carried = wiring::through_bond(e.design, e.wiring, e.kept(working));
  findings.push_back(check_bond(rule, *bears, carried, Verdict::fail, std::move(working)));
  say_how_leads_lie(findings.back(), e.design);
  const auto let = wiring::let_through_bond(e.design, e.wiring, e.kept(of_devices));
  if (!let) return;
  findings.push_back(check_bond(rule, *bears, *let, Verdict::caution, std::move(of_devices)));
  findings.back().in_case = "as much as its devices let through";
}

std::vector<Finding> check_return(const Rule& rule, const Evidence& e) {
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < e.design->runs.size(); ++i) {
    const Run& run = e.design->runs[i];
    const Subject subject = subject_of(e.design, run).back();
    if (run.back.chassis) {
      if (!e.design->chassis)
        findings.push_back(
            not_checked(rule, subject,
                        "run " + quoted(run.name) +
                            " returns through the chassis, whose resistance is not stated",
                        {Subject(Subject::Kind::design).with("chassis/resistance")}));
    } else if (!run.back.conductor) {
      findings.push_back(not_checked(rule, subject, no_conductor(run, e.wiring.runs[i]),
                                     {subject_of(e.design, run).with("conductor")}));
    } else {
      findings.push_back(check_return(rule, e, {int(i)}));
      if (auto let = check_let_home(rule, e, {int(i)})) findings.push_back(*std::move(let));
    }
  }
  if (std::any_of(e.design->runs.begin(), e.design->runs.end(),
                  [](const Run& run) { return run.back.chassis; }))
    check_bond(rule, e, findings);
  for (const auto& one : wiring::if_a_return_opens(e.design, e.wiring))
    if (!e.design[one.run].back.chassis && one.opened.index >= 0 &&
        std::holds_alternative<wiring::Ampacity>(e.wiring.runs[one.run].ampacity_back) &&
        e.design[one.run].back.conductor)
      findings.push_back(check_alone(rule, e, one));
  return findings;
}

constexpr Sign return_ampacity_signs[] = {{Parameter::area, Effect::better},
                                          {Parameter::ambient, Effect::worse},
                                          {Parameter::circuits_together, Effect::worse},
                                          {Parameter::load, Effect::worse}};

constexpr auto return_ampacity_leans_on = leanings(lean_on_lie, lean_on_loads);

}  // namespace

extern const Rule return_ampacity{
    .name = "return-ampacity",
    .asks =
        "Can each return conductor, and the bond of the chassis, carry what comes back through it, "
        "from all runs that share it?",
    .why = "A shared return carries the currents of all its runs, and no device of any one run "
           "limits the total.",
    .cure = "A larger return, or a return of its own for each heavy run.",
    .source = {SourceKind::published, "IEC 60364-4-43:2008",
               "433.1, as quoted in partial copies; applied to the return"},
    .signs = return_ampacity_signs,
    .concern = Concern::safety,
    .about = About::load,
    .leans_on = return_ampacity_leans_on,
    .check = check_return};

}  // namespace housepower::checks

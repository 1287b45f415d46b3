// SPDX-License-Identifier: Apache-2.0
#include "cable_judged.hpp"

#include <algorithm>

#include "cable_design.hpp"
#include "housepower/units/unit.hpp"

namespace housepower::answers {

using checks::About;
using checks::Finding;
using checks::Verdict;
using wiring::CaseResult;

const checks::Rule& rule_about(About about) {
  const auto all = checks::rules();
  return **std::find_if(all.begin(), all.end(),
                        [&](const checks::Rule* one) { return one->about == about; });
}

MaybeConductor for_drop_of(const CableJudged& judged) {
  return judged.by_method ? judged.by_method->smallest
                          : judged.wiring.runs.front().smallest_for_drop;
}

namespace {

MaybeConductor larger_of(const MaybeConductor& a, const MaybeConductor& b) {
  if (!a || !b) return std::nullopt;
  return a->copper > b->copper ? a : b;
}

}  // namespace

MaybeConductor smallest_of(const CableJudged& judged) {
  const auto& facts = judged.wiring.runs.front();
  return judged.by_method ? larger_of(judged.by_method->smallest, facts.smallest_for_ampacity)
                          : facts.smallest;
}

namespace {

/// The rules that one run by itself can answer.
bool applies(const Finding& f, bool with_device) {
  const checks::OneRun of = checks::rule_named(f.rule)->of_one_run;
  return of == checks::OneRun::yes || (with_device && of == checks::OneRun::with_its_device);
}

/// The load on, where the network has an operating point then.
const CaseResult* solved_case(const CableJudged& judged) {
  for (const auto& in : judged.wiring.cases)
    if (in.load_case.judged && in.solved() && !in.runs.empty()) return &in;
  return nullptr;
}

/// Of the series, as they were tried with the load on.
struct SizesTried {
  MaybeConductor for_drop, for_ampacity, smallest;
};

SizesTried sizes_of(const CableJudged& judged) {
  const auto& facts = judged.wiring.runs.front();
  return {for_drop_of(judged), facts.smallest_for_ampacity, facts.smallest};
}

void put_sizes(const SizesTried& tried, wiring::RunFacts& facts) {
  facts.smallest_for_drop = tried.for_drop;
  facts.smallest_for_ampacity = tried.for_ampacity;
  facts.smallest = tried.smallest;
}

/// Findings of a named method: its drop replaces the network's.
void judge_by_method(CableJudged& judged, const CableAsked& asked,
                     const std::optional<SizesTried>& tried) {
  if (*asked.method == wiring::NamedMethod::table) return;
  const auto& run = judged.design->runs.front();
  const Voltage limit = allowed_drop(asked);
  Working working;
  const CaseResult* in = solved_case(judged);
  const Current current = asked.current ? *asked.current
                          : in          ? in->runs.front().current
                                        : *asked.power / *asked.voltage;
  const auto& allowed = judged.design->profile->drop_classes.front();
  judged.by_method = wiring::by_named_method(
      *asked.method, current, 2.0 * asked.length, limit, run.conductor,
      tables::series_named(*judged.design->tables, judged.design->sizes), &working);
  if (tried) judged.by_method->smallest = tried->for_drop;
  const checks::Rule& rule = rule_about(About::drop);
  std::erase_if(judged.findings, [&](const Finding& f) { return f.rule == rule.name; });
  if (!judged.by_method->drop) return;
  auto f = checks::judge(rule, subject_of(judged.design, run), *judged.by_method->drop,
                         checks::Bound::at_most,
                         {limit, allowed.source, allowed.fails ? Verdict::fail : Verdict::caution},
                         std::move(working));
  f.message = "by " + std::string(word(*asked.method)) + " the run loses " +
              print(*judged.by_method->drop) + ", at most " + print(limit) + " is allowed";
  if (f.verdict != Verdict::pass && judged.by_method->smallest)
    f.cure = tables::shown_name(*judged.by_method->smallest) + " or larger";
  judged.findings.insert(judged.findings.begin(), std::move(f));
}

/// Where no size of the series suffices that is no question left open, it fails.
void fail_where_none_suffices(CableJudged& judged) {
  const auto& facts = judged.wiring.runs.front();
  if (judged.design->runs.front().conductor || facts.smallest) return;
  for (Finding& f : judged.findings) {
    if (checks::is_about(f, About::drop) && !facts.smallest_for_drop &&
        f.verdict != Verdict::pass) {
      f.verdict = Verdict::fail;
      f.message += "; no size of the series is thick enough";
      f.cure = "a shorter run, conductors in parallel, or less load";
    }
    const bool bears = facts.smallest_for_ampacity || !checks::is_about(f, About::load);
    const auto* largest = std::get_if<wiring::Ampacity>(&facts.ampacity);
    if (bears || !largest) continue;
    f.verdict = Verdict::fail;
    f.message = "no size of the series carries " + print(facts.current.outgoing) +
                " as the run is installed; its largest, " +
                tables::shown_name(facts.outgoing.conductor) + ", is rated for " +
                print(largest->value) + (largest->beyond.empty() ? "" : ": " + largest->beyond);
    f.cure = "conductors in parallel, insulation rated for a higher temperature, a cooler or less "
             "crowded route, or less load";
  }
}

/// A load of power draws more where its conductor loses more than is allowed: the voltage there, if it
/// is below that which its current was reckoned at.
std::optional<Voltage> lower_than_thought(const CableJudged& judged, const CableAsked& asked) {
  const CaseResult* in = solved_case(judged);
  if (!asked.power || !in || in->consumers.empty()) return std::nullopt;
  const Voltage there = in->consumers.front().voltage;
  const bool lower = there < judged.design->appliances.front().lowest;
  return lower && judged.design->runs.front().conductor ? std::optional(there) : std::nullopt;
}

/// `tried`: what suffices, where that is known better than by one load current for all sizes.
std::optional<CableJudged> judged_document(const design::Document& document,
                                           const CableAsked& asked, const tables::Tables& tables,
                                           const std::optional<SizesTried>& tried,
                                           Diagnostics& diagnostics) {
  auto design = design::resolve(document, tables, Defaults::ordinary, diagnostics);
  if (!design || diagnostics.any_error()) return std::nullopt;
  const energy::Assessment energy = energy::assess(*design);
  const auto cases = checks::load_cases(*design, energy);
  auto wired = wiring::assess(*design, cases);
  if (tried) put_sizes(*tried, wired.runs.front());
  const energy::Outlook no_outlook;
  CableJudged judged{std::move(*design), std::move(wired), {}};
  judged.findings = checks::evaluate({judged.design, energy, judged.wiring, no_outlook});
  std::erase_if(judged.findings,
                [&](const Finding& f) { return !applies(f, asked.device.has_value()); });
  judge_by_method(judged, asked, tried);
  fail_where_none_suffices(judged);
  return judged;
}

/// `conductor`: as chosen before; else that of the question, or none.
std::optional<CableJudged> judged_with(const CableAsked& asked, const std::string& profile,
                                       const tables::Tables& tables,
                                       const std::optional<std::string>& conductor,
                                       const std::optional<SizesTried>& tried,
                                       Diagnostics& diagnostics) {
  design::Document document = cable_document(asked, profile, tables);
  if (conductor) document.run.front().conductor = *conductor;
  auto judged = judged_document(document, asked, tables, tried, diagnostics);
  const auto lower = judged ? lower_than_thought(*judged, asked) : std::nullopt;
  if (!lower) return judged;
  document.appliance.front().lowest_voltage = *lower;
  return judged_document(document, asked, tables, tried, diagnostics);
}

/// The load works, and no more is lost than is allowed.
bool loses_little(const CableJudged& judged, Voltage allowed) {
  const CaseResult* in = solved_case(judged);
  if (!in) return false;
  const auto& method = judged.by_method;
  const Voltage drop = method ? method->drop.value_or(allowed) : in->runs.front().drop;
  return drop <= allowed * (1.0 + 1e-9);
}

/// What the load then draws, and what the device lets through.
bool bears_its_load(const CableJudged& judged) {
  const auto& facts = judged.wiring.runs.front();
  const auto& least = facts.smallest_for_ampacity;
  const auto* iz = std::get_if<wiring::Ampacity>(&facts.ampacity);
  return iz && least && solved_case(judged) &&
         judged.design->runs.front().conductor->copper >= least->copper &&
         facts.current.outgoing <= iz->value * (1.0 + 1e-9);
}

/// Below the least that the load's estimated current asks for nothing suffices.
MaybeConductor thinnest_worth_trying(const CableJudged& open) {
  const auto& for_ampacity = open.wiring.runs.front().smallest_for_ampacity;
  const auto for_drop = for_drop_of(open);
  return for_drop && for_ampacity && for_ampacity->copper < for_drop->copper ? for_ampacity
                                                                             : for_drop;
}

/// As they came out by trying.
void put_tried(const SizesTried& tried, CableJudged& judged) {
  put_sizes(tried, judged.wiring.runs.front());
  if (judged.by_method) judged.by_method->smallest = tried.for_drop;
}

/// With the smallest of the series that suffices with the load on: a load of constant power draws more
/// where its cable, and what lies before it, lose more.
std::optional<CableJudged> judged_with_smallest(const CableAsked& asked, const std::string& profile,
                                                const tables::Tables& tables,
                                                Diagnostics& diagnostics) {
  auto open = judged_with(asked, profile, tables, std::nullopt, std::nullopt, diagnostics);
  if (!open) return open;
  const auto thinnest = thinnest_worth_trying(*open);
  if (!smallest_of(*open) || !thinnest) return open;
  SizesTried tried;
  for (const auto& c : tables::series_named(*open->design->tables, open->design->sizes)) {
    if (c.copper < thinnest->copper) continue;
    auto judged = judged_with(asked, profile, tables, c.name, std::nullopt, diagnostics);
    if (!judged) return std::nullopt;
    const bool bears = bears_its_load(*judged);
    const bool little = loses_little(*judged, allowed_drop(asked));
    if (bears && !tried.for_ampacity) tried.for_ampacity = c;
    if (little && !tried.for_drop) tried.for_drop = c;
    if (!bears || !little) continue;
    tried.smallest = c;
    put_tried(tried, *judged);
    return judged;
  }
  put_tried(tried, *open);
  fail_where_none_suffices(*open);
  return open;
}

}  // namespace

std::optional<CableJudged> judged_in(const CableAsked& asked, const std::string& profile,
                                     const tables::Tables& tables,
                                     const std::optional<std::string>& conductor,
                                     Diagnostics& diagnostics) {
  if (!conductor && !asked.conductor)
    return judged_with_smallest(asked, profile, tables, diagnostics);
  std::optional<SizesTried> tried;
  if (asked.power) {
    CableAsked open = asked;
    open.conductor.reset();
    Diagnostics told_below;
    if (const auto chosen = judged_with_smallest(open, profile, tables, told_below))
      tried = sizes_of(*chosen);
  }
  return judged_with(asked, profile, tables, conductor, tried, diagnostics);
}

}  // namespace housepower::answers

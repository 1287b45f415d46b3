// SPDX-License-Identifier: Apache-2.0
// The parts of a report, and which of them each reader gets.
#include "housepower/report/report.hpp"

#include <algorithm>

#include "housepower/diagram/diagram.hpp"
#include "housepower/report/plots.hpp"
#include "housepower/report/schedule.hpp"
#include "housepower/report/sheets.hpp"
#include "housepower/report/test_sheet.hpp"
#include "housepower/units/phrases.hpp"
#include "pieces.hpp"
#include "voltage_way.hpp"

namespace housepower::report {
namespace {

using answers::ReportParts;
using checks::Finding;
using checks::Verdict;

/// Adds blocks to a page.
struct Adding {
  Page& page;
  const ReportParts& parts;
  [[nodiscard]] const design::Design& design() const { return parts.model.of.design; }
  [[nodiscard]] const checks::Checked& checked() const { return parts.model.of.checked; }
  void add(Block block) const { page.blocks.push_back(std::move(block)); }
  void head(std::string text) const { add(Heading{std::move(text)}); }
  void say(std::string text) const {
    if (!text.empty()) add(Paragraph{std::move(text)});
  }
  void add_all(std::vector<Block> blocks) const {
    for (auto& block : blocks) add(std::move(block));
  }
};

template <class AnyPlot> Figure figure_of(const AnyPlot& plot) {
  return {plot.title, plot.says, svg(plot, SvgFor::page), table_behind(plot), ""};
}
template <class AnyPlot> Figure figure_of(const AnyPlot& plot, TableBlock numbers) {
  return {plot.title, plot.says, svg(plot, SvgFor::page), std::move(numbers), ""};
}

// ---- The verdict and the answer ----

void verdict(const Adding& to) {
  const auto& checked = to.checked();
  to.head("Verdict");
  to.add(VerdictLine{checked.verdicts.worse(), verdicts_of(checked) + ": " + counts_of(checked)});
  JudgementsBlock attention{{}, true};
  for (const auto& f : checked.findings)
    if (f.verdict != Verdict::pass) attention.judgements.push_back(judgement(f));
  to.add(std::move(attention));
}

std::string wiring_answer(const Adding& to) {
  const auto& w = to.checked().wiring;
  std::string text;
  for (const auto& in : w.cases)
    if (in.load_case.judged && !in.solved())
      text += "The case " + quoted_once(in.load_case.name) +
              " has no operating point and is in none of these figures. ";
  if (const auto* in = diagram::worst_drop_case(w))
    if (const auto* worst = worst_consumer(*in))
      text += "The largest voltage drop is to \"" + worst->name + "\": " + print(worst->path_drop) +
              " (" + print(Number(worst->path_share), 2) + ") in the case " +
              quoted_once(in->load_case.name) + ". ";
  const wiring::DeviceFacts* most = nullptr;
  for (const auto& d : w.devices)
    if (d.largest && (!most || *d.largest > *most->largest)) most = &d;
  if (most)
    text += "The largest fault that a device must break is " + print(*most->largest) + ", at " +
            wiring::name_of(to.design(), *most) + ". ";
  return text;
}

std::string mass_text(const checks::Masses& masses) {
  return (masses.missing.empty() ? "" : "at least ") + print(masses.total);
}

Facts facts_of(const Adding& to) {
  Facts all;
  const auto& e = to.checked().energy;
  const auto& promise = to.design()->promise;
  const auto fact = [&](std::string name, std::string value, std::string note) {
    all.facts.push_back({std::move(name), std::move(value), std::move(note)});
  };
  if (to.parts.stays) {
    const auto& r = *to.parts.stays;
    const auto told = energy::told(r.answer);
    fact("Parked in " + std::string(energy::month_name(r.answer.month)),
         stay_told(told.parked, r.parked_unlimited),
         stay_among(r.answer) + "; " + stay_worst(told.parked, r.answer));
    fact("With the stated travel", stay_told(told.travelled, r.unlimited),
         stay_worst(told.travelled, r.answer) +
             (promise.stay ? "; promised " + print(*promise.stay) : ""));
  }
  if (e.autonomy)
    fact("Without any charging", autonomy_text(e),
         promise.autonomy ? "promised " + print(*promise.autonomy) : "");
  if (!e.months.empty()) {
    const auto& day = e.months[e.judged];
    fact("Used a day", print(day.load), print(day.load_charge));
    if (e.has_array) fact("From the sun a day", print(day.solar), "");
  }
  if (e.usable) fact("The bank gives", print(e.usable->energy), "aged " + print(promise.bank_age));
  const auto& allowed = to.design()->mass_allowance;
  fact("Electrical mass", mass_text(to.parts.masses),
       allowed ? "allowed " + print(*allowed) : "no allowance stated");
  return all;
}

void answer(const Adding& to) {
  to.head("The answer");
  const auto& e = to.checked().energy;
  std::string text;
  if (!e.months.empty()) text += energy_answer(to.design(), e) + " ";
  if (to.parts.stays) text += stay_answer(*to.parts.stays) + " ";
  text += wiring_answer(to);
  text += "The electrical parts weigh " + mass_text(to.parts.masses) + ".";
  to.say(text);
  to.add(facts_of(to));
}

// ---- Energy ----

void energy_of_a_day(const Adding& to) {
  const auto& e = to.checked().energy;
  if (e.months.empty()) return;
  to.head("Energy");
  to.add(figure_of(daily_balance_plot(e.months[e.judged]), consumer_table(e)));
  if (e.has_place && e.months.size() > 1) to.add(figure_of(monthly_plot(e), month_table(e)));
}

std::vector<double> counted_in(const std::vector<Duration>& lengths, Duration unit) {
  std::vector<double> numbers;
  for (const auto& length : lengths) numbers.push_back(length / unit);
  return numbers;
}

Figure charge_figure(const design::Design& d, const energy::StaysSeen& seen) {
  const auto series = [](std::string name, const energy::StayTrace& trace) {
    ChargeSeries s{std::move(name), {}, {}};
    for (std::size_t i = 0; i < trace.charge.size(); ++i) {
      s.hours.push_back(double(i + 1));
      s.shares.push_back(double(trace.charge[i]));
    }
    return s;
  };
  const std::vector<ChargeSeries> both{series("typical stay", seen.typical),
                                       series("worst stay", seen.worst)};
  return figure_of(charge_plot(both, d->promise.reserve));
}

Figure lengths_figure(const design::Design& d, const energy::StaysSeen& seen) {
  const std::vector<StaySeries> both{{"bank aged", counted_in(seen.lengths, day)},
                                     {"bank new", counted_in(seen.lengths_when_new, day)}};
  return figure_of(stay_plot(both, d->promise.stay, d->promise.chance));
}

void stays(const Adding& to) {
  if (!to.parts.stays) return;
  const auto& r = *to.parts.stays;
  to.head("How long they can stay");
  to.say(stay_answer(r));
  if (r.seen) {
    to.add(charge_figure(to.design(), *r.seen));
    to.add(lengths_figure(to.design(), *r.seen));
  }
  if (r.months.size() > 1) to.add(figure_of(stay_months_plot(r.months)));
  to.add_all(stay_blocks(r));
}

// ---- Wiring ----

/// Where a new sheet begins in any case, so that no half of one stays empty before it.
void diagram(const Adding& to) {
  const auto* in = diagram::worst_drop_case(to.checked().wiring);
  const diagram::Diagram drawn = diagram::diagram_of(to.parts.model.of, in);
  for (std::size_t sheet = 0; sheet < drawn.sheets.size(); ++sheet) {
    std::string title = drawn.title;
    if (drawn.sheets.size() > 1)
      title +=
          ", sheet " + std::to_string(sheet + 1) + " of " + std::to_string(drawn.sheets.size());
    to.add(Figure{title, drawn.says, svg(drawn, sheet, SvgFor::page), {}, drawn.paper});
  }
}

void wiring_part(const Adding& to) {
  const auto& w = to.checked().wiring;
  to.head("Wiring");
  to.say(wiring_answer(to));
  if (const auto* in = diagram::worst_drop_case(w))
    if (const auto* worst = worst_consumer(*in))
      to.add(figure_of(voltage_profile_plot(to.design(), w, *in, *worst),
                       voltage_way(to.design(), w, in).value_or(TableBlock{})));
  if (!w.devices.empty()) to.add(figure_of(faults_plot(to.design(), w)));
  to.say("The single-line diagram follows on a sheet of its own, before the sheets to fill in.");
  to.add_all(schedule_blocks(to.parts.model, Schedule::cables));
  to.add_all(schedule_blocks(to.parts.model, Schedule::devices));
  to.add_all(beside_runs(to.design(), w));
}

// ---- Pack and mass ----

void pack(const Adding& to) {
  const auto& d = *to.design();
  TableBlock table{"What the pack is made of",
                   {"part", "number", "what", "mass of each"},
                   {false, true, false, true},
                   {}};
  const auto row = [&](std::string part, int number, std::string what, std::optional<Mass> mass) {
    table.rows.push_back({std::move(part), std::to_string(number), std::move(what),
                          mass ? print(*mass) : "not stated"});
  };
  if (d.bank)
    row("battery", d.bank->parallel * d.bank->in_series,
        print(d.bank->capacity) + ", " + print(d.bank->nominal_voltage), d.bank->mass);
  for (const auto& a : d.arrays)
    row("module of " + a.name, a.modules, print(a.module.power), a.module.mass);
  for (const auto& c : d.controllers)
    row(c.name, 1, print(c.max_charge_current) + ", up to " + print(c.max_voltage), c.mass);
  for (const auto& c : d.chargers) row(c.name, 1, print(c.current), c.mass);
  for (const auto& i : d.inverters) row(i.name, 1, print(i.rating), i.mass);
  to.head("Pack and mass");
  to.add(std::move(table));
  const auto& m = to.parts.masses;
  std::string text = "The electrical parts weigh " + mass_text(m) + ", of it " + print(m.cable) +
                     " cable with " + print(m.copper) + " of copper.";
  for (const auto& name : m.missing)
    text += (&name == &m.missing.front() ? " No mass is stated of: " : ", ") + name;
  to.say(text + (m.missing.empty() ? "" : "."));
}

// ---- What it rests on ----

void rests_on(const Adding& to) {
  to.head("What this rests on, and what was not checked");
  to.add(assumptions_table(to.design()));
  TableBlock open{"Not checked", {"rule", "of", "why"}, {false, false, false}, {}};
  for (const auto& f : to.checked().findings)
    if (f.verdict == Verdict::not_checked)
      open.rows.push_back({std::string(f.rule), f.subject.text(), f.message});
  to.add(std::move(open));
  if (auto said = silences_of(to.parts.model.of); !said.text.empty()) to.add(std::move(said));
  for (const auto& note :
       to.parts.stays ? stay_rests_on(*to.parts.stays) : to.checked().energy.notes)
    to.say(note);
}

/// A line each: a large van has six hundred, whose workings would fill as many sheets of paper.
TableBlock passes_of(std::span<const Finding> findings, std::string_view rule) {
  TableBlock table{"What passes", {"of", "in the case", "margin"}, {false, false, true}, {}};
  for (const Finding& f : findings)
    if (f.rule == rule && f.verdict == Verdict::pass)
      table.rows.push_back(
          {f.subject.text(), f.in_case, f.measured && f.limit ? short_percent(f.margin) : ""});
  return table;
}

/// What is open with its working, on paper too; the workings of what passes on the screen.
void workings(const Adding& to) {
  const auto& findings = to.checked().findings;
  to.head("Every check with its working");
  to.add(passes_table(findings));
  for (const checks::Rule* rule : checks::rules()) {
    JudgementsBlock open{{}, true}, passing{{}, true};
    for (const auto& f : findings)
      if (f.rule == rule->name)
        (f.verdict == Verdict::pass ? passing : open).judgements.push_back(judgement(f));
    const std::size_t count = open.judgements.size() + passing.judgements.size();
    if (count == 0) continue;
    Folded of_rule{std::string(rule->name) + ": " + std::string(rule->asks) + " (" +
                       std::to_string(count) + ")",
                   {}};
    if (!open.judgements.empty()) of_rule.blocks.emplace_back(std::move(open));
    if (!passing.judgements.empty()) {
      of_rule.blocks.emplace_back(passes_of(findings, rule->name));
      of_rule.blocks.emplace_back(Folded{"The working of each", {std::move(passing)}, true});
    }
    to.add(std::move(of_rule));
  }
}

/// Each finding names its own; the list of all of them takes five sheets.
void sources(const Adding& to) {
  to.head("Sources");
  to.say("Each limit names its source beside it. On paper `report --unfolded` adds the list.");
  to.add(Folded{"All sources, and the rules that rest on each",
                schedule_blocks(to.parts.model, Schedule::sources)});
}

/// A page of another command, from a new sheet on.
void sheet(const Adding& to, Page page) {
  to.add(Heading{std::move(page.title), true});
  for (Block& block : page.blocks) {
    const auto* inner = std::get_if<Heading>(&block);
    if (inner) to.say(inner->text + ":");
    else to.add(std::move(block));
  }
}
Page no_test_sheet(const design::Design& d) {
  return {d->name + ": test sheet",
          {Paragraph{"None: the network has no operating point under the test's load."}}};
}
void sheets(const Adding& to) {
  sheet(to,
        to.parts.test_sheet ? test_sheet_page(*to.parts.test_sheet) : no_test_sheet(to.design()));
  const BuildPlan plan{{to.parts.model}};
  for (const Sheet one : {Sheet::inspection, Sheet::cutting, Sheet::labels})
    sheet(to, sheet_page(plan, one));
}

// ---- For the showroom: one sheet ----

/// What one of each day would do.
std::optional<Facts::Fact> to_stay_on_fact(const StayReport& r) {
  Facts::Fact fact{"To stay " + print(r.answer.longest) + ", each day", "", ""};
  if (!r.unlimited)
    for (const auto& one : r.to_stay_on) {
      if (!one.a_day) continue;
      const std::string text = print(*one.a_day) + " " + one.by;
      if (fact.value.empty()) fact.value = text;
      else fact.note += (fact.note.empty() ? "or " : ", or ") + text;
    }
  return fact.value.empty() ? std::nullopt : std::optional(std::move(fact));
}

Facts stay_facts(const StayReport& r) {
  const auto& a = r.answer;
  const auto& promise = r.design->promise;
  Facts all;
  const auto told = energy::told(a);
  all.facts.push_back({"Parked in " + std::string(energy::month_name(a.month)),
                       stay_told(told.parked, r.parked_unlimited), ""});
  all.facts.push_back({"With your travel", stay_told(told.travelled, r.unlimited),
                       "bank " + print(promise.bank_age) + " old"});
  all.facts.push_back({"With the bank new", stay_in_days(a.met_when_new, a.longest), ""});
  if (r.day.autonomy) all.facts.push_back({"Without any charging", autonomy_text(r.day), ""});
  if (!r.day.months.empty())
    all.facts.push_back({"Used a day", print(r.day.months[r.day.judged].load), r.use + " use"});
  if (auto on = to_stay_on_fact(r)) all.facts.push_back(std::move(*on));
  return all;
}

TableBlock stay_months_table(const StayReport& r) {
  TableBlock table{"Stays by month of arrival",
                   {"month", "parked", "with your travel", "1 in 100 ends after"},
                   {false, true, true, true},
                   {}};
  for (const auto& m : r.months) {
    const auto told = energy::told(m);
    table.rows.push_back({std::string(energy::month_name(m.month)), stay_told(told.parked, false),
                          stay_told(told.travelled, false),
                          stay_in_days(told.travelled.first_percentile, false)});
  }
  return table;
}

/// The six strongest, by what they draw: what people ask about.
TableBlock runtimes_table(const StayReport& r) {
  TableBlock table{"How long it runs, from a full bank",
                   {"appliance", "alone", "with the rest"},
                   {false, true, true},
                   {}};
  auto all = r.runtimes;
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& x, const auto& y) { return x.power > y.power; });
  for (std::size_t i = 0; i < std::min<std::size_t>(6, all.size()); ++i)
    table.rows.push_back({all[i].name, print(all[i].alone), print(all[i].with_the_rest)});
  return table;
}

std::string open_checks(const checks::Checked& checked, bool of_safety) {
  const auto open =
      std::count_if(checked.findings.begin(), checked.findings.end(), [&](const Finding& f) {
        return f.of_safety == of_safety && f.verdict != Verdict::pass;
      });
  return std::to_string(open) + (of_safety ? " safety" : " service") +
         (open == 1 ? " check is open" : " checks are open");
}

/// No verdict is for a customer; that nothing may be promised yet is.
void released(const Adding& to) {
  const auto& verdicts = to.checked().verdicts;
  if (verdicts.safety != Verdict::pass) {
    to.head("Not released");
    to.say(open_checks(to.checked(), true) + ": promise nothing on this van yet.");
  } else if (verdicts.service == Verdict::fail) {
    to.head("Not yet to be promised");
    to.say(open_checks(to.checked(), false) + ": the van may not serve as it should.");
  }
}

void for_the_customer(const Adding& to) {
  released(to);
  if (!to.parts.stays) {
    to.say("The design has no bank or no place, so no stay can be worked out.");
    return;
  }
  const auto& r = *to.parts.stays;
  to.head(stay_headline(r));
  to.say(stay_answer(r));
  to.add(stay_facts(r));
  if (r.months.size() > 1) to.add(figure_of(stay_months_plot(r.months), stay_months_table(r)));
  if (r.seen) to.add(charge_figure(to.design(), *r.seen));
  TableBlock asked{"Asked most often", {""}, {false}, {}};
  for (auto& sentence : stay_asked(r)) asked.rows.push_back({std::move(sentence)});
  to.add(std::move(asked));
  to.add(runtimes_table(r));
  to.head("What this rests on");
  std::string all;
  for (const auto& note : stay_rests_on(r)) all += (all.empty() ? "" : " ") + note;
  if (const auto said = silences_of(to.parts.model.of); !said.text.empty()) all += " " + said.text;
  to.add(SmallPrint{all});
}

using AddPart = void (*)(const Adding&);
constexpr AddPart engineer[] = {verdict, answer,   energy_of_a_day, stays,   wiring_part,
                                pack,    rests_on, workings,        sources, diagram};
constexpr AddPart electrician[] = {verdict,  wiring_part, diagram, sheets,
                                   rests_on, workings,    sources};
constexpr AddPart showroom[] = {for_the_customer};

}  // namespace

answers::ReportAsked asked_for(Reader reader) {
  const bool on_the_line = reader == Reader::electrician;
  return {.stays = !on_the_line, .test_sheet = on_the_line};
}

Page report_page(const ReportParts& parts, Reader reader) {
  constexpr std::string_view titles[] = {"report", "wiring", "how long they can stay"};
  Page page{parts.model.of.design->name + ": " + std::string(titles[std::size_t(reader)]), {}};
  const Adding to{page, parts};
  const std::span<const AddPart> lists[] = {engineer, electrician, showroom};
  for (const AddPart part : lists[std::size_t(reader)]) part(to);
  return page;
}

}  // namespace housepower::report

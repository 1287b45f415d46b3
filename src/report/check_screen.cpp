// SPDX-License-Identifier: Apache-2.0
// The answer of `check` on one screen: what fails, what to look after, four figures, what is open.
#include <algorithm>
#include <limits>
#include <map>
#include <set>

#include "answer_shapes.hpp"
#include "housepower/diagram/diagram.hpp"
#include "housepower/reading/shape.hpp"
#include "housepower/report/plots.hpp"
#include "housepower/report/stay.hpp"
#include "housepower/units/apart.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"
#include "pieces.hpp"
#include "voltage_way.hpp"

namespace housepower::report {
namespace {

using checks::Finding;
using checks::Verdict;

using FindingList = std::vector<const Finding*>;
FindingList of_verdict(const CheckedDesign& c, Verdict verdict) {
  FindingList list;
  for (const Finding& f : c.checked.findings)
    if (f.verdict == verdict) list.push_back(&f);
  return list;
}

// ---- Findings in short ----

/// "12 A, at most 10 A"; empty where there are no two figures that speak for themselves.
std::string figures_of(const Finding& f) {
  const bool plain = f.measured && f.limit && (!f.unit.empty() || f.measured->kind != Kind{});
  if (!plain) return {};
  const int digits = digits_apart(f.measured->si, f.limit->si);
  const auto figure = [&](const Number& n) {
    constexpr double copper_melts = 1085.0;  // °C, ITS-90, from memory: beyond it no figure helps
    if (n.kind == kind_of<Temperature> && n.si > copper_melts + 273.15) return std::string("melts");
    return f.unit.empty() ? print(n, digits)
                          : print_plain(in_unit(n, unit_of(f)), digits) + " " + std::string(f.unit);
  };
  return figure(*f.measured) + ", " + std::string(word_of(f.bound)) + " " + figure(*f.limit);
}

/// "state laid, ambient"; "fix: 4 mm2 for run "x" (tried: …)"; empty.
std::string edit_of(const Finding& f) {
  std::string list;
  for (std::size_t i = 0; i < std::min<std::size_t>(3, f.wants.size()); ++i) {
    const auto& one = f.wants[i];
    const bool own = one.kind() == f.subject.kind() && one.index() == f.subject.index();
    list += (i == 0 ? "state " : ", ") + (own ? std::string(one.key()) : one.text());
  }
  return list.empty() && !f.cure.empty() ? "fix: " + f.cure : list;
}

/// Of a rule's first finding, for so many of them.
std::string in_a_line(const Finding& f, std::size_t alike) {
  const std::string figures = figures_of(f), edit = edit_of(f);
  std::string line = std::string(f.rule) +
                     (alike > 1 ? " (" + std::to_string(alike) + ")" : std::string()) + ": " +
                     f.subject.text() + ": ";
  if (figures.empty()) line += f.message;
  else line += figures + (edit.empty() ? "" : "; " + edit);
  return line;
}

/// Together those for which `same` holds with the first, each in the order of the report.
template <class Same> std::vector<FindingList> grouped(const FindingList& findings, Same same) {
  std::vector<FindingList> groups;
  for (const Finding* f : findings) {
    const auto group = std::find_if(groups.begin(), groups.end(),
                                    [&](const FindingList& one) { return same(*one.front(), *f); });
    if (group == groups.end()) groups.push_back({f});
    else group->push_back(f);
  }
  return groups;
}
bool same_rule(const Finding& a, const Finding& b) { return a.rule == b.rule; }
bool same_rule_or_fix(const Finding& a, const Finding& b) {
  return same_rule(a, b) || (!a.cure_set.empty() && a.cure_set == b.cure_set);
}

/// More fails than that stand together by their rule and by what would fix them, more cautions by
/// their rule.
constexpr std::size_t most_fails = 4, most_cautions = 8;

/// The others of a group, as far as two lines or so hold them.
std::string alike(const FindingList& group) {
  constexpr std::size_t enough = 160;
  std::string list;
  std::size_t named = 1;
  for (; named < group.size() && list.size() < enough; ++named) {
    const Finding& f = *group[named];
    const std::string figures = figures_of(f);
    list += (named == 1 ? "" : "; ") +
            (same_rule(*group.front(), f) ? "" : std::string(f.rule) + " ") + f.subject.text() +
            (figures.empty() ? "" : " (" + figures + ")");
  }
  const std::size_t more = group.size() - named;
  return more == 0 ? list : list + "; and " + std::to_string(more) + " more (--full)";
}

/// What is nearest to ruin first: what it says for the others.
void worst_first(FindingList& group) {
  const auto rule = group.front()->rule;
  const auto margin = [](const Finding& f) {  // what has no figures has no margin to spare
    return f.measured && f.limit ? double(f.margin) : -std::numeric_limits<double>::infinity();
  };
  std::stable_sort(group.begin(), group.end(), [&](const Finding* a, const Finding* b) {
    return std::pair(b->rule == rule, margin(*a)) < std::pair(a->rule == rule, margin(*b));
  });
  std::set<std::string_view> named{rule};
  std::stable_partition(group.begin() + 1, group.end(),
                        [&](const Finding* f) { return named.insert(f->rule).second; });
}

JudgementsBlock whole(const FindingList& findings, const Detail& detail, std::size_t most) {
  JudgementsBlock block{{}, detail.working, detail.working || detail.sources};
  const bool together = findings.size() > most && !detail.working;
  for (auto& group : grouped(findings, together ? same_rule_or_fix : same_rule)) {
    if (together) worst_first(group);
    for (const Finding* f : group) {
      block.judgements.push_back(judgement(*f));
      if (!together) continue;
      block.judgements.back().alike = alike(group);
      break;
    }
  }
  return block;
}

JudgementLines lines(const FindingList& findings, std::size_t most) {
  JudgementLines block;
  const bool together = findings.size() > most;
  for (auto& group : grouped(findings, same_rule)) {
    if (together) worst_first(group);
    for (const Finding* f : group) {
      block.lines.push_back({f->verdict, in_a_line(*f, together ? group.size() : 1)});
      if (together) break;
    }
  }
  return block;
}

// ---- The answer in four figures ----

Facts::Fact stay_fact(const std::optional<energy::StayAnswer>& parked) {
  if (!parked) return {"Stay parked", "not known without a bank and a place", ""};
  const auto told = energy::told(*parked);
  return {"Stay parked", stay_told(told.parked, false),
          stay_among(*parked) + " in " + std::string(energy::month_name(parked->month)) +
              "; what would change it: housepower stay"};
}

Facts::Fact autonomy_fact(const CheckedDesign& c) {
  const auto& promised = c.design->promise.autonomy;
  const std::string text = autonomy_text(c.checked.energy);
  return {"Autonomy", text.empty() ? "not known without a bank and what draws from it" : text,
          text.empty()
              ? ""
              : "without any charging" +
                    (promised ? "; promised: " + days_or_hours(*promised) : std::string())};
}

Facts::Fact use_fact(const energy::Assessment& e) {
  if (e.months.empty()) return {"Used a day", "nothing", ""};
  const auto& day = e.months[e.judged];
  return {"Used a day", print(day.load) + " (" + print(day.load_charge) + ")",
          e.has_place ? "in " + std::string(energy::month_name(day.month)) +
                            (e.has_array ? ", the sun gives " + print(day.solar) : std::string())
                      : ""};
}

bool has_unsolved(const wiring::Assessment& w) {
  return std::any_of(w.cases.begin(), w.cases.end(), [](const wiring::CaseResult& in) {
    return in.load_case.judged && !in.solved();
  });
}

Facts::Fact loss_fact(const wiring::Assessment& w) {
  const auto* in = diagram::worst_drop_case(w);
  const auto* worst = in ? worst_consumer(*in) : nullptr;
  if (!worst)
    return {"Largest drop",
            has_unsolved(w) ? "not known: the network has no operating point"
                            : "none: no run carries a load",
            ""};
  return {
      "Largest drop", print(worst->path_drop) + " (" + print(Number(worst->path_share), 2) + ")",
      "voltage drop to " + quoted(worst->name) + " in the case " + quoted_once(in->load_case.name)};
}

// ---- What is open ----

bool is_to_look_at(const Finding& f) { return checks::is_about(f, checks::About::inspection); }

struct Open {
  FindingList to_look_at, wanting, waiting;
};
Open open_of(const CheckedDesign& c) {
  Open open;
  for (const Finding* f : of_verdict(c, Verdict::not_checked))
    (is_to_look_at(*f)  ? open.to_look_at
     : f->wants.empty() ? open.waiting
                        : open.wanting)
        .push_back(f);
  return open;
}

/// "27 not checked: 11 to look at, 16 need a figure".
std::string counts_of(const Open& open) {
  std::string list;
  const auto add = [&](const FindingList& some, const char* one, const char* many) {
    if (some.empty()) return;
    list += (list.empty() ? ": " : ", ") + std::to_string(some.size()) +
            (some.size() == 1 ? one : many);
  };
  add(open.to_look_at, " to look at", " to look at");
  add(open.wanting, " needs a figure", " need a figure");
  add(open.waiting, " depends on something else", " depend on something else");
  return std::to_string(open.to_look_at.size() + open.wanting.size() + open.waiting.size()) +
         " not checked" + list;
}

/// A key, wherever it is not stated, and what it keeps from being checked.
struct Wanted {
  std::vector<const design::Subject*> places;
  FindingList findings;
  [[nodiscard]] std::ptrdiff_t of_safety() const {
    return std::count_if(findings.begin(), findings.end(),
                         [](const Finding* f) { return f->of_safety; });
  }
};

std::vector<Wanted> wanted_by(const FindingList& findings) {
  std::map<std::pair<design::Subject::Kind, std::string_view>, Wanted> all;
  for (const Finding* f : findings)
    for (const auto& key : f->wants) {
      Wanted& one = all[{key.kind(), key.key()}];
      const bool known =
          std::any_of(one.places.begin(), one.places.end(),
                      [&](const design::Subject* s) { return s->text() == key.text(); });
      if (!known) one.places.push_back(&key);
      if (one.findings.empty() || one.findings.back() != f) one.findings.push_back(f);
    }
  std::vector<Wanted> list;
  for (auto& [key, one] : all) list.push_back(std::move(one));
  std::stable_sort(list.begin(), list.end(), [](const Wanted& a, const Wanted& b) {
    return std::pair(a.of_safety(), a.findings.size()) >
           std::pair(b.of_safety(), b.findings.size());
  });
  return list;
}

std::string rules_of(const FindingList& findings) {
  std::string list;
  for (const auto& group : grouped(findings, same_rule))
    list += (list.empty() ? "" : ", ") + std::string(group.front()->rule);
  return list;
}

TableBlock look_table(const FindingList& findings) {
  TableBlock table{"Look at these in the van, then list them in `inspected` under [rules]",
                   {"what"},
                   {false},
                   {}};
  for (const Finding* f : findings) table.rows.push_back({f->in_case});
  return table;
}

/// How a key is written, with its unit: "{ current = "200 A", time = "3 s" }"; empty where it is no key of
/// the format.
std::string written_as(const design::Subject& key) {
  FieldList list = design::document_fields();
  const Field* field = nullptr;
  const std::string_view path = key.text();
  for (std::size_t begin = 0; begin < path.size();) {
    const std::size_t end = std::min(path.find('/', begin), path.size());
    if (const Field* next =
            housepower::detail::field_named(list, path.substr(begin, end - begin))) {
      field = next;
      if (housepower::detail::holds_tables(*field))
        list = housepower::detail::innermost(*field->shape).inner();
    }
    begin = end + 1;
  }
  const bool known = field && field->key == path.substr(path.rfind('/') + 1);
  const std::string example = known ? housepower::detail::example_of(*field) : std::string();
  return example == "{}" ? std::string() : example;
}

TableBlock wanted_table(const FindingList& findings) {
  TableBlock table{"Figures wanted, the most needed first",
                   {"key", "for example", "checks", "of safety", "for the rules"},
                   {false, false, true, true, false},
                   {}};
  for (const Wanted& one : wanted_by(findings)) {
    const std::size_t more = one.places.size() - 1;
    table.rows.push_back(
        {one.places.front()->text() + (more == 0 ? "" : " and " + std::to_string(more) + " more"),
         written_as(*one.places.front()), std::to_string(one.findings.size()),
         std::to_string(one.of_safety()), rules_of(one.findings)});
  }
  return table;
}

TableBlock waiting_table(const FindingList& findings) {
  TableBlock table{"Depend on something else", {"rule", "of", "why"}, {false, false, false}, {}};
  for (const Finding* f : findings)
    table.rows.push_back({std::string(f->rule), f->subject.text(), f->message});
  return table;
}

void say_what_is_open(const CheckedDesign& c, Page& page) {
  if (of_verdict(c, Verdict::not_checked).empty()) return;
  page.blocks.emplace_back(
      Paragraph{counts_of(open_of(c)) + " (housepower check --open lists them)."});
}

void say_where_the_rest_is(const CheckedDesign& c, Page& page) {
  const std::size_t assumed = c.design->assumptions.size();
  const auto& findings = c.checked.findings;
  const bool shown = std::any_of(findings.begin(), findings.end(), [](const Finding& f) {
    return f.verdict == Verdict::fail || f.verdict == Verdict::caution;
  });
  page.blocks.emplace_back(
      Paragraph{"--full adds what passes, energy, wiring and " +
                (assumed == 1 ? "the value that was"
                              : "the " + std::to_string(assumed) + " values that were") +
                " assumed; " +
                (shown ? "--sources and --working show what each limit above rests on, with "
                         "--passes those of what passes, too."
                       : "--passes with --sources or --working shows what each limit rests on.")});
}

}  // namespace

bool is_empty(const design::Design& design) {
  return design->runs.empty() || design->appliances.empty();
}

std::string first_line_of(const CheckedDesign& c) {
  const bool runs = !c.design->runs.empty(), appliances = !c.design->appliances.empty();
  const std::string verdicts = verdicts_of(c.checked) + ": " + report::counts_of(c.checked);
  if (!runs && !appliances)
    return c.design->name + ": nothing to check, the design has no appliances and no runs";
  if (!appliances) return c.design->name + ": no appliance, so no load was checked; " + verdicts;
  if (!runs) return c.design->name + ": no run, so no wiring was checked; " + verdicts;
  return c.design->name + ": " + verdicts;
}

Page check_page(const CheckedDesign& c, const Detail& detail,
                const std::optional<energy::StayAnswer>& parked) {
  if (detail.full) return whole_check_page(c, detail);
  Page page{first_line_of(c), {}};
  page.blocks.emplace_back(whole(of_verdict(c, Verdict::fail), detail, most_fails));
  const bool at_length = detail.working || detail.sources;
  const auto add = [&](Verdict verdict, std::size_t most) {
    const auto findings = of_verdict(c, verdict);
    if (at_length) page.blocks.emplace_back(whole(findings, detail, findings.size()));
    else page.blocks.emplace_back(lines(findings, most));
  };
  add(Verdict::caution, most_cautions);
  if (detail.passes) add(Verdict::pass, c.checked.findings.size());
  page.blocks.emplace_back(Facts{{stay_fact(parked), autonomy_fact(c), use_fact(c.checked.energy),
                                  loss_fact(c.checked.wiring)}});
  say_what_is_open(c, page);
  if (auto said = silences_of(c); !said.text.empty()) page.blocks.push_back(std::move(said));
  say_where_the_rest_is(c, page);
  return page;
}

Page finding_page(const Finding& f) {
  return {std::string(f.rule) + ": " + f.subject.text(), {judgements({&f, 1}, true)}};
}

std::string finding_json(const Finding& f) {
  Json json = head();
  json["finding"] = json_of(f);
  return dump(json);
}
JsonKeys finding_answer() { return {{"finding", is::a("finding")}}; }

Page open_page(const CheckedDesign& c) {
  const Open open = open_of(c);
  Page page{c.design->name + ": " + counts_of(open), {}};
  if (!open.wanting.empty()) page.blocks.emplace_back(wanted_table(open.wanting));
  if (!open.to_look_at.empty()) page.blocks.emplace_back(look_table(open.to_look_at));
  if (!open.waiting.empty()) page.blocks.emplace_back(waiting_table(open.waiting));
  return page;
}

}  // namespace housepower::report

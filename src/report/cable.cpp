// SPDX-License-Identifier: Apache-2.0
// One run without a file: the numbers of `cable`.
#include "housepower/report/cable.hpp"

#include <algorithm>

#include "answer_shapes.hpp"
#include "housepower/design/words.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"
#include "pieces.hpp"
#include "wiring_rows.hpp"

namespace housepower::report {
namespace {

using answers::CableFigures;
using answers::CableGoverns;
using answers::CableJudged;
using answers::CableReport;
using checks::Finding;
using checks::Verdict;

/// On the page only what does not stand at its top.
constexpr unsigned among_more = 1;

const Columns<CableFigures>& cable_columns() {
  using Its = ColumnOf<CableFigures>;
  static const Columns<CableFigures> list{
      {"conductor", "conductor", &CableFigures::conductor},
      {"nominal_area_mm2", "nominal area", "mm²", &CableFigures::nominal},
      Its("copper_area_mm2", "copper", "mm²", &CableFigures::copper).in(among_more),
      Its("resistance_ohm_per_km", "resistance", "Ω/km", &CableFigures::resistance).in(among_more),
      Its("conductor_temperature_C", "conductor temperature", "°C", &CableFigures::temperature)
          .in(among_more),
      Its("loop_resistance_ohm", "resistance out and back", "Ω", &CableFigures::loop)
          .in(among_more),
      Its("current_A", "current", "A", &CableFigures::current).in(among_more),
      {"voltage_drop_V", "voltage drop", "V", &CableFigures::drop},
      {"voltage_drop_share", "voltage drop", &CableFigures::drop_share},
      Its("voltage_at_load_V", "voltage at the load", "V", &CableFigures::at_load).in(among_more),
      Its("power_lost_W", "power lost", "W", &CableFigures::lost).in(among_more),
      {"drop_limit_share", "allowed drop", &CableFigures::drop_limit_share},
      {"ampacity_A", "ampacity", "A", &CableFigures::ampacity},
      Its("ampacity_table", "ampacity table", &CableFigures::table).in(among_more),
      Its("ampacity_row", "its row", &CableFigures::row).in(among_more),
      Its("base_ambient_C", "its ambient", "°C", &CableFigures::base).in(among_more),
      {"largest_fuse_A", "largest device", "A", &CableFigures::largest_device},
      Its("smallest_for_drop", "smallest for the drop", &CableFigures::for_drop).in(among_more),
      Its("smallest_for_ampacity", "smallest for the ampacity", &CableFigures::for_ampacity)
          .in(among_more),
      {"smallest", "smallest for both", &CableFigures::smallest}};
  return list;
}

const Columns<CableFigures>& cable_factors() {
  static const Columns<CableFigures> list{
      {"ambient", "factor: ambient", &CableFigures::ambient},
      {"terminal", "factor: terminals", &CableFigures::terminal},
      {"grouping", "factor: grouping", &CableFigures::grouping},
      {"laid", "factor: how it is laid", &CableFigures::laid}};
  return list;
}

const Columns<CableFigures>& cable_fault_columns() {
  static const Columns<CableFigures> list{
      {"prospective_max_A", "largest fault", "A", &CableFigures::fault},
      {"prospective_min_A", "smallest fault", "A", &CableFigures::smallest_fault},
      {"breaking_capacity_A", "can break", "A", &CableFigures::breaking},
      {"clearing_s", "opens within", "s", &CableFigures::clearing},
      {"let_through_A2s", "lets through", "A²s", &CableFigures::let_through},
      {"withstand_A2s", "conductor withstands", "A²s", &CableFigures::withstand}};
  return list;
}

std::string figure_in(const Column& column, const void* row) {
  const Cell cell = column.cell(row);
  if (const auto* n = std::get_if<Number>(&cell))
    return n->kind == Kind{} ? print(*n, 3) : print(*n, 4);
  if (const auto* t = std::get_if<std::string>(&cell)) return *t;
  return "–";
}

/// The figures of one answer, and those of its device.
Json figures_json(const CableReport& r, const CableJudged& judged,
                  const checks::Verdicts& verdicts) {
  Json json = row_json(cable_columns(), judged.figures);
  json["factors"] = row_json(cable_factors(), judged.figures);
  json["method"] = word(r.method);
  json["fuse"] = nullptr;
  if (!judged.wiring.devices.empty())
    json["fuse"] = row_json(cable_fault_columns(), judged.figures);
  add_verdicts(json, verdicts);
  return json;
}

// ---- The top: what someone with a cutter in hand asks first ----

struct AtAGlance {
  std::string what, assumed, worst, limit, governs;
};
const Columns<AtAGlance>& glance_columns() {
  static const Columns<AtAGlance> list{{"what", "", &AtAGlance::what},
                                       {"assumed", "as assumed", &AtAGlance::assumed},
                                       {"worst", "at worst", &AtAGlance::worst},
                                       {"limit", "limit", &AtAGlance::limit},
                                       {"governs", "governed by", &AtAGlance::governs}};
  return list;
}

/// "35.4 °C; at worst 96.4 °C", once where both say the same.
std::string both(const std::string& assumed, const std::string& worst) {
  if (worst.empty() || worst == assumed) return assumed;
  return assumed.empty() ? "at worst " + worst : assumed + "; at worst " + worst;
}
template <class Of> std::string both(const CableReport& r, Of of) {
  return both(of(r.as_assumed), of(r.at_worst));
}

std::string governing_word(CableGoverns governs) {
  switch (governs) {
  case CableGoverns::drop: return "drop";
  case CableGoverns::ampacity: return "ampacity";
  case CableGoverns::both: break;
  }
  return "drop and ampacity";
}

AtAGlance size_row(const CableReport& r) {
  const CableFigures &assumed = r.as_assumed.figures, &worst = r.at_worst.figures;
  const auto needed = [](const CableFigures& f) { return f.smallest.value_or("none suffices"); };
  AtAGlance row{"size", assumed.conductor.value_or("none suffices"), needed(worst), "", ""};
  if (assumed.conductor && !assumed.ampacity) row.assumed += ", ampacity not known";
  else if (assumed.conductor && (assumed.too_small || !assumed.smallest))
    row.assumed += ", needs " + assumed.smallest.value_or("more than the series has");
  if (worst.smallest && worst.conductor && !worst.too_small) row.worst = *worst.conductor;
  row.governs = both(r, [](const CableJudged& j) { return governing_word(j.figures.governs); });
  return row;
}

std::string at_most(const std::optional<Current>& most) {
  return most ? "at most " + print(*most) : std::string("not known");
}
std::string what_limits_device(const CableJudged& judged) {
  if (!judged.figures.largest_device) return "";
  return judged.figures.device_limited ? "limit for so thin a conductor" : "ampacity";
}

AtAGlance device_row(const CableReport& r) {
  const bool stated = !r.as_assumed.wiring.devices.empty();
  AtAGlance row{"device", at_most(r.as_assumed.figures.largest_device),
                at_most(r.at_worst.figures.largest_device),
                "at least " + print(r.as_assumed.wiring.runs.front().current.outgoing),
                both(r, what_limits_device)};
  if (!stated) row.governs += std::string(row.governs.empty() ? "" : "; ") + "state it: --fuse";
  if (!stated) return row;
  const auto& device = r.as_assumed.design->runs.front().protection.front();
  row.what = "device, " + device.type + " " + print(device.rating);
  return row;
}

std::string drop_in_words(const CableJudged& judged) {
  const auto& f = judged.figures;
  if (f.drop && f.drop_share) return print(*f.drop) + " (" + print(*f.drop_share) + ")";
  return f.conductor ? "no operating point" : "not known";
}

AtAGlance drop_row(const CableReport& r) {
  const auto& f = r.as_assumed.figures;
  AtAGlance row{"drop", drop_in_words(r.as_assumed), drop_in_words(r.at_worst),
                "at most " + print(f.drop_limit) + " (" + print(f.drop_limit_share) + ")", ""};
  const auto copper = [](const CableJudged& j) {
    const auto& t = j.figures.temperature;
    return t ? print(Number(*t), 2) : std::string();
  };
  if (f.temperature) row.governs = "copper at " + both(r, copper);
  else if (r.method != wiring::NamedMethod::table) row.governs = word(r.method);
  return row;
}

AtAGlance ampacity_row(const CableReport& r) {
  const auto in_amperes = [](const CableJudged& j) {
    return j.figures.ampacity ? print(*j.figures.ampacity) : std::string("not known");
  };
  const auto least = [](const CableJudged& j) {
    const auto* iz = std::get_if<wiring::Ampacity>(&j.wiring.runs.front().ampacity);
    return iz && j.figures.ampacity ? least_factor(*iz) : std::string();
  };
  return {"ampacity", in_amperes(r.as_assumed), in_amperes(r.at_worst),
          "at least " + print(r.as_assumed.wiring.runs.front().current.outgoing), both(r, least)};
}

TableBlock at_a_glance(const CableReport& r) {
  const auto& run = r.as_assumed.design->runs.front();
  const auto& current = r.as_assumed.wiring.runs.front().current.outgoing;
  const std::vector<AtAGlance> rows{size_row(r), device_row(r), drop_row(r), ampacity_row(r)};
  return table_of(print(current) + " over " + print(run.length) + ", one way", glance_columns(),
                  rows);
}

// ---- What was assumed ----

/// What stands for an option that was not said where the worst is asked; empty: it has none.
std::string worst_of(const CableJudged& worst, std::string_view path) {
  const auto& run = worst.design->runs.front();
  const auto& lies = run.sections.front();
  if (path == "insulation") return print(Number(run.insulation)) + " PVC";
  if (path == "ambient") return print(Number(lies.ambient));
  if (path == "circuits_together") return std::to_string(lies.circuits_together);
  if (path == "laid") return std::string(word(lies.laid));
  if (path == "joints") return std::to_string(run.joints);
  if (path == "ampacity_table") return worst.figures.table.value_or("");
  return {};
}

TableBlock assumed_of(const CableReport& r) {
  TableBlock table{
      "Assumed, as you did not say", {"what", "value", "at worst"}, {false, false, false}, {}};
  for (const Assumption& a : r.assumed) {
    const std::string worst = worst_of(r.at_worst, a.path);
    table.rows.push_back({a.path, a.value, worst == a.value ? std::string() : worst});
  }
  return table;
}

std::string to_be_stated(const CableReport& r) {
  if (r.unsaid.empty()) return "Nothing that matters was assumed.";
  if (!r.as_assumed.figures.conductor)
    return "No size in the series is large enough as assumed: conductors in parallel, a shorter or "
           "less crowded route, or less load.";
  return "State what you know, then the worst no longer counts: " + listed(r.unsaid) + ".";
}

// ---- What was judged ----

struct ToLookAt {
  std::string_view verdict, rule;
  std::string found, fix;
};
const Columns<ToLookAt>& look_at_columns() {
  static const Columns<ToLookAt> list{{"verdict", "verdict", &ToLookAt::verdict},
                                      {"rule", "rule", &ToLookAt::rule},
                                      {"found", "found", &ToLookAt::found},
                                      {"fix", "fix", &ToLookAt::fix}};
  return list;
}

ToLookAt to_look_at(const CableReport& r, const Finding& f) {
  if (const Finding* worst = held_to_worst(r, f))
    return {word_of(f.verdict), f.rule, "at worst: " + worst->message, worst->cure};
  return {word_of(f.verdict), f.rule, f.message, f.cure};
}

void append_judged(Page& page, const CableReport& r) {
  std::vector<Finding> fails;
  std::vector<ToLookAt> others;
  std::vector<std::string> passes;
  for (const Finding& f : r.findings) {
    if (f.verdict == Verdict::fail) fails.push_back(f);
    else if (f.verdict == Verdict::pass) passes.emplace_back(f.rule);
    else others.push_back(to_look_at(r, f));
  }
  if (!fails.empty()) page.blocks.emplace_back(judgements(fails));
  if (!others.empty()) page.blocks.emplace_back(table_of("To look at", look_at_columns(), others));
  if (!passes.empty())
    page.blocks.emplace_back(Paragraph{"Rules that pass: " + listed(passes) + "."});
}

TableBlock more_figures(const CableReport& r) {
  TableBlock table{"More figures", {"what", "as assumed", "at worst"}, {false, false, false}, {}};
  for (const auto& list : {cable_columns().shown_in(among_more), cable_factors()})
    for (const Column& column : list.erased())
      table.rows.push_back({std::string(column.title), figure_in(column, &r.as_assumed.figures),
                            figure_in(column, &r.at_worst.figures)});
  return table;
}

}  // namespace

std::string cable_json(const CableReport& r) {
  Json json = head();
  json.update(figures_json(r, r.as_assumed, r.verdicts()));
  json["at_worst"] = figures_json(r, r.at_worst, checks::worst(r.at_worst.findings));
  json["unsaid"] = r.unsaid;
  json["findings"] = findings_json(r.findings);
  json["assumed"] = Json::array();
  for (const Assumption& a : r.assumed)
    json["assumed"].push_back({{"path", a.path}, {"value", a.value}, {"why", a.why}});
  Json& sources = json["sources"] = Json::array();
  std::vector<Source> told;
  for (const Finding& f : r.findings) {
    if (std::find(told.begin(), told.end(), f.source) != told.end()) continue;
    told.push_back(f.source);
    sources.push_back(json_of(f.source));
  }
  return dump(json);
}

Page cable_page(const CableReport& r, bool with_working) {
  Page page{"Cable: " + std::string(word_of(r.verdicts().worse())), {}};
  page.blocks.emplace_back(at_a_glance(r));
  page.blocks.emplace_back(Paragraph{to_be_stated(r)});
  if (with_working) page.blocks.emplace_back(judgements(r.findings, true));
  else append_judged(page, r);
  page.blocks.emplace_back(assumed_of(r));
  if (r.as_assumed.figures.conductor) page.blocks.emplace_back(more_figures(r));
  return page;
}

namespace {

JsonKeys figures_keys() {
  return keys_of(cable_columns()) +
         JsonKeys{{"factors", is::object(keys_of(cable_factors()))},
                  {"method", is::text()},
                  {"fuse", is::or_null(is::object(keys_of(cable_fault_columns())))}} +
         verdict_keys();
}

}  // namespace

JsonKeys cable_answer() {
  return figures_keys() + JsonKeys{{"at_worst", is::or_null(is::object(figures_keys()))},
                                   {"unsaid", is::list(is::text())},
                                   {"findings", is::list(is::a("finding"))},
                                   {"assumed", assumed_shape()},
                                   {"sources", is::list(is::a("source"))}};
}

}  // namespace housepower::report

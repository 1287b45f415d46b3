// SPDX-License-Identifier: Apache-2.0
// The build list: what stands in the way of building, then cable, cutting list, lugs, devices and
// labels. Lengths to cut are rounded up, never down.
#include <fmt/format.h>

#include <cmath>

#include "answer_shapes.hpp"
#include "build_rows.hpp"
#include "housepower/checks/masses.hpp"

namespace housepower::report {
namespace {

using checks::Verdict;
using range::Landing;

/// In the unit that is shown, rounded up: to the centimetre, or to a twentieth of a foot.
Unit unit_of_cuts() { return shown_unit(*unit_named("m")); }
std::string rounded_up(Length length) {
  const Unit unit = unit_of_cuts();
  const double steps = unit.factor < 1.0 ? 20.0 : 100.0;  // in a foot, in a metre
  return fmt::format("{:.2f}", std::ceil(in_unit(length, unit) * steps - 1e-6) / steps);
}
std::string with_unit_of_cuts(std::string_view head) {
  return std::string(head) + ", " + std::string(unit_of_cuts().symbol);
}

/// "90 °C xlpe", or that it is not stated.
std::string insulation_of(const std::optional<Temperature>& t,
                          const std::optional<std::string>& material) {
  return t ? print(*t) + " " + material.value_or("") : "not stated";
}

std::vector<const checks::Finding*> findings_of(const BuildModel& model, Verdict verdict) {
  std::vector<const checks::Finding*> found;
  for (const auto& f : model.of.checked.findings)
    if (f.verdict == verdict) found.push_back(&f);
  return found;
}

/// Whether it may be built, in words.
std::string verdict_of(const BuildModel& model) {
  const Verdict verdict = model.of.checked.verdicts.worse();
  if (verdict == Verdict::pass) return "Its check passes.";
  std::string text;
  std::size_t told = 0;
  const auto found =
      findings_of(model, verdict == Verdict::fail ? Verdict::fail : Verdict::caution);
  for (const auto* f : found)
    if (told++ < 5)
      text += (text.empty() ? "" : ", ") + std::string(f->rule) + " at " + f->subject.text();
  if (found.size() > 5) text += ", and " + std::to_string(found.size() - 5) + " more";
  if (verdict == Verdict::fail)
    return "THIS DESIGN FAILS its check: " + text + ". Do not build from it.";
  return "Its check ends with caution: " +
         (text.empty() ? "a rule of safety is not checked" : text) +
         ". Settle that before it is built; `housepower check` says how.";
}

std::string colours_of(const BuildModel& model) {
  const auto& set = model.list.colours;
  std::string text = "Colours: " + set.name + ", + " + set.positive + ", − " + set.negative + " (" +
                     std::string(word_of(set.source.kind)) + ")";
  return text + (model.list.colours_stated ? "." : "; taken since the design names none.");
}

std::string allowance_of(const BuildModel& model) {
  return model.list.allowance
             ? "Each piece is cut " + print(*model.list.allowance) + " longer than its run."
             : "No allowance is stated: each piece is cut to the length of its run.";
}

std::string open_of(const BuildModel& model) {
  std::string wires;
  for (const auto& c : model.list.conductors)
    if (!c.conductor) wires += (wires.empty() ? "" : ", ") + c.label;
  return wires.empty() ? ""
                       : "STILL TO BE CHOSEN: the conductors of " + wires +
                             ". `housepower wiring` proposes some; write them into the design.";
}

std::string left_out_of(const BuildModel& model) {
  std::string text;
  for (const auto& what : model.list.left_out) text += (text.empty() ? "" : "; ") + what;
  return text.empty() ? "" : "Needed, not stated, and so not in this list: " + text + ".";
}

TableBlock cable_table(const BuildPlan& plan, const std::vector<CableRow>& rows) {
  TableBlock table{"Cable",
                   {"conductor", "insulation", "colour", "pieces", with_unit_of_cuts("to cut")},
                   {false, false, false, true, true},
                   {}};
  if (plan.planned)
    table.heads.push_back(with_unit_of_cuts("a day")), table.numbers.push_back(true);
  const Unit mass = shown_unit(*unit_named("kg"));
  table.heads.push_back("copper, " + std::string(mass.symbol));
  table.heads.emplace_back("for");
  table.numbers.insert(table.numbers.end(), {true, false});
  for (const CableRow& r : rows) {
    auto& cells = table.rows.emplace_back();
    cells = {r.conductor, insulation_of(r.insulation, r.material), r.colour,
             std::to_string(r.pieces), rounded_up(r.to_cut)};
    if (r.a_day) cells.push_back(rounded_up(*r.a_day));
    cells.push_back(fmt::format("{:.2f}", in_unit(r.copper, mass)));
    cells.push_back(r.needed_by);
  }
  return table;
}

void add_ends(Page& page, const BuildPlan& plan, const range::BuildTotals& totals) {
  const auto add = [&](const char* title, Landing::On on, const char* what, const char* number) {
    page.blocks.push_back(
        table_of(title, end_columns("", what, number), end_rows(plan, totals, on)));
  };
  add("Lugs", Landing::On::stud, "stud", "lugs");
  add("Ends whose stud is not stated: ask before crimping", Landing::On::not_stated, "lands on",
      "ends");
  add("Ends without a lug", Landing::On::no_lug, "lands on", "ends");
}

TableBlock label_table(const std::vector<CutRow>& rows) {
  TableBlock table{"Labels, one on each end; on the ends between them the label alone",
                   {"label", "where it begins", "at its other end"},
                   {false, false, false},
                   {}};
  for (const CutRow& r : rows) table.rows.push_back({r.label, r.label_from, r.label_to});
  return table;
}

constexpr std::string_view not_reckoned = "Offcuts, drums and waste are not counted.";

}  // namespace

std::string title_of(const BuildPlan& plan, std::string_view what) {
  std::string title;
  for (const BuildModel& model : plan.models)
    title += (title.empty() ? "" : ", ") +
             (plan.planned ? std::to_string(model.vans) + " × " : std::string()) +
             model.of.design->name;
  if (plan.planned)
    title += ", in " + std::to_string(plan.days) + " days" +
             (plan.days_stated ? "" : " (taken, since --days is not given)");
  return title + ": " + std::string(what);
}

std::string standing_of(const BuildModel& model) {
  std::string text;
  for (const auto& sentence : {verdict_of(model), open_of(model), colours_of(model),
                               allowance_of(model), left_out_of(model)})
    if (!sentence.empty()) text += (text.empty() ? "" : " ") + sentence;
  return text;
}

TableBlock cutting_table(const BuildPlan& plan, const std::vector<CutRow>& rows) {
  TableBlock table{plan.planned ? "Cutting list, each as often as there are vans" : "Cutting list",
                   {"label", "run", "conductor", "colour", with_unit_of_cuts("lies"),
                    with_unit_of_cuts("to cut"), "pieces", "cut for, from where it begins"},
                   {false, false, false, false, true, true, true, false},
                   {}};
  if (plan.planned) {
    table.heads.insert(table.heads.begin(), {"vans", "model"});
    table.numbers.insert(table.numbers.begin(), {true, false});
  }
  for (const CutRow& r : rows) {
    auto& cells = table.rows.emplace_back();
    cells = {r.label,
             r.run,
             r.conductor,
             r.colour,
             rounded_up(r.length),
             rounded_up(r.to_cut),
             std::to_string(r.pieces),
             r.cut_for};
    if (plan.planned) cells.insert(cells.begin(), {std::to_string(r.vans), r.model});
  }
  return table;
}

Page build_list_page(const BuildPlan& plan) {
  Page page{title_of(plan, plan.planned ? "build plan" : "build list"), {}};
  const auto totals = totals_of(plan);
  const auto cuts = cut_rows(plan);
  const auto add = [&](Block block) { page.blocks.push_back(std::move(block)); };
  for (const BuildModel& model : plan.models)
    add(Paragraph{(plan.planned ? model.of.design->name + ". " : "") + standing_of(model)});
  add(cable_table(plan, cable_rows(plan, totals)));
  const Unit mass = shown_unit(*unit_named("kg"));
  add(Paragraph{fmt::format("Copper in all: {:.2f} {}, without sheath ({}, {}). ",
                            in_unit(totals.copper, mass), mass.symbol,
                            checks::copper_density_source.title,
                            word_of(checks::copper_density_source.kind)) +
                std::string(not_reckoned)});
  add(cutting_table(plan, cuts));
  add_ends(page, plan, totals);
  add(table_of("Devices", part_columns(), part_rows(plan, totals.devices)));
  add(table_of("In line", part_columns(), part_rows(plan, totals.items)));
  if (plan.planned) add(Paragraph{"Labels are in the build list of each model."});
  else add(label_table(cuts));
  return page;
}

namespace {

Json model_json(const BuildModel& model) {
  const auto& set = model.list.colours;
  Json json = design_object(model.of);
  json["vans"] = model.vans;
  add_verdicts(json, model.of.checked.verdicts);
  json["fails"] = Json::array();
  for (const auto* f : findings_of(model, Verdict::fail))
    json["fails"].push_back(
        {{"rule", f->rule}, {"subject", f->subject.text()}, {"message", f->message}});
  json["colours"] = {{"name", set.name},
                     {"positive", set.positive},
                     {"negative", set.negative},
                     {"stated", model.list.colours_stated},
                     {"source", json_of(set.source)}};
  json["allowance_m"] = model.list.allowance ? json_of(*model.list.allowance) : Json();
  json["to_be_chosen"] = Json::array();
  for (const auto& c : model.list.conductors)
    if (!c.conductor) json["to_be_chosen"].push_back(c.label);
  json["left_out"] = model.list.left_out;
  json["inspection"] = rows_json(inspection_columns(), inspection_rows(model));
  return json;
}

}  // namespace

std::string build_list_json(const BuildPlan& plan) {
  const auto totals = totals_of(plan);
  Json json = head();
  json["days"] = plan.planned ? Json(plan.days) : Json();
  json["models"] = Json::array();
  for (const BuildModel& model : plan.models) json["models"].push_back(model_json(model));
  for (const RowTable& list : lists_of(plan, totals)) json[list.name] = rows_json(list);
  json["stations"] = rows_json(station_columns(), station_rows(plan));
  json["copper_kg"] = json_of(totals.copper);
  json["not_reckoned"] = not_reckoned;
  return dump(json);
}

std::string build_list_csv(const BuildPlan& plan) {
  return csv(lists_of(plan, totals_of(plan)), "list");
}

namespace {

Json model_shape() {
  const Json fail =
      is::object({{"rule", is::text()}, {"subject", is::text()}, {"message", is::text()}});
  const Json colours = is::object({{"name", is::text()},
                                   {"positive", is::text()},
                                   {"negative", is::text()},
                                   {"stated", is::flag()},
                                   {"source", is::a("source")}});
  return is::object(design_keys() + JsonKeys{{"vans", is::whole()}} + verdict_keys() +
                    JsonKeys{{"fails", is::list(fail)},
                             {"colours", colours},
                             {"allowance_m", is::or_null(is::number())},
                             {"to_be_chosen", is::list(is::text())},
                             {"left_out", is::list(is::text())},
                             {"inspection", is::rows(inspection_columns())}});
}

}  // namespace

JsonKeys build_list_answer() {
  JsonKeys keys{{"days", is::or_null(is::whole())}, {"models", is::list(model_shape())}};
  for (const RowTable& list : lists_of({}, {}))
    keys += {{list.name, is::list(is::object(page::keys_of(list.columns)))}};
  return keys + JsonKeys{{"stations", is::rows(station_columns())},
                         {"copper_kg", is::number()},
                         {"not_reckoned", is::text()}};
}

}  // namespace housepower::report

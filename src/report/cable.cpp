// SPDX-License-Identifier: Apache-2.0
// One run without a file: the numbers of `cable`. Its design holds one feed, one run and one load.
#include <algorithm>

#include "answer_shapes.hpp"
#include "housepower/design/words.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/wiring/formulas.hpp"
#include "json.hpp"
#include "pieces.hpp"

namespace housepower::report {
namespace {

using checks::Finding;

/// What the answer shows, taken from the design, its assessment and its findings.
struct AnswerRow {
  std::optional<std::string> conductor;
  std::optional<Area> nominal, copper;
  std::optional<ResistancePerLength> resistance;
  std::optional<Temperature> temperature;
  std::optional<Resistance> loop;
  std::optional<Current> current;
  std::optional<Voltage> drop, at_load;
  std::optional<Ratio> share;
  std::optional<Power> lost;
  Ratio limit = 0.0;
  std::optional<Current> ampacity;
  std::optional<std::string> table, row;
  std::optional<Temperature> base;
  std::optional<Ratio> ambient, terminal, grouping, laid;
  std::optional<Current> largest_fuse;
  std::optional<std::string> for_drop, for_ampacity, smallest;
  std::optional<Current> fault, smallest_fault, breaking;
  std::optional<Duration> clearing;
  std::optional<LetThrough> let_through, withstand;
};

std::optional<std::string> conductor_name(const std::optional<tables::Conductor>& c) {
  return c ? std::optional<std::string>(c->name) : std::nullopt;
}

AnswerRow answer_row(const Cable& c) {
  AnswerRow row;
  const auto& run = c.design->runs.front();
  const auto& facts = c.wiring.runs.front();
  row.limit = Ratio(c.drop_limit / c.design->nominal);
  row.largest_fuse = c.largest_fuse;
  row.for_drop = conductor_name(facts.smallest_for_drop);
  row.for_ampacity = conductor_name(facts.smallest_for_ampacity);
  row.smallest = conductor_name(facts.smallest);
  if (!run.conductor && !facts.smallest) return row;  // none suffices
  const auto& conductor = facts.outgoing.conductor;
  row.conductor = conductor.name;
  row.nominal = conductor.nominal;
  row.copper = conductor.copper;
  if (const auto* iz = std::get_if<wiring::Ampacity>(&facts.ampacity)) {
    row.ampacity = iz->value;
    row.table = std::string(iz->table);
    row.row = iz->row;
    row.base = iz->base_ambient;
    row.ambient = iz->ambient, row.terminal = iz->terminal;
    row.grouping = iz->grouping, row.laid = iz->laid;
  }
  for (const auto& in : c.wiring.cases) {
    if (!in.load_case.judged || !in.solved() || in.runs.empty()) continue;
    const auto& at = in.runs.front();
    row.temperature = at.conductor;
    row.current = at.current;
    row.drop = at.drop;
    row.share = at.drop_share;
    row.lost = at.drop * at.current;
    if (!in.consumers.empty()) row.at_load = in.consumers.front().voltage;
    row.resistance = wiring::resistance_at_temperature(conductor.resistance_at_20, at.conductor);
    if (at.current > 0.0 * ampere) row.loop = at.drop / at.current;
  }
  if (c.by_method) {  // the named text's own figures; ampacity stays the table's
    row.for_drop = conductor_name(c.by_method->smallest);
    row.smallest = std::nullopt;
    if (c.by_method->smallest && facts.smallest_for_ampacity)
      row.smallest = (c.by_method->smallest->copper > facts.smallest_for_ampacity->copper
                          ? c.by_method->smallest
                          : facts.smallest_for_ampacity)
                         ->name;
    row.drop = c.by_method->drop;
    if (row.drop && row.current) {
      row.share = Ratio(*row.drop / c.design->nominal);
      row.at_load = c.design->nominal - *row.drop;
      row.lost = *row.drop * *row.current;
      row.loop = *row.drop / *row.current;
      row.temperature = std::nullopt, row.resistance = std::nullopt;
    }
  }
  if (!c.wiring.devices.empty()) {
    row.fault = c.wiring.devices.front().largest;
    row.breaking = run.protection.front().breaking_capacity;
    const auto& device = c.wiring.devices.front();
    if (device.smallest) row.smallest_fault = device.smallest->value;
    row.clearing = device.clearing;
    row.let_through = device.let_through;
    row.withstand = device.withstand;
  }
  return row;
}

const Columns<AnswerRow>& answer_columns() {
  static const Columns<AnswerRow> list{
      {"conductor", "conductor", &AnswerRow::conductor},
      {"nominal_area_mm2", "nominal area", "mm²", &AnswerRow::nominal},
      {"copper_area_mm2", "copper", "mm²", &AnswerRow::copper},
      {"resistance_ohm_per_km", "resistance", "Ω/km", &AnswerRow::resistance},
      {"conductor_temperature_C", "conductor temperature", "°C", &AnswerRow::temperature},
      {"loop_resistance_ohm", "resistance out and back", "Ω", &AnswerRow::loop},
      {"current_A", "current", "A", &AnswerRow::current},
      {"voltage_drop_V", "voltage drop", "V", &AnswerRow::drop},
      {"voltage_drop_share", "voltage drop", &AnswerRow::share},
      {"voltage_at_load_V", "voltage at the load", "V", &AnswerRow::at_load},
      {"power_lost_W", "power lost", "W", &AnswerRow::lost},
      {"drop_limit_share", "allowed drop", &AnswerRow::limit},
      {"ampacity_A", "ampacity", "A", &AnswerRow::ampacity},
      {"ampacity_table", "ampacity table", &AnswerRow::table},
      {"ampacity_row", "its row", &AnswerRow::row},
      {"base_ambient_C", "its ambient", "°C", &AnswerRow::base},
      {"largest_fuse_A", "largest device", "A", &AnswerRow::largest_fuse},
      {"smallest_for_drop", "smallest for the drop", &AnswerRow::for_drop},
      {"smallest_for_ampacity", "smallest for the ampacity", &AnswerRow::for_ampacity},
      {"smallest", "smallest for both", &AnswerRow::smallest}};
  return list;
}

const Columns<AnswerRow>& factors() {
  static const Columns<AnswerRow> list{
      {"ambient", "ambient factor", &AnswerRow::ambient},
      {"terminal", "factor of the terminals", &AnswerRow::terminal},
      {"grouping", "grouping factor", &AnswerRow::grouping},
      {"laid", "factor of how it lies", &AnswerRow::laid}};
  return list;
}

const Columns<AnswerRow>& cable_fault_columns() {
  static const Columns<AnswerRow> list{
      {"prospective_max_A", "largest fault", "A", &AnswerRow::fault},
      {"prospective_min_A", "smallest fault", "A", &AnswerRow::smallest_fault},
      {"breaking_capacity_A", "can break", "A", &AnswerRow::breaking},
      {"clearing_s", "opens within", "s", &AnswerRow::clearing},
      {"let_through_A2s", "lets through", "A²s", &AnswerRow::let_through},
      {"withstand_A2s", "conductor withstands", "A²s", &AnswerRow::withstand}};
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
Json figures_of(const Cable& c) {
  const AnswerRow row = answer_row(c);
  Json json = row_json(answer_columns(), row);
  json["factors"] = row_json(factors(), row);
  json["method"] = c.method;
  json["fuse"] = nullptr;
  if (!c.wiring.devices.empty()) json["fuse"] = row_json(cable_fault_columns(), row);
  add_verdicts(json, checks::worst(c.findings));
  return json;
}

/// Size, device and drop: what someone with a cutter in hand asks first.
Facts first_of(const Cable& c, const AnswerRow& row, const AnswerRow& worst) {
  Facts facts;
  const auto& enough = c.wiring.runs.front().smallest;
  const bool other = enough && row.copper && enough->copper > *row.copper;
  std::string size = row.conductor.value_or("none of the series suffices");
  if (row.conductor && c.at_worst && worst.smallest != row.smallest)
    size += " (" + worst.smallest.value_or("none") + " at worst)";
  facts.facts.push_back(
      {"size", size, other ? "the smallest that suffices as assumed is " + enough->name : ""});
  std::string most = row.largest_fuse ? "at most " + print(*row.largest_fuse) : "not known";
  if (worst.largest_fuse && worst.largest_fuse < row.largest_fuse)
    most += " (" + print(*worst.largest_fuse) + " at worst)";
  if (c.wiring.devices.empty())
    facts.facts.push_back({"device", most, "not looked at: say --fuse"});
  else {
    const auto& device = c.design->runs.front().protection.front();
    facts.facts.push_back(
        {"device", device.type + " " + print(device.rating), "the conductor allows " + most});
  }
  const std::string allowed =
      "at most " + print(c.drop_limit) + " (" + print(row.limit) + ") is allowed";
  facts.facts.push_back({"drop",
                         row.drop        ? print(*row.drop) + " (" + print(*row.share) + ")"
                         : row.conductor ? "no operating point"
                                         : "not known",
                         allowed});
  return facts;
}

/// "19 A as assumed, 6.7 A at worst: state --insulation, …".
std::string compared_with_worst(const Cable& c, const AnswerRow& row, const AnswerRow& worst) {
  if (!c.at_worst || c.unsaid.empty()) return "Nothing that matters was assumed.";
  if (!row.conductor)
    return "No size of the series suffices as assumed: conductors in parallel, a shorter or freer "
           "way, or less load.";
  const auto amperes = [](const AnswerRow& of) {
    return of.ampacity ? print(*of.ampacity) : std::string("no ampacity");
  };
  std::string text = amperes(row) + " as assumed, " + amperes(worst) + " at worst";
  if (row.drop && worst.drop)
    text += "; it loses " + print(*row.drop) + ", at worst " + print(*worst.drop);
  const auto& needed = c.at_worst->wiring.runs.front().smallest;
  if (!needed) text += "; no size of the series would do at worst";
  else if (row.copper && needed->copper > *row.copper)
    text += "; " + needed->name + " would do at worst";
  return text + ": state " + listed(c.unsaid);
}

/// What stands for an option that was not said where the worst is asked; empty: the same.
std::string worst_of(const Cable& worst, std::string_view path) {
  const auto& run = worst.design->runs.front();
  const auto& lies = run.sections.front();
  if (path == "insulation") return print(Number(run.insulation)) + " PVC";
  if (path == "ambient") return print(Number(lies.ambient));
  if (path == "circuits_together") return std::to_string(lies.circuits_together);
  if (path == "laid") return std::string(word(lies.laid));
  if (path == "joints") return std::to_string(run.joints);
  if (path == "ampacity_table") return answer_row(worst).table.value_or("");
  return {};
}

TableBlock assumed_of(const Cable& c) {
  TableBlock table{
      "Assumed, as you did not say", {"what", "value", "at worst"}, {false, false, false}, {}};
  for (const Assumption& a : c.assumed) {
    const std::string worst = c.at_worst ? worst_of(*c.at_worst, a.path) : std::string();
    table.rows.push_back({a.path, a.value, worst == a.value ? std::string() : worst});
  }
  return table;
}

}  // namespace

std::string cable_json(const Cable& c) {
  Json json = head();
  json.update(figures_of(c));
  json["at_worst"] = c.at_worst ? figures_of(*c.at_worst) : Json(nullptr);
  json["unsaid"] = c.unsaid;
  json["findings"] = findings_json(c.findings);
  json["assumed"] = Json::array();
  for (const Assumption& a : c.assumed)
    json["assumed"].push_back({{"path", a.path}, {"value", a.value}, {"why", a.why}});
  Json& sources = json["sources"] = Json::array();
  std::vector<Source> told;
  for (const Finding& f : c.findings) {
    if (std::find(told.begin(), told.end(), f.source) != told.end()) continue;
    told.push_back(f.source);
    sources.push_back(json_of(f.source));
  }
  return dump(json);
}

Page cable_page(const Cable& c, bool with_working) {
  Page page{"Cable: " + std::string(word_of(checks::worst(c.findings).worse())), {}};
  const AnswerRow row = answer_row(c);
  const AnswerRow worst = c.at_worst ? answer_row(*c.at_worst) : row;
  page.blocks.push_back(first_of(c, row, worst));
  page.blocks.push_back(assumed_of(c));
  page.blocks.push_back(Paragraph{compared_with_worst(c, row, worst)});
  page.blocks.push_back(judgements(c.findings, with_working));
  TableBlock table{"One run", {"what", "as assumed", "at worst"}, {false, false, false}, {}};
  for (const auto* list : {&answer_columns(), &factors()})
    for (const Column& column : list->erased())
      table.rows.push_back(
          {std::string(column.title), figure_in(column, &row), figure_in(column, &worst)});
  page.blocks.push_back(table);
  return page;
}

namespace {

JsonKeys figures_keys() {
  return keys_of(answer_columns()) +
         JsonKeys{{"factors", is::object(keys_of(factors()))},
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

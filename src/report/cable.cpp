// SPDX-License-Identifier: Apache-2.0
// One run without a file: the numbers of `cable`. Its design holds one feed, one run and one load.
#include <algorithm>

#include "housepower/wiring/formulas.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

using checks::Finding;

/// What the answer shows, taken from the design, its assessment and its findings.
struct CableRow {
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
  std::optional<Ratio> ambient, grouping, laid;
  std::optional<std::string> for_drop, for_ampacity, smallest;
  std::optional<Current> fault, smallest_fault, breaking;
  std::optional<Duration> clearing;
  std::optional<LetThrough> let_through, withstand;
};

std::optional<std::string> name_of(const std::optional<tables::Conductor>& c) {
  return c ? std::optional<std::string>(c->name) : std::nullopt;
}

CableRow row_of(const Cable& c) {
  CableRow row;
  const auto& run = c.design->runs.front();
  const auto& facts = c.wiring.runs.front();
  row.limit = Ratio(c.drop_limit / c.design->nominal);
  row.for_drop = name_of(facts.smallest_for_drop);
  row.for_ampacity = name_of(facts.smallest_for_ampacity);
  row.smallest = name_of(facts.smallest);
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
    row.ambient = iz->ambient, row.grouping = iz->grouping, row.laid = iz->laid;
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
    row.for_drop = name_of(c.by_method->smallest);
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

const std::vector<Column>& columns() {
  static const std::vector<Column> list{
      column<&CableRow::conductor>("conductor", "conductor"),
      column<&CableRow::nominal>("nominal_area_mm2", "nominal area", "mm²"),
      column<&CableRow::copper>("copper_area_mm2", "copper", "mm²"),
      column<&CableRow::resistance>("resistance_ohm_per_km", "resistance", "Ω/km"),
      column<&CableRow::temperature>("conductor_temperature_C", "conductor temperature", "°C"),
      column<&CableRow::loop>("loop_resistance_ohm", "resistance out and back", "Ω"),
      column<&CableRow::current>("current_A", "current", "A"),
      column<&CableRow::drop>("voltage_drop_V", "voltage drop", "V"),
      column<&CableRow::share>("voltage_drop_share", "voltage drop"),
      column<&CableRow::at_load>("voltage_at_load_V", "voltage at the load", "V"),
      column<&CableRow::lost>("power_lost_W", "power lost", "W"),
      column<&CableRow::limit>("drop_limit_share", "allowed drop"),
      column<&CableRow::ampacity>("ampacity_A", "ampacity", "A"),
      column<&CableRow::table>("ampacity_table", "ampacity table"),
      column<&CableRow::row>("ampacity_row", "its row"),
      column<&CableRow::base>("base_ambient_C", "its ambient", "°C"),
      column<&CableRow::for_drop>("smallest_for_drop", "smallest for the drop"),
      column<&CableRow::for_ampacity>("smallest_for_ampacity", "smallest for the ampacity"),
      column<&CableRow::smallest>("smallest", "smallest for both")};
  return list;
}

const std::vector<Column>& factors() {
  static const std::vector<Column> list{column<&CableRow::ambient>("ambient", "ambient factor"),
                                        column<&CableRow::grouping>("grouping", "grouping factor"),
                                        column<&CableRow::laid>("laid", "factor of how it lies")};
  return list;
}

const std::vector<Column>& fuse() {
  static const std::vector<Column> list{
      column<&CableRow::fault>("prospective_max_A", "largest fault", "A"),
      column<&CableRow::smallest_fault>("prospective_min_A", "smallest fault", "A"),
      column<&CableRow::breaking>("breaking_capacity_A", "can break", "A"),
      column<&CableRow::clearing>("clearing_s", "opens within", "s"),
      column<&CableRow::let_through>("let_through_A2s", "lets through", "A²s"),
      column<&CableRow::withstand>("withstand_A2s", "conductor withstands", "A²s")};
  return list;
}

std::string shown(const Column& column, const void* row) {
  const Cell cell = column.cell(row);
  if (const auto* n = std::get_if<Number>(&cell))
    return n->kind == Kind{} ? print(*n, 3) : print(*n, 4);
  if (const auto* t = std::get_if<std::string>(&cell)) return *t;
  return "–";
}

}  // namespace

std::string cable_json(const Cable& c) {
  Json json = head();
  const CableRow row = row_of(c);
  json.update(row_json(columns(), &row));
  json["factors"] = row_json(factors(), &row);
  json["method"] = c.method;
  json["fuse"] = nullptr;
  if (!c.wiring.devices.empty()) json["fuse"] = row_json(fuse(), &row);
  add_verdicts(json, checks::worst(c.findings));
  json["findings"] = findings_json(c.findings);
  json["assumed"] = Json::array();
  for (const Assumption& a : c.assumed)
    json["assumed"].push_back({{"path", a.path}, {"value", a.value}, {"why", a.why}});
  json["sources"] = Json::array();
  for (const Finding& f : c.findings) {
    const Json source = json_of(f.source);
    if (std::find(json["sources"].begin(), json["sources"].end(), source) == json["sources"].end())
      json["sources"].push_back(source);
  }
  return dump(json);
}

Page cable_page(const Cable& c, bool with_working) {
  Page page{"Cable: " + std::string(checks::word_of(checks::worst(c.findings).worse())), {}};
  const CableRow row = row_of(c);
  TableBlock table{"One run", {"what", "value"}, {false, false}, {}};
  for (const auto* list : {&columns(), &factors()})
    for (const Column& column : *list)
      table.rows.push_back({std::string(column.title), shown(column, &row)});
  page.blocks.push_back(table);
  page.blocks.push_back(FindingsBlock{c.findings, with_working});
  TableBlock assumed{"Assumed, since not said", {"what", "value"}, {false, false}, {}};
  for (const Assumption& a : c.assumed) assumed.rows.push_back({a.path, a.value});
  page.blocks.push_back(assumed);
  return page;
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
#include "wiring_rows.hpp"

#include <algorithm>

#include "housepower/design/words.hpp"

namespace housepower::report {
namespace {

using design::resolved::Protection;
using design::resolved::Run;

void add(std::string& list, const std::string& text, const char* between = ", ") {
  if (!text.empty()) list += (list.empty() ? "" : between) + text;
}

/// The return, told by what is not as in the outgoing conductor.
std::string return_of(const design::Design& design, const Run& run, const wiring::RunFacts& facts) {
  if (!facts.back) return "chassis";
  const std::string& name = facts.back->conductor.name;
  std::string text = name == facts.outgoing.conductor.name ? "as outgoing"
                     : facts.back->chosen                  ? name + " (open)"
                                                           : name;
  if (run.back.length != run.length) add(text, print(run.back.length));
  if (run.back.to != run.from) add(text, "to " + design[run.back.to].name);
  if (facts.current.back > 1.001 * facts.current.outgoing)  // not by the last digits of a solution
    add(text, "carries " + print(facts.current.back));
  const auto* out = std::get_if<wiring::Ampacity>(&facts.ampacity);
  const auto* back = std::get_if<wiring::Ampacity>(&facts.ampacity_back);
  if (out && back && back->value < out->value) add(text, "ampacity " + print(back->value));
  if (out && !back) add(text, "ampacity not known");
  return text;
}

std::string device_text(const Protection& p) {
  std::string text = p.type + " " + print(p.rating);
  text += p.end == design::RunEnd::from ? " at its beginning" : " at its end";
  const bool away = p.distance && *p.distance > Length{};
  return away ? text + ", " + print(*p.distance) + " along" : text;
}

void add_lay(RunRow& row, const Run& run) {
  row.around = run.sections.front().ambient;
  for (const auto& section : run.sections) {
    const std::string how(word(section.laid));
    if (row.lay.find(how) == std::string::npos) add(row.lay, how);
    row.around = std::max(row.around, section.ambient);
    row.together = std::max(row.together, section.circuits_together);
  }
}

void add_ampacity(RunRow& row, const wiring::AmpacityAnswer& answer) {
  if (const auto* none = std::get_if<wiring::NoAmpacity>(&answer)) {
    add(row.note, "no ampacity: " + none->why, "; ");
    return;
  }
  const auto& iz = std::get<wiring::Ampacity>(answer);
  row.ampacity = iz.value;
  row.table = std::string(iz.table);
  row.row = iz.row;
  row.ambient = iz.ambient, row.terminal = iz.terminal;
  row.grouping = iz.grouping, row.laid = iz.laid;
  add(row.note, iz.note, "; ");
  add(row.note, iz.beyond, "; ");
}

}  // namespace

RunRow run_row(const design::Design& design, const wiring::Assessment& w, std::size_t i) {
  const Run& run = design->runs[i];
  const auto& facts = w.runs[i];
  RunRow row;
  row.name = run.name;
  row.label = run.label;
  row.from = design[run.from].name;
  row.to = design[run.to].name;
  row.conductor = facts.outgoing.conductor.name + (facts.outgoing.chosen ? " (open)" : "");
  row.area = facts.outgoing.conductor.nominal;
  row.parallel = run.parallel;
  row.insulation = word(run.material);
  row.insulation_limit = run.insulation;
  row.length = run.length;
  row.back = return_of(design, run, facts);
  add_lay(row, run);
  row.design_current = facts.current.outgoing;
  row.design_case = facts.current.in_case;
  if (!facts.current.why_unknown.empty())
    row.note = "the design current is too small: " + facts.current.why_unknown;
  add_ampacity(row, facts.ampacity);
  if (!run.protection.empty()) row.device = run.protection.front().rating;
  for (const Protection& p : run.protection) add(row.devices, device_text(p), "; ");
  return row;
}

void add_case(RunRow& row, const wiring::CaseResult& in, std::size_t i) {
  const auto& at = in.runs[i];
  row.in_case = in.load_case.name;
  row.current = at.current;
  row.drop = at.drop;
  row.share = at.drop_share;
  row.temperature = at.conductor;
}

const std::vector<Column>& run_columns() {
  static const std::vector<Column> columns{
      column<&RunRow::name>("name", "run"),
      column<&RunRow::conductor>("conductor", "conductor"),
      column<&RunRow::length>("length_m", "length", "m"),
      column<&RunRow::current>("current_A", "current", "A"),
      column<&RunRow::device>("device_A", "device", "A"),
      column<&RunRow::ampacity>("ampacity_A", "ampacity", "A"),
      column<&RunRow::drop>("drop_V", "drop", "V"),
      column<&RunRow::share>("drop_share", "drop"),
      column<&RunRow::temperature>("conductor_temperature_C", "copper", "°C"),
      column<&RunRow::table>("ampacity_table", "table"),
      column<&RunRow::row>("ampacity_row", "row")};
  return columns;
}

const std::vector<Column>& factor_columns() {
  static const std::vector<Column> columns{column<&RunRow::ambient>("ambient", "ambient"),
                                           column<&RunRow::grouping>("grouping", "grouping"),
                                           column<&RunRow::laid>("laid", "laid"),
                                           column<&RunRow::terminal>("terminal", "terminal")};
  return columns;
}

const std::vector<Column>& schedule_columns() {
  static const std::vector<Column> columns{
      column<&RunRow::label>("label", "label"),
      column<&RunRow::name>("run", "run"),
      column<&RunRow::from>("from", "from"),
      column<&RunRow::to>("to", "to"),
      column<&RunRow::conductor>("conductor", "conductor"),
      column<&RunRow::area>("area_mm2", "area", "mm²"),
      column<&RunRow::parallel>("conductors_per_pole", "per pole"),
      column<&RunRow::insulation>("insulation_material", "insulation"),
      column<&RunRow::insulation_limit>("insulation_C", "insulation for", "°C"),
      column<&RunRow::length>("length_m", "length", "m"),
      column<&RunRow::back>("return", "return"),
      column<&RunRow::lay>("laid_as", "laid as"),
      column<&RunRow::around>("ambient_C", "hottest around", "°C"),
      column<&RunRow::together>("circuits_together", "circuits together"),
      column<&RunRow::design_current>("design_current_A", "design current", "A"),
      column<&RunRow::design_case>("design_case", "in case"),
      column<&RunRow::ampacity>("ampacity_A", "ampacity", "A"),
      column<&RunRow::table>("ampacity_table", "ampacity table"),
      column<&RunRow::row>("ampacity_row", "its row"),
      column<&RunRow::ambient>("ambient_factor", "× ambient"),
      column<&RunRow::terminal>("terminal_factor", "× terminal"),
      column<&RunRow::grouping>("grouping_factor", "× grouping"),
      column<&RunRow::laid>("laid_factor", "× laid"),
      column<&RunRow::in_case>("drop_case", "loses most in case"),
      column<&RunRow::current>("current_A", "current in it", "A"),
      column<&RunRow::drop>("drop_V", "drop", "V"),
      column<&RunRow::share>("drop_share", "drop"),
      column<&RunRow::temperature>("conductor_temperature_C", "copper", "°C"),
      column<&RunRow::devices>("devices", "devices"),
      column<&RunRow::note>("note", "note")};
  return columns;
}

std::vector<DeviceRow> device_rows(const design::Design& design, const wiring::Assessment& w) {
  std::vector<DeviceRow> rows;
  for (const auto& d : w.devices) {
    const Protection& p = wiring::device_of(design, d);
    DeviceRow& row = rows.emplace_back();
    if (d.run) row.label = design[*d.run].label;
    row.run = d.run ? design[*d.run].name : "bank/each_battery";
    row.end = !d.run ? "battery" : p.end == design::RunEnd::from ? "from" : "to";
    row.distance = p.distance;
    row.type = p.type;
    row.rating = p.rating;
    row.largest = d.largest;
    if (d.smallest) row.smallest = d.smallest->value;
    row.breaking = p.breaking_capacity;
    row.clearing = d.clearing;
    row.let_through = d.let_through;
    row.withstand = d.withstand;
  }
  return rows;
}

const std::vector<Column>& device_columns() {
  static const std::vector<Column> columns{
      column<&DeviceRow::run>("run", "run"),
      column<&DeviceRow::end>("end", "end"),
      column<&DeviceRow::type>("type", "type"),
      column<&DeviceRow::rating>("rating_A", "rating", "A"),
      column<&DeviceRow::largest>("prospective_max_A", "largest fault", "A"),
      column<&DeviceRow::breaking>("breaking_capacity_A", "can break", "A"),
      column<&DeviceRow::smallest>("prospective_min_A", "smallest fault", "A"),
      column<&DeviceRow::clearing>("clearing_s", "opens within", "s"),
      column<&DeviceRow::let_through>("let_through_A2s", "lets through", "A2s"),
      column<&DeviceRow::withstand>("withstand_A2s", "withstood", "A2s")};
  return columns;
}

const std::vector<Column>& device_schedule_columns() {
  static const std::vector<Column> columns = [] {
    std::vector<Column> all{column<&DeviceRow::label>("label", "label")};
    const auto& shared = device_columns();
    all.insert(all.end(), shared.begin(), shared.end());
    all.insert(all.begin() + 3, column<&DeviceRow::distance>("distance_m", "along", "m"));
    return all;
  }();
  return columns;
}

}  // namespace housepower::report

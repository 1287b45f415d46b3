// SPDX-License-Identifier: Apache-2.0
#include "build_rows.hpp"

#include "housepower/design/words.hpp"
#include "housepower/range/stations.hpp"
#include "housepower/units/phrases.hpp"

namespace housepower::report {
namespace {

using range::Landing;
using range::Use;

std::optional<std::string> material_word(const std::optional<design::Insulation>& material) {
  return material ? std::optional(std::string(word(*material))) : std::nullopt;
}

std::string in_words(const Landing& on) {
  switch (on.on) {
  case Landing::On::stud: return on.at + ": stud " + on.what;
  case Landing::On::not_stated: return on.at + ": stud not stated";
  case Landing::On::no_lug: return on.at + ": " + on.what;
  }
  return {};
}

std::string in_words(const range::Break& b) {
  return b.on.at + (b.at ? " at " + print(*b.at) : ", place not stated");
}

/// Wires of the one van; of a plan each model with its vans and what one of them takes.
std::string in_words(const BuildPlan& plan, const std::vector<Use>& uses) {
  std::vector<std::string> texts;
  for (const Use& use : uses) {
    const BuildModel& model = plan.models[use.model];
    texts.push_back(plan.planned ? std::to_string(model.vans) + " × " + model.of.design->name +
                                       " (" + std::to_string(use.each) + " each)"
                                 : listed(use.wires));
  }
  return listed(texts);
}

CutRow cut_row(const BuildModel& model, const range::BuildConductor& c) {
  CutRow row;
  row.model = model.of.design->name;
  row.vans = model.vans;
  row.label = c.label;
  row.run = c.run;
  row.pole = word(c.pole);
  row.conductor = size_of(c.conductor);
  if (c.conductor) row.standard = c.conductor->series, row.tinned = c.conductor->tinned;
  row.insulation = c.insulation;
  row.material = material_word(c.material);
  row.colour = c.colour;
  row.length = c.length;
  row.to_cut = c.to_cut;
  row.pieces = c.pieces();
  for (const auto& b : c.breaks) row.cut_for += (row.cut_for.empty() ? "" : "; ") + in_words(b);
  row.label_from = c.label_from;
  row.label_to = c.label_to;
  row.lands_from = in_words(c.from);
  row.lands_to = in_words(c.to);
  return row;
}

}  // namespace

std::string size_of(const std::optional<tables::Conductor>& c) {
  return c ? tables::shown_name(*c) : "to be chosen";
}

std::vector<CutRow> cut_rows(const BuildPlan& plan) {
  std::vector<CutRow> rows;
  for (const BuildModel& model : plan.models)
    for (const auto& c : model.list.conductors) rows.push_back(cut_row(model, c));
  return rows;
}
const Columns<CutRow>& cut_columns() {
  static const Columns<CutRow> columns{{"model", "model", &CutRow::model},
                                       {"vans", "vans", &CutRow::vans},
                                       {"label", "label", &CutRow::label},
                                       {"run", "run", &CutRow::run},
                                       {"pole", "pole", &CutRow::pole},
                                       {"conductor", "conductor", &CutRow::conductor},
                                       {"standard", "standard", &CutRow::standard},
                                       {"tinned", "tinned", &CutRow::tinned},
                                       {"insulation_C", "insulation", "°C", &CutRow::insulation},
                                       {"insulation_material", "of", &CutRow::material},
                                       {"colour", "colour", &CutRow::colour},
                                       {"length_m", "lies", "m", &CutRow::length},
                                       {"to_cut_m", "to cut", "m", &CutRow::to_cut},
                                       {"pieces", "pieces", &CutRow::pieces},
                                       {"cut_for", "cut for", &CutRow::cut_for},
                                       {"label_from", "where it begins", &CutRow::label_from},
                                       {"label_to", "at its other end", &CutRow::label_to},
                                       {"lands_from", "lands on", &CutRow::lands_from},
                                       {"lands_to", "and on", &CutRow::lands_to}};
  return columns;
}

std::vector<CableRow> cable_rows(const BuildPlan& plan, const range::BuildTotals& totals) {
  std::vector<CableRow> rows;
  for (const auto& c : totals.cables) {
    CableRow& row = rows.emplace_back();
    row.conductor = size_of(c.conductor);
    if (c.conductor) row.standard = c.conductor->series, row.tinned = c.conductor->tinned;
    row.insulation = c.insulation;
    row.material = material_word(c.material);
    row.colour = c.colour;
    row.pieces = c.number;
    row.to_cut = c.to_cut;
    if (plan.planned) row.a_day = c.to_cut / double(plan.days);
    row.copper = c.copper;
    row.needed_by = in_words(plan, c.uses);
  }
  return rows;
}
const Columns<CableRow>& cable_columns() {
  static const Columns<CableRow> columns{
      {"conductor", "conductor", &CableRow::conductor},
      {"standard", "standard", &CableRow::standard},
      {"tinned", "tinned", &CableRow::tinned},
      {"insulation_C", "insulation", "°C", &CableRow::insulation},
      {"insulation_material", "of", &CableRow::material},
      {"colour", "colour", &CableRow::colour},
      {"pieces", "pieces", &CableRow::pieces},
      {"to_cut_m", "to cut", "m", &CableRow::to_cut},
      {"to_cut_a_day_m", "a day", "m", &CableRow::a_day},
      {"copper_kg", "copper", "kg", &CableRow::copper},
      {"needed_by", "for", &CableRow::needed_by}};
  return columns;
}

std::vector<EndRow> end_rows(const BuildPlan& plan, const range::BuildTotals& totals,
                             Landing::On on) {
  std::vector<EndRow> rows;
  for (const auto& end : totals.ends) {
    if (end.on.on != on) continue;
    EndRow& row = rows.emplace_back();
    row.conductor = size_of(end.conductor);
    row.what = on == Landing::On::not_stated ? end.on.at : end.on.what;
    row.number = end.number;
    row.needed_by = in_words(plan, end.uses);
  }
  return rows;
}
Columns<EndRow> end_columns(std::string_view key, std::string_view title, std::string_view number) {
  return {{"conductor", "conductor", &EndRow::conductor},
          {key, title, &EndRow::what},
          {"number", number, &EndRow::number},
          {"needed_by", "for", &EndRow::needed_by}};
}

std::vector<PartRow> part_rows(const BuildPlan& plan, const std::vector<range::PartTotal>& parts) {
  std::vector<PartRow> rows;
  for (const auto& part : parts) {
    PartRow& row = rows.emplace_back();
    row.what = part.what;
    row.rating = part.rating;
    row.number = part.number;
    row.needed_by = in_words(plan, part.uses);
  }
  return rows;
}
const Columns<PartRow>& part_columns() {
  static const Columns<PartRow> columns{{"type", "type", &PartRow::what},
                                        {"rating_A", "rating", "A", &PartRow::rating},
                                        {"number", "number", &PartRow::number},
                                        {"needed_by", "for", &PartRow::needed_by}};
  return columns;
}

std::vector<StationRow> station_rows(const BuildPlan& plan) {
  using range::Task;
  constexpr std::string_view tasks[] = {"cut", "crimp", "fit", "join", "test"};
  std::vector<range::Looms> looms;
  for (const BuildModel& model : plan.models)
    looms.push_back(range::looms_of(model.of.design, model.list));
  std::vector<range::LoomModel> models;
  for (std::size_t i = 0; i < looms.size(); ++i) models.push_back({looms[i], plan.models[i].vans});
  std::vector<StationRow> rows;
  for (const range::StationTotal& t : range::stations_of(models)) {
    StationRow& row = rows.emplace_back();
    row.station = t.station;
    row.task = tasks[std::size_t(t.task)];
    const bool of_cable = t.task == Task::cut || t.task == Task::crimp;
    if (of_cable) row.conductor = size_of(t.conductor);
    row.what = t.what;
    row.number = t.number;
    if (t.task == Task::cut && t.number > t.without_length) row.to_cut = t.to_cut;
    row.without_length = t.without_length;
    row.die = t.die;
    row.strip = t.strip;
    row.torque = t.torque;
    row.crimped = t.task == Task::crimp;
    row.done_up = t.task == Task::fit && t.what.starts_with("nut ");
    row.needed_by = in_words(plan, t.uses);
  }
  return rows;
}

namespace {

/// "3.20 m, 2 pieces without a length"; of lugs how they are made up; of nuts how tight.
std::string how(const StationRow& r) {
  std::vector<std::string> texts;
  const auto stated = [&](const char* name, const auto& value, auto print_it) {
    texts.push_back(std::string(name) + " " + (value ? print_it(*value) : "not stated"));
  };
  if (r.to_cut) texts.push_back(print(Number(*r.to_cut), 4) + " in all");
  if (r.without_length > 0)
    texts.push_back(std::to_string(r.without_length) + " without a stated length");
  if (r.crimped) {
    stated("die", r.die, [](const std::string& die) { return die; });
    stated("strip", r.strip, [](Length strip) { return print(Number(strip)); });
  }
  if (r.done_up) stated("torque", r.torque, [](Torque t) { return print(Number(t)); });
  return listed(texts);
}

}  // namespace

const Columns<StationRow>& station_columns() {
  using Its = ColumnOf<StationRow>;
  static const Columns<StationRow> columns{
      {"station", "station", &StationRow::station},
      Its("task", "task", &StationRow::task).in(1),
      Its("conductor", "conductor", &StationRow::conductor).in(1),
      Its("what", "what", &StationRow::what).in(1),
      Its("number", "number", &StationRow::number).in(1),
      {"to_cut_m", "to cut", "m", &StationRow::to_cut},
      {"without_length", "without a length", &StationRow::without_length},
      {"die", "die", &StationRow::die},
      {"strip_mm", "strip", "mm", &StationRow::strip},
      {"torque_Nm", "torque", "N·m", &StationRow::torque},
      Its("how", "how", how).in(1),
      Its("needed_by", "for", &StationRow::needed_by).in(1)};
  return columns;
}

range::BuildTotals totals_of(const BuildPlan& plan) {
  std::vector<range::Model> models;
  for (const BuildModel& model : plan.models)
    models.push_back({model.list, model.of.design->name, model.vans});
  return range::totals_of(models);
}

std::vector<RowTable> lists_of(const BuildPlan& plan, const range::BuildTotals& totals) {
  const auto ends = [&](const char* name, const char* key, Landing::On on) {
    return row_table(name, "", end_columns(key, key, "number"), end_rows(plan, totals, on));
  };
  return {row_table("conductors", "", cut_columns(), cut_rows(plan)),
          row_table("cables", "", cable_columns(), cable_rows(plan, totals)),
          ends("lugs", "stud", Landing::On::stud),
          ends("stud_not_stated", "lands_on", Landing::On::not_stated),
          ends("without_lug", "lands_on", Landing::On::no_lug),
          row_table("devices", "", part_columns(), part_rows(plan, totals.devices)),
          row_table("inline", "", part_columns(), part_rows(plan, totals.items))};
}

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/sheets.hpp"

#include <algorithm>

#include "build_rows.hpp"
#include "housepower/page/csv.hpp"

namespace housepower::report {
namespace {

constexpr const char* box_to_tick = "[ ]";
constexpr unsigned of_one = 1, of_several = 2;  // models: then each row names its own
constexpr std::string_view titles[] = {"cutting list", "labels", "inspection", "work by station"};

TableBlock inspection_table(const BuildModel& model) {
  TableBlock table{model.of.design->name + ": what only a person can see",
                   {"seen", "item", "the design says", "source"},
                   {false, false, false, false},
                   {}};
  for (const auto& row : inspection_rows(model))
    table.rows.push_back({box_to_tick, row.item, row.inspected ? "inspected" : "", row.source});
  return table;
}

/// A table for each station, in their order.
void add_stations(Page& page, const BuildPlan& plan) {
  const auto rows = station_rows(plan);
  for (auto from = rows.begin(); from != rows.end();) {
    const auto to = std::find_if(
        from, rows.end(), [&](const StationRow& row) { return row.station != from->station; });
    page.blocks.emplace_back(table_of(from->station.value_or("Station not stated, or on the line"),
                                      station_columns().shown_in(of_one),
                                      std::vector<StationRow>(from, to)));
    from = to;
  }
}

}  // namespace

std::vector<SleeveRow> sleeve_rows(const BuildPlan& plan) {
  std::vector<SleeveRow> rows;
  for (const BuildModel& model : plan.models)
    for (const auto& c : model.list.conductors) {
      const std::string size = size_of(c.conductor);
      rows.push_back({model.of.design->name, c.label_from, size, model.vans});
      rows.push_back({model.of.design->name, c.label_to, size, model.vans});
      if (c.breaks.empty()) continue;
      rows.push_back({model.of.design->name, c.label, size, 2 * int(c.breaks.size()) * model.vans});
    }
  return rows;
}
const Columns<SleeveRow>& sleeve_columns() {
  using Its = ColumnOf<SleeveRow>;
  static const Columns<SleeveRow> columns{
      Its("text", "sleeve", &SleeveRow::text).in(of_one | of_several),
      Its("conductor", "conductor", &SleeveRow::conductor).in(of_one | of_several),
      Its("number", "number", &SleeveRow::number).in(of_one | of_several),
      Its("model", "model", &SleeveRow::model).in(of_several)};
  return columns;
}

std::vector<InspectionRow> inspection_rows(const BuildModel& model) {
  const auto& d = model.of.design;
  std::vector<InspectionRow> rows;
  for (const auto& one : d->profile->inspection) {
    const bool ticked =
        std::find(d->inspected.begin(), d->inspected.end(), one.item) != d->inspected.end();
    rows.push_back({one.item, ticked, source_line(one.source), d->name});
  }
  return rows;
}
const Columns<InspectionRow>& inspection_columns() {
  static const Columns<InspectionRow> columns{{"item", "item", &InspectionRow::item},
                                              {"inspected", "inspected", &InspectionRow::inspected},
                                              {"source", "source", &InspectionRow::source}};
  return columns;
}

Page sheet_page(const BuildPlan& plan, Sheet sheet) {
  Page page{title_of(plan, titles[std::size_t(sheet)]), {}};
  for (const BuildModel& model : plan.models) {
    const std::string name = plan.planned ? model.of.design->name + ". " : "";
    if (sheet == Sheet::inspection) page.blocks.emplace_back(inspection_table(model));
    else page.blocks.emplace_back(Paragraph{name + standing_of(model)});
  }
  if (sheet == Sheet::cutting) page.blocks.emplace_back(cutting_table(plan, cut_rows(plan)));
  if (sheet == Sheet::stations) add_stations(page, plan);
  if (sheet == Sheet::labels) {
    const unsigned shown = plan.models.size() > 1 ? of_several : of_one;
    page.blocks.emplace_back(
        table_of("Sleeves to print", sleeve_columns().shown_in(shown), sleeve_rows(plan)));
  }
  return page;
}

std::string sheet_csv(const BuildPlan& plan, Sheet sheet) {
  if (sheet == Sheet::cutting) return csv(cut_columns(), cut_rows(plan));
  if (sheet == Sheet::labels) return csv(sleeve_columns(), sleeve_rows(plan));
  if (sheet == Sheet::stations) return csv(station_columns(), station_rows(plan));
  Columns<InspectionRow> columns = inspection_columns();
  columns += {{"model", "model", &InspectionRow::model}};
  std::vector<InspectionRow> rows;
  for (const BuildModel& model : plan.models)
    for (auto& row : inspection_rows(model)) rows.push_back(std::move(row));
  return csv(columns, rows);
}

}  // namespace housepower::report

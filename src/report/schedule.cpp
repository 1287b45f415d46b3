// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/schedule.hpp"

#include <algorithm>
#include <cmath>

#include "build_rows.hpp"
#include "finding_rows.hpp"
#include "housepower/page/csv.hpp"
#include "housepower/version.hpp"
#include "pieces.hpp"
#include "wiring_rows.hpp"

namespace housepower::report {
namespace {

using Keys = std::initializer_list<std::string_view>;

constexpr Schedule all_of_them[] = {Schedule::cables, Schedule::devices, Schedule::labels,
                                    Schedule::findings, Schedule::sources};

/// The judged case in which a run loses most; nothing where none sends a current through it.
const wiring::CaseResult* worst_case_of(const wiring::Assessment& w, std::size_t run) {
  constexpr double nothing = 1e-9;  // A: the last digits of a solution
  const wiring::CaseResult* worst = nullptr;
  for (const auto& in : w.cases) {
    if (!in.load_case.judged || !in.solved()) continue;
    const auto& at = in.runs[run];
    if (std::abs(at.current / ampere) < nothing && std::abs(at.back / ampere) < nothing) continue;
    if (!worst || at.drop > worst->runs[run].drop) worst = &in;
  }
  return worst;
}

std::vector<RunRow> schedule_rows(const CheckedDesign& c) {
  const auto& w = c.checked.wiring;
  const bool unsolved = std::any_of(w.cases.begin(), w.cases.end(), [](const auto& in) {
    return in.load_case.judged && !in.solved();
  });
  std::vector<RunRow> rows;
  for (std::size_t i = 0; i < c.design->runs.size(); ++i) {
    rows.push_back(run_row(c.design, w, i));
    RunRow& row = rows.back();
    const auto note = [&](const char* text) {
      row.note += (row.note.empty() ? "" : "; ") + std::string(text);
    };
    if (const auto* in = worst_case_of(w, i)) add_case(row, *in, i);
    else note(unsolved ? "no case with an operating point loads it" : "no judged case loads it");
    if (unsolved) note("a judged case without an operating point is not counted");
  }
  return rows;
}

RowTable schedule(const BuildModel& model, Schedule which) {
  const CheckedDesign& c = model.of;
  switch (which) {
  case Schedule::cables:
    return row_table("cables", "Cable schedule", schedule_columns(), schedule_rows(c));
  case Schedule::devices:
    return row_table("devices", "Device schedule", device_schedule_columns(),
                     device_rows(c.design, c.checked.wiring));
  case Schedule::labels:
    return row_table("labels", "Labels", sleeve_columns(), sleeve_rows({{model}}));
  case Schedule::findings:
    return row_table("findings", "Findings", finding_columns(), finding_rows(c.checked.findings));
  case Schedule::sources: break;
  }
  return row_table("sources", "Sources", source_columns(), source_rows(c.checked.findings));
}

/// A wide table as several, each as wide as a page takes.
void add_parts(Page& page, const RowTable& table,
               std::initializer_list<std::pair<const char*, Keys>> parts) {
  for (const auto& [title, keys] : parts)
    page.blocks.emplace_back(table_of(title, table, {keys.begin(), keys.size()}));
}

void add_cables(Page& page, const RowTable& table) {
  add_parts(
      page, table,
      {{"Cable schedule",
        {"label", "run", "from", "to", "conductor", "length_m", "return", "laid_as", "ambient_C",
         "circuits_together"}},
       {"What they may carry",
        {"label", "design_current_A", "design_case", "ampacity_A", "ampacity_table", "ampacity_row",
         "ambient_factor", "terminal_factor", "grouping_factor", "laid_factor"}},
       {"What they lose, each where it loses most",
        {"label", "drop_case", "current_A", "drop_V", "drop_share", "conductor_temperature_C"}},
       {"Their devices",
        {"label", "conductors_per_pole", "insulation_material", "insulation_C", "devices",
         "note"}}});
}

void add_devices(Page& page, const RowTable& table) {
  add_parts(
      page, table,
      {{"Device schedule",
        {"label", "run", "end", "distance_m", "type", "rating_A", "prospective_max_A",
         "breaking_capacity_A"}},
       {"What they open for, and let through",
        {"label", "end", "prospective_min_A", "clearing_s", "let_through_A2s", "withstand_A2s"}}});
}

void add_table(Page& page, const BuildModel& model, Schedule which) {
  const RowTable table = schedule(model, which);
  if (which == Schedule::cables) return add_cables(page, table);
  if (which == Schedule::devices) return add_devices(page, table);
  if (which == Schedule::findings) {
    page.blocks.emplace_back(judgements(model.of.checked.findings));
    return;
  }
  page.blocks.emplace_back(
      table_block(table.title, table.columns, table.size, table.row, table.rows.get()));
}

}  // namespace

std::vector<Block> schedule_blocks(const BuildModel& model, Schedule which) {
  Page page;
  add_table(page, model, which);
  return std::move(page.blocks);
}

Page schedule_page(const BuildModel& model, std::optional<Schedule> which) {
  Page page{model.of.design->name + ": schedules", {}};
  const Paragraph standing{standing_of(model)};
  page.blocks.emplace_back(standing);
  if (which) {
    add_table(page, model, *which);
    return page;
  }
  add_table(page, model, Schedule::cables);
  add_table(page, model, Schedule::devices);
  const Paragraph others{
      "Also: --sheet labels, findings or sources; all of them as a spreadsheet with -o FILE.xlsx."};
  page.blocks.emplace_back(others);
  return page;
}

std::string schedule_csv(const BuildModel& model, Schedule which) {
  return csv(schedule(model, which));
}

std::string schedule_json(const BuildModel& model, std::optional<Schedule> which) {
  Json json = head();
  json["design"] = design_object(model.of);
  add_verdicts(json, model.of.checked.verdicts);
  for (const Schedule one : all_of_them) {
    if (which && *which != one) continue;
    const RowTable table = schedule(model, one);
    json[table.name] = rows_json(table);
  }
  return dump(json);
}

Workbook schedule_workbook(const BuildModel& model) {
  const CheckedDesign& c = model.of;
  Workbook book;
  book.title = c.design->name;
  book.facts = {{"design", c.design->name},
                {"file", c.design->file},
                {"inputs", c.inputs_digest},
                {"verdict", verdicts_of(c.checked)},
                {"standing", standing_of(model)},
                {"lengths", "one way; both poles alike unless a return is named"},
                {"currents", "positive from where a run begins to where it ends"},
                {"losses",
                 "of both conductors, joints and devices, in the judged case in which the "
                 "run loses most"},
                {"made by", "housepower " + std::string(version())},
                {"safety", std::string(safety_note())}};
  for (const Schedule one : all_of_them) book.sheets.push_back(schedule(model, one));
  return book;
}

}  // namespace housepower::report

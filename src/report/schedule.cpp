// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/schedule.hpp"

#include <algorithm>
#include <cmath>

#include "answer_shapes.hpp"
#include "build_rows.hpp"
#include "finding_rows.hpp"
#include "housepower/page/csv.hpp"
#include "housepower/version.hpp"
#include "pieces.hpp"
#include "wiring_rows.hpp"

namespace housepower::report {
namespace {

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

std::vector<RunAt> schedule_rows(const CheckedDesign& c) {
  const auto& w = c.checked.wiring;
  const bool unsolved = std::any_of(w.cases.begin(), w.cases.end(), [](const auto& in) {
    return in.load_case.judged && !in.solved();
  });
  std::vector<RunAt> rows;
  for (std::size_t i = 0; i < c.design->runs.size(); ++i) {
    const auto* in = worst_case_of(w, i);
    const char* idle = in         ? ""
                       : unsolved ? "no case with an operating point loads it; "
                                  : "no judged case loads it";
    rows.push_back({c.design, w, i, in, idle});
    if (unsolved) rows.back().remark += "a judged case without an operating point is not counted";
  }
  return rows;
}

/// On paper only what is open: who checks the van reads that; each pass is in the file.
RowTable finding_table(const std::vector<checks::Finding>& findings) {
  RowTable table = row_table("findings", "Findings", finding_columns(), findings);
  const auto passes = std::count_if(findings.begin(), findings.end(), [](const auto& f) {
    return f.verdict == checks::Verdict::pass;
  });
  if (passes == 0) return table;
  table.on_paper = findings.size() - std::size_t(passes);
  table.off_paper = std::to_string(passes) + " that pass";
  return table;
}

RowTable schedule(const BuildModel& model, Schedule which) {
  const CheckedDesign& c = model.of;
  switch (which) {
  case Schedule::cables:
    return row_table("cables", "Cable schedule", schedule_columns(), schedule_rows(c));
  case Schedule::devices:
    return row_table("devices", "Device schedule", device_columns(),
                     devices_at(c.design, c.checked.wiring));
  case Schedule::labels:
    return row_table("labels", "Labels", sleeve_columns(), sleeve_rows({{model}}));
  case Schedule::findings: return finding_table(c.checked.findings);
  case Schedule::sources: break;
  }
  return row_table("sources", "Sources", source_columns(), source_rows(c.checked.findings));
}

/// A wide table as several, each as wide as a page takes.
void add_parts(Page& page, const RowTable& table,
               std::initializer_list<std::pair<const char*, unsigned>> parts) {
  for (const auto& [title, shown_in] : parts)
    page.blocks.emplace_back(table_of(title, table, shown_in));
}

void add_cables(Page& page, const RowTable& table) {
  add_parts(page, table,
            {{"Cable schedule", runs_in::laid},
             {"What they may carry", runs_in::borne},
             {"What they lose, each where it loses most", runs_in::lost},
             {"Their devices", runs_in::guarded}});
}

void add_devices(Page& page, const RowTable& table) {
  add_parts(page, table,
            {{"Device schedule", devices_in::schedule},
             {"What they open for, and let through", devices_in::schedule_clearing}});
}

void add_table(Page& page, const BuildModel& model, Schedule which) {
  const RowTable table = schedule(model, which);
  if (which == Schedule::cables) return add_cables(page, table);
  if (which == Schedule::devices) return add_devices(page, table);
  if (which == Schedule::findings) {
    page.blocks.emplace_back(judgements(model.of.checked.findings));
    return;
  }
  page.blocks.emplace_back(table_of(table.title, table));
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

JsonKeys schedule_answer() {
  const auto rows = [](const auto& columns) { return is::rows(columns); };
  return JsonKeys{{"design", is::object(design_keys())}} + verdict_keys() +
         sometimes({{"cables", rows(schedule_columns())},
                    {"devices", rows(device_columns())},
                    {"labels", rows(sleeve_columns())},
                    {"findings", rows(finding_columns())},
                    {"sources", rows(source_columns())}});
}

}  // namespace housepower::report

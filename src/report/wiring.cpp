// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <iterator>

#include "charging.hpp"
#include "pieces.hpp"
#include "voltage_way.hpp"
#include "wiring_rows.hpp"

namespace housepower::report {
namespace {

using wiring::CaseResult;

std::vector<RunRow> run_rows_in_case(const design::Design& design, const wiring::Assessment& w,
                                     const CaseResult& in) {
  std::vector<RunRow> rows;
  for (std::size_t i = 0; i < in.runs.size(); ++i) {
    rows.push_back(run_row(design, w, i));
    add_case(rows.back(), in, i);
  }
  return rows;
}

const std::vector<Column>& consumer_drop_columns() {
  using wiring::ConsumerInCase;
  static const std::vector<Column> columns{
      column<&ConsumerInCase::name>("name", "consumer"),
      column<&ConsumerInCase::voltage>("voltage_V", "voltage", "V"),
      column<&ConsumerInCase::path_drop>("path_drop_V", "lost on the way", "V"),
      column<&ConsumerInCase::path_share>("path_drop_share", "share")};
  return columns;
}

const std::vector<Column>& battery_columns() {
  using wiring::BatteryInCase;
  static const std::vector<Column> columns{
      column<&BatteryInCase::number>("index", "battery"),
      column<&BatteryInCase::current>("current_A", "current", "A"),
      column<&BatteryInCase::share>("share", "share")};
  return columns;
}

struct ShareRow {
  int number = 1;
  Current at_start{}, at_worst{};
  Ratio share{}, charge_at_worst{};
  std::optional<Current> if_one_opens;
};
std::vector<ShareRow> share_rows(const wiring::Assessment& w) {
  std::vector<ShareRow> rows;
  if (!w.sharing) return rows;
  const auto& start = w.sharing->points.front();
  const auto& worst = w.sharing->points[w.sharing->worst];
  for (std::size_t i = 0; i < start.batteries.size(); ++i) {
    const auto &first = start.batteries[i], &later = worst.batteries[i];
    ShareRow& row = rows.emplace_back();
    row.number = first.number;
    row.at_start = first.current;
    row.share = first.share;
    row.at_worst = later.current;
    row.charge_at_worst = later.charge;
    for (const auto& lost : w.loses_one)
      for (const auto& other : lost.others)
        if (!lost.at_start && other.number == first.number) row.if_one_opens = other.current;
  }
  return rows;
}
const std::vector<Column>& share_columns() {
  static const std::vector<Column> columns{
      column<&ShareRow::number>("index", "battery"),
      column<&ShareRow::at_start>("start_A", "full", "A"),
      column<&ShareRow::share>("start_share", "share"),
      column<&ShareRow::at_worst>("worst_A", "where the busiest gives most", "A"),
      column<&ShareRow::charge_at_worst>("worst_charge", "its charge then"),
      column<&ShareRow::if_one_opens>("one_open_A", "if one opens", "A")};
  return columns;
}
Json sharing_object(const wiring::Assessment& w) {
  if (!w.sharing) return nullptr;
  const auto& worst = w.sharing->points[w.sharing->worst];
  Json json{{"case", w.sharing->in_case},
            {"ended_by", w.sharing->ended_by},
            {"duration_s", json_of(w.sharing->points.back().after)},
            {"worst_after_s", json_of(worst.after)},
            {"worst_drawn", json_of(worst.drawn)},
            {"busiest", w.sharing->busiest}};
  json["batteries"] = rows_json(share_columns(), share_rows(w));
  json["loses_one"] = Json::array();
  for (const auto& lost : w.loses_one) {
    const bool known = !lost.others.empty();  // none: nothing balances, so there are no figures
    json["loses_one"].push_back(
        {{"case", lost.in_case},
         {"battery", lost.lost},
         {"before_V", json_of(lost.before)},
         {"after_V", known ? json_of(lost.after) : Json(nullptr)},
         {"busiest_A", known ? json_of(wiring::busiest_of(lost)) : Json(nullptr)},
         {"collapsed", lost.collapsed},
         {"starved", lost.starved}});
  }
  return json;
}

struct FaultRow {
  std::string name;
  std::optional<Current> largest, smallest;
  std::optional<std::string> fed_by;
};
std::vector<FaultRow> fault_rows(const design::Design& design, const wiring::Assessment& w) {
  std::vector<FaultRow> rows;
  for (std::size_t i = 0; i < w.faults.size(); ++i) {
    FaultRow& row = rows.emplace_back();
    row.name = design->posts[i].name;
    row.largest = w.faults[i].largest;
    if (const auto& smallest = w.faults[i].smallest)
      row.smallest = smallest->value, row.fed_by = smallest->source;
  }
  return rows;
}
const std::vector<Column>& fault_columns() {
  static const std::vector<Column> columns{
      column<&FaultRow::name>("name", "place"),
      column<&FaultRow::largest>("prospective_max_A", "largest fault", "A"),
      column<&FaultRow::smallest>("prospective_min_A", "smallest fault", "A"),
      column<&FaultRow::fed_by>("prospective_min_from", "fed alone by")};
  return columns;
}

Json case_object(const design::Design& design, const wiring::Assessment& w, const CaseResult& in) {
  Json json{{"name", in.load_case.name},
            {"judged", in.load_case.judged},
            {"nodes", Json::array()},
            {"runs", Json::array()}};
  for (std::size_t i = 0; i < in.post.size(); ++i)
    json["nodes"].push_back({{"name", design->posts[i].name}, {"voltage_V", json_of(in.post[i])}});
  for (const RunRow& row : run_rows_in_case(design, w, in)) {
    Json run = row_json(run_columns(), &row);
    run["factors"] = row_json(factor_columns(), &row);
    json["runs"].push_back(std::move(run));
  }
  json["batteries"] = rows_json(battery_columns(), in.batteries);
  json["appliances"] =  // without an operating point they have no voltage, not one of zero
      in.solved() ? rows_json(consumer_drop_columns(), in.consumers) : Json::array();
  json["bank_current_A"] = in.solved() ? json_of(in.bank_current) : Json(nullptr);
  json["converged"] = in.solved();
  json["collapse"] = nullptr;
  if (const auto* c = std::get_if<wiring::Collapse>(&in.solution))
    json["collapse"] = {
        {"name", in.collapsed}, {"asked_W", json_of(c->asked)}, {"most_W", json_of(c->most)}};
  return json;
}

/// The judged case in which a consumer gets least, for one table of all consumers.
const CaseResult* worst_case(const wiring::Assessment& w) {
  const CaseResult* worst = nullptr;
  for (const auto& in : w.cases)
    if (in.load_case.judged && in.solved() && (!worst || in.bank_current > worst->bank_current))
      worst = &in;
  return worst;
}

bool leaves_open(const wiring::RunFacts& run) {
  return run.outgoing.chosen || (run.back && run.back->chosen);
}

}  // namespace

Json wiring_object(const design::Design& design, const wiring::Assessment& w) {
  Json json{{"cases", Json::array()}};
  for (const auto& in : w.cases) json["cases"].push_back(case_object(design, w, in));
  json["devices"] = rows_json(device_columns(), device_rows(design, w));
  json["faults"] = rows_json(fault_columns(), fault_rows(design, w));
  json["sharing"] = sharing_object(w);
  json["charging"] = charging_object(design, w);
  json["inverters"] = inverters_array(design, w);
  return json;
}

std::string wiring_json(const CheckedDesign& c, const Sized& sized) {
  Json json = head();
  json["design"] = design_object(c);
  const Json answer = wiring_object(c.design, c.checked.wiring);
  json["wiring"] = answer;
  json.update(answer);  // the same keys at the top, for who asks for wiring alone
  json.update(sizing_object(sized));
  return dump(json);
}

std::vector<Block> beside_runs(const design::Design& design, const wiring::Assessment& w) {
  Page page;
  const auto add = [&](auto block) { page.blocks.emplace_back(std::move(block)); };
  if (const CaseResult* in = worst_case(w)) {
    if (design->bank) {
      Paragraph bank{"Case " + quoted_once(in->load_case.name) + ": the bank gives "};
      bank.text += print(in->bank_current) + " at " + print(in->source, 4) +
                   ". Other cases: `wiring --format json`.";
      add(std::move(bank));
    }
    add(table_of("Consumers", consumer_drop_columns(), in->consumers));
    if (in->batteries.size() > 1) add(table_of("Batteries", battery_columns(), in->batteries));
  }
  if (w.sharing) {
    const std::string title = "Batteries over a discharge, case " +
                              quoted_once(w.sharing->in_case) + ", until " + w.sharing->ended_by;
    add(table_of(title, share_columns(), share_rows(w)));
  }
  add_charging(page, design, w);
  return std::move(page.blocks);
}

Page wiring_page(const design::Design& design, const wiring::Assessment& w) {
  Page page{"Wiring", beside_runs(design, w)};
  // Runs and devices after the sentence on the bank, before all else.
  std::vector<Block> first;
  if (const CaseResult* in = worst_case(w)) {
    const auto rows = run_rows_in_case(design, w, *in);
    const std::vector<Column> shown(run_columns().begin(), run_columns().begin() + 9);
    first.emplace_back(table_of("Runs", shown, rows));
    if (std::any_of(w.runs.begin(), w.runs.end(), leaves_open))
      first.emplace_back(Paragraph{"(open): the design states no conductor; the figures are with "
                                   "the least that bears the current. What passes every rule is "
                                   "another question: `wiring` chooses that."});
  }
  if (!w.devices.empty()) {
    const auto& all = device_columns();
    const auto rows = device_rows(design, w);
    const std::vector<Column> at_most(all.begin(), all.begin() + 6);
    std::vector<Column> at_least(all.begin(), all.begin() + 2);
    at_least.insert(at_least.end(), all.begin() + 6, all.end());
    first.emplace_back(table_of("Devices", at_most, rows));
    first.emplace_back(table_of("What they open for, and let through", at_least, rows));
  }
  if (auto way = voltage_way(design, w)) first.emplace_back(*std::move(way));
  const bool sentence = !page.blocks.empty() && std::holds_alternative<Paragraph>(page.blocks[0]);
  page.blocks.insert(page.blocks.begin() + (sentence ? 1 : 0),
                     std::make_move_iterator(first.begin()), std::make_move_iterator(first.end()));
  return page;
}

Page wiring_page(const CheckedDesign& c, const Sized& sized) {
  Page page = wiring_page(c.design, c.checked.wiring);
  page.blocks.emplace_back(
      table_of("Faults", fault_columns(), fault_rows(c.design, c.checked.wiring)));
  append_sizing(page, sized);
  return page;
}

}  // namespace housepower::report

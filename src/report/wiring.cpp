// SPDX-License-Identifier: Apache-2.0
#include "housepower/report/wiring.hpp"

#include <algorithm>
#include <map>

#include "answer_shapes.hpp"
#include "charging.hpp"
#include "housepower/units/phrases.hpp"
#include "pieces.hpp"
#include "voltage_way.hpp"
#include "wiring_rows.hpp"

namespace housepower::report {
namespace {

using checks::Finding;
using wiring::BatteryInCase;
using wiring::CaseResult;
using wiring::ConsumerInCase;

std::vector<RunAt> runs_in_case(const design::Design& design, const wiring::Assessment& w,
                                const CaseResult& in) {
  std::vector<RunAt> rows;
  for (std::size_t i = 0; i < in.runs.size(); ++i) rows.push_back({design, w, i, &in});
  return rows;
}

const Columns<ConsumerInCase>& consumer_drop_columns() {
  static const Columns<ConsumerInCase> columns{
      {"name", "consumer", &ConsumerInCase::name},
      {"voltage_V", "voltage", "V", &ConsumerInCase::voltage},
      {"path_drop_V", "voltage drop", "V", &ConsumerInCase::path_drop},
      {"path_drop_share", "share", &ConsumerInCase::path_share}};
  return columns;
}

const Columns<BatteryInCase>& battery_columns() {
  static const Columns<BatteryInCase> columns{
      {"index", "battery", &BatteryInCase::number},
      {"current_A", "current", "A", &BatteryInCase::current},
      {"share", "share", &BatteryInCase::share}};
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
const Columns<ShareRow>& share_columns() {
  static const Columns<ShareRow> columns{
      {"index", "battery", &ShareRow::number},
      {"start_A", "full", "A", &ShareRow::at_start},
      {"start_share", "share", &ShareRow::share},
      {"worst_A", "where the busiest gives most", "A", &ShareRow::at_worst},
      {"worst_charge", "its charge then", &ShareRow::charge_at_worst},
      {"one_open_A", "if one opens", "A", &ShareRow::if_one_opens}};
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

struct FaultAt {
  const std::string& name;
  const wiring::PostFaults& faults;
};
std::vector<FaultAt> faults_at(const design::Design& design, const wiring::Assessment& w) {
  std::vector<FaultAt> all;
  for (std::size_t i = 0; i < w.faults.size(); ++i)
    all.push_back({design->posts[i].name, w.faults[i]});
  return all;
}
template <auto Member> auto of_smallest(const FaultAt& at) {
  const auto& smallest = at.faults.smallest;
  return smallest ? std::optional((*smallest).*Member) : std::nullopt;
}
const Columns<FaultAt>& fault_columns() {
  using wiring::SmallestFault;
  static const Columns<FaultAt> columns{
      {"name", "place", [](const FaultAt& at) { return at.name; }},
      {"prospective_max_A", "largest fault", "A",
       [](const FaultAt& at) { return at.faults.largest; }},
      {"prospective_min_A", "smallest fault", "A", of_smallest<&SmallestFault::value>},
      {"prospective_min_from", "fed alone by", of_smallest<&SmallestFault::source>}};
  return columns;
}

Json case_object(const design::Design& design, const wiring::Assessment& w, const CaseResult& in) {
  Json json{{"name", in.load_case.name},
            {"judged", in.load_case.judged},
            {"nodes", Json::array()},
            {"runs", Json::array()}};
  for (std::size_t i = 0; i < in.post.size(); ++i)
    json["nodes"].push_back({{"name", design->posts[i].name}, {"voltage_V", json_of(in.post[i])}});
  for (const RunAt& at : runs_in_case(design, w, in)) {
    Json run = row_json(run_columns(), at);
    run["factors"] = row_json(factor_columns(), at);
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

bool leaves_open(const wiring::RunFacts& run) {
  return run.outgoing.chosen || (run.back && run.back->chosen);
}

}  // namespace

Json wiring_object(const design::Design& design, const wiring::Assessment& w) {
  Json json{{"cases", Json::array()}};
  for (const auto& in : w.cases) json["cases"].push_back(case_object(design, w, in));
  json["devices"] = rows_json(device_columns().shown_in(devices_in::json), devices_at(design, w));
  json["faults"] = rows_json(fault_columns(), faults_at(design, w));
  json["sharing"] = sharing_object(w);
  json["charging"] = charging_object(design, w);
  json["inverters"] = inverters_array(design, w);
  return json;
}

std::string wiring_json(const answers::WiringReport& r, bool quick) {
  Json json = head();
  json["design"] = design_object(r.checked);
  const auto& w = r.checked.checked.wiring;
  const Json answer = wiring_object(r.checked.design, w);
  json["wiring"] = answer;
  json.update(answer);  // the same keys at the top, for who asks for wiring alone
  json.update(sizing_object(r));
  const CaseResult* heaviest = answers::heaviest_case(w);
  json["design_verdicts"] = verdicts_of_design(r.checked.checked);
  json["quick"] = quick;
  json["heaviest_case"] = heaviest ? Json(heaviest->load_case.name) : Json();
  return dump(json);
}

namespace {

/// "Case "dinner", the heaviest load: the bank gives 70.3 A at 26.17 V."
std::string case_in_words(const design::Design& design, const wiring::Assessment& w,
                          const CaseResult& in) {
  std::string text = "Case " + quoted_once(in.load_case.name);
  if (&in == answers::heaviest_case(w)) text += ", the heaviest that is judged";
  if (!in.solved()) return text + ": no operating point, so no currents and no drops.";
  if (!design->bank) return text + ".";
  const bool charged = in.bank_current < Current{};
  return text + (charged ? ": the bank takes " : ": the bank gives ") +
         print(charged ? Current(-in.bank_current) : in.bank_current) + " at " +
         print(in.source, 4) + ".";
}

std::vector<std::string> names_of_others(const wiring::Assessment& w, const CaseResult* shown,
                                         bool solved) {
  std::vector<std::string> names;
  for (const auto& in : w.cases)
    if (in.load_case.judged && &in != shown && in.solved() == solved)
      names.push_back(quoted_once(in.load_case.name));
  return names;
}

/// More of them are counted.
constexpr std::size_t most_cases_named = 4;

std::string other_cases(const wiring::Assessment& w, const CaseResult* shown) {
  const auto names = names_of_others(w, shown, true);
  if (names.empty()) return "";
  const std::size_t named = std::min(names.size(), most_cases_named);
  const std::string text = " Others, by --case: " + listed(std::span(names).first(named));
  return text +
         (named < names.size() ? " and " + std::to_string(names.size() - named) + " more." : ".");
}

/// The case, what the others are called, and which have no operating point: never passed over.
void append_case(std::vector<Block>& blocks, const design::Design& design,
                 const wiring::Assessment& w, const CaseResult* in) {
  const auto collapsed = names_of_others(w, in, false);
  if (!collapsed.empty())
    blocks.emplace_back(Paragraph{
        collapsed.size() == 1 ? "No operating point in case " + listed(collapsed) +
                                    ": its cable cannot carry what it draws."
                              : "No operating point in the cases " + listed(collapsed, " and ") +
                                    ": their cables cannot carry what they draw."});
  if (in) blocks.emplace_back(Paragraph{case_in_words(design, w, *in) + other_cases(w, in)});
}

/// ", everything-on, but for "sun" charging: sun".
std::string when_most_flows(const design::Design& design, const wiring::Assessment& w) {
  if (w.cases.empty()) return "";
  const std::string& usual = w.cases.front().load_case.name;
  std::map<std::string, std::vector<std::string>> others;
  for (std::size_t i = 0; i < w.runs.size(); ++i)
    if (const auto& in = w.runs[i].current.in_case; !in.empty() && in != usual)
      others[in].push_back(quoted(design->runs[i].name));
  std::string text = ", " + usual;
  for (const auto& [in, runs] : others) text += "; for " + listed(runs) + ", " + in;
  return text;
}

void append_runs(Page& page, const design::Design& design, const wiring::Assessment& w,
                 const CaseResult* in) {
  std::vector<RunAt> rows;
  for (std::size_t i = 0; i < w.runs.size(); ++i)
    rows.push_back({design, w, i, in && in->solved() ? in : nullptr});
  page.blocks.emplace_back(table_of("Runs", governing_columns(), rows));
  page.blocks.emplace_back(Paragraph{
      "I_B: the largest steady current" + when_most_flows(design, w) +
      ". I_n: the run's device. I_z: what its conductor is rated for as installed, and the factor "
      "that lowers it most. Drop: out and back, in the case named above, not at I_B."});
  if (std::any_of(w.runs.begin(), w.runs.end(), leaves_open))
    page.blocks.emplace_back(Paragraph{
        "(open): the design states no conductor; the figures are for the smallest size that "
        "suffices for the run alone. A size that passes every rule may be larger: `wiring` chooses "
        "it."});
}

/// With the drop that its rule allows it, where the rule was asked.
struct AllowedDrop {
  const ConsumerInCase& at;
  std::optional<Voltage> allowed;
};
std::vector<AllowedDrop> allowed_drops(const CaseResult& in, std::span<const Finding> findings) {
  std::vector<AllowedDrop> rows;
  for (const auto& at : in.consumers) {
    const auto of_it = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) {
      return checks::is_about(f, checks::About::drop) && f.subject == at.subject && f.limit;
    });
    const bool known = of_it != findings.end();
    rows.push_back(
        {at, known ? std::optional(Voltage::from_value(of_it->limit->si)) : std::nullopt});
  }
  return rows;
}
const Columns<AllowedDrop>& allowed_drop_columns() {
  static const Columns<AllowedDrop> columns{
      {"name", "consumer", [](const AllowedDrop& d) { return d.at.name; }},
      {"voltage_V", "voltage", "V", [](const AllowedDrop& d) { return d.at.voltage; }},
      {"path_drop_V", "voltage drop", "V", [](const AllowedDrop& d) { return d.at.path_drop; }},
      {"path_drop_share", "share", [](const AllowedDrop& d) { return d.at.path_share; }},
      {"allowed_V", "allowed", "V", [](const AllowedDrop& d) { return d.allowed; }}};
  return columns;
}

void append_consumers(Page& page, const CaseResult* in, std::span<const Finding> findings) {
  if (!in || !in->solved() || in->consumers.empty()) return;
  const auto rows = allowed_drops(*in, findings);
  const bool none = std::all_of(rows.begin(), rows.end(), [](const auto& r) { return !r.allowed; });
  if (none) page.blocks.emplace_back(table_of("Consumers", consumer_drop_columns(), in->consumers));
  else page.blocks.emplace_back(table_of("Consumers", allowed_drop_columns(), rows));
}

void append_devices(Page& page, const design::Design& design, const wiring::Assessment& w) {
  if (w.devices.empty()) return;
  const auto devices = devices_at(design, w);
  page.blocks.emplace_back(
      table_of("Devices", device_columns().shown_in(devices_in::breaking), devices));
  page.blocks.emplace_back(table_of("What they open for, and let through",
                                    device_columns().shown_in(devices_in::clearing), devices));
}

/// Batteries and what charges them.
void append_bank(Page& page, const design::Design& design, const wiring::Assessment& w,
                 const CaseResult* in) {
  if (in && in->batteries.size() > 1)
    page.blocks.emplace_back(table_of("Batteries", battery_columns(), in->batteries));
  if (w.sharing) {
    const std::string title = "Batteries over a discharge, case " +
                              quoted_once(w.sharing->in_case) + ", until " + w.sharing->ended_by;
    page.blocks.emplace_back(table_of(title, share_columns(), share_rows(w)));
  }
  add_charging(page, design, w);
}

Page runs_page(const design::Design& design, const wiring::Assessment& w, const CaseResult* in,
               std::span<const Finding> findings = {}) {
  Page page{"Wiring", {}};
  append_case(page.blocks, design, w, in);
  append_runs(page, design, w, in);
  append_consumers(page, in, findings);
  return page;
}

void append_rest(Page& page, const design::Design& design, const wiring::Assessment& w,
                 const CaseResult* in) {
  if (auto way = voltage_way(design, w, in)) page.blocks.emplace_back(*std::move(way));
  append_devices(page, design, w);
  append_bank(page, design, w, in);
}

}  // namespace

std::vector<Block> beside_runs(const design::Design& design, const wiring::Assessment& w) {
  Page page;
  const CaseResult* in = answers::heaviest_case(w);
  if (in && design->bank) append_case(page.blocks, design, w, in);
  append_consumers(page, in, {});
  append_bank(page, design, w, in);
  return std::move(page.blocks);
}

Page wiring_page(const design::Design& design, const wiring::Assessment& w) {
  const CaseResult* in = answers::heaviest_case(w);
  Page page = runs_page(design, w, in);
  append_rest(page, design, w, in);
  return page;
}

Page wiring_page(const answers::WiringReport& r, const CaseResult* in, bool full) {
  const auto& w = r.checked.checked.wiring;
  Page page = runs_page(r.checked.design, w, in, r.checked.checked.findings);
  if (auto fails = said_of_fails(r.checked.checked))
    page.blocks.insert(page.blocks.begin(), *std::move(fails));
  append_choices(page, r.chosen);
  if (!full) {
    page.blocks.emplace_back(Paragraph{
        "Devices and faults, batteries, charging and headroom: housepower wiring --full."});
    return page;
  }
  append_rest(page, r.checked.design, w, in);
  page.blocks.emplace_back(table_of("Faults", fault_columns(), faults_at(r.checked.design, w)));
  append_headroom(page, r);
  return page;
}

namespace {

Json case_shape() {
  const Json node = is::object({{"name", is::text()}, {"voltage_V", is::number()}});
  const Json run = is::object(keys_of(run_columns()) +
                              JsonKeys{{"factors", is::object(keys_of(factor_columns()))}});
  const Json collapse =
      is::object({{"name", is::text()}, {"asked_W", is::number()}, {"most_W", is::number()}});
  return is::object({{"name", is::text()},
                     {"judged", is::flag()},
                     {"nodes", is::list(node)},
                     {"runs", is::list(run)},
                     {"batteries", is::rows(battery_columns())},
                     {"appliances", is::rows(consumer_drop_columns())},
                     {"bank_current_A", is::or_null(is::number())},
                     {"converged", is::flag()},
                     {"collapse", is::or_null(collapse)}});
}

Json sharing_shape() {
  const Json figure = is::or_null(is::number());
  const Json lost = is::object({{"case", is::text()},
                                {"battery", is::whole()},
                                {"before_V", is::number()},
                                {"after_V", figure},
                                {"busiest_A", figure},
                                {"collapsed", is::text()},
                                {"starved", is::list(is::text())}});
  return is::object({{"case", is::text()},
                     {"ended_by", is::text()},
                     {"duration_s", is::number()},
                     {"worst_after_s", is::number()},
                     {"worst_drawn", is::number()},
                     {"busiest", is::number()},
                     {"batteries", is::rows(share_columns())},
                     {"loses_one", is::list(lost)}});
}

}  // namespace

JsonKeys wiring_keys() {
  return {{"cases", is::list(case_shape())},
          {"devices", is::rows(device_columns().shown_in(devices_in::json))},
          {"faults", is::rows(fault_columns())},
          {"sharing", is::or_null(sharing_shape())},
          {"charging", charging_shape()},
          {"inverters", inverters_shape()}};
}

JsonKeys wiring_answer() {
  return JsonKeys{{"design", is::object(design_keys())}, {"wiring", is::object(wiring_keys())}} +
         wiring_keys() + sizing_keys() +
         JsonKeys{{"quick", is::flag()},
                  {"design_verdicts", is::object(verdict_keys())},
                  {"heaviest_case", is::or_null(is::text())}};
}

}  // namespace housepower::report

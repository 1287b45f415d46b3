// SPDX-License-Identifier: Apache-2.0
// What a meter should read at each point, for the person on the line, and for programs.
#include "housepower/report/test_sheet.hpp"

#include <fmt/format.h>

#include "answer_shapes.hpp"
#include "housepower/page/csv.hpp"
#include "housepower/units/phrases.hpp"
#include "json.hpp"
#include "metered.hpp"

namespace housepower::report {
namespace {

using answers::TestSheetReport;
using wiring::DeadTest;
using wiring::Reading;
using wiring::ReadPoint;

constexpr const char* to_write = "_____";
constexpr const char* to_tick = "[ ]";

const Columns<Reading>& point_columns() {
  static const Columns<Reading> all{
      {"name", "point", [](const Reading& r) { return r.name.text(); }},
      {"probes", "leads on", &Reading::probes},
      {"expected_V", "expect", "V", &Reading::expected},
      {"low_V", "from", "V", &Reading::low},
      {"high_V", "to", "V", &Reading::high}};
  return all;
}

constexpr std::string_view kinds_of_point[] = {"posts", "along", "device", "joints"};
constexpr std::string_view kinds_of_dead_test[] = {"resistance", "polarity", "seated", "seen"};

std::string label_of_run(const design::Design& d, design::resolved::RunId id) {
  return d[id].label;
}
std::string ends_of(const design::Design& d, design::resolved::RunId id) {
  return d[d[id].from].name + " → " + d[d[id].to].name;
}

// ---- For hands ----

/// The dead tests of one kind, with boxes.
TableBlock dead_table(const TestSheetReport& t, DeadTest::Is is, TableBlock table) {
  for (const DeadTest& one : t.dead) {
    if (one.is != is) continue;
    std::vector<std::string> row{one.what};
    if (is != DeadTest::Is::seen) row.push_back(one.how);
    if (is == DeadTest::Is::resistance) {
      row.push_back(one.least ? "at least " + print(*one.least) : "");
      row.emplace_back(to_write);
    }
    row.emplace_back(to_tick);
    if (is == DeadTest::Is::seen) row.emplace_back("____________");
    table.rows.push_back(std::move(row));
  }
  return table;
}

/// What all rows of a column say is left out: the title says it.
void drop_column(TableBlock& table, std::ptrdiff_t column) {
  table.heads.erase(table.heads.begin() + column);
  table.numbers.erase(table.numbers.begin() + column);
  for (auto& row : table.rows) row.erase(row.begin() + column);
}

TableBlock points_table(const std::vector<ReadPoint>& points, const char* title, const char* unit) {
  TableBlock table{
      title,
      {"point", "leads on", "expect", "from", "to", std::string("read, ") + unit, "ok"},
      {false, false, true, true, true, false, false},
      {}};
  for (const ReadPoint& r : points)
    if (unit_as_metered(r) == unit)
      table.rows.push_back({r.point.label, r.point.leads, as_metered(r, r.expected),
                            low_as_metered(r), as_metered(r, r.high), to_write, to_tick});
  return table;
}

class SheetPage {
public:
  explicit SheetPage(const TestSheetReport& t) : t_(t), d_(t.design) {}

  Page made() {
    page_.title = d_->name + ": test sheet" + (t_.whole ? "" : ", " + words_of(t_.load));
    say("Van, serial ______________  Date ____________  Name ______________  Meter ______________");
    if (auto fails = said_of_fails(*t_.checked)) {
      page_.blocks.emplace_back(*std::move(fails));
      say("Switch nothing on by this sheet until it passes.");
    }
    warn_of_open();
    dead();
    resting();
    for (const auto& step : t_.plan.switch_ons) switched_on(step);
    untested();
    bands();
    return std::move(page_);
  }

private:
  void say(std::string what) { page_.blocks.emplace_back(Paragraph{std::move(what)}); }
  void show(TableBlock table) {
    if (!table.rows.empty()) page_.blocks.emplace_back(std::move(table));
  }
  void head(const std::string& what) {
    page_.blocks.emplace_back(Heading{std::to_string(++step_) + ". " + what});
  }

  void warn_of_open() {
    std::vector<std::string> open;
    for (const auto& run : d_->runs)
      if (!run.conductor) open.push_back(quoted(run.name));
    if (open.empty()) return;
    say("STILL TO BE CHOSEN: the conductors of " + listed(open) +
        ". The figures are for the smallest that carries the current, not for what will be built: "
        "measure nothing by this sheet until the design states them.");
  }

  void dead() {
    head("Isolated: nothing on, no charger, modules covered, the isolators open");
    say("Everything between the bank and its isolators, and whatever is fed past them, stays "
        "live.");
    show(dead_table(t_, DeadTest::Is::resistance,
                    {"Resistance",
                     {"what", "leads on", "limit", "read", "ok"},
                     {false, false, false, false, false},
                     {}}));
    show(dead_table(t_, DeadTest::Is::polarity,
                    {"Plus on plus and minus on minus, sleeves as on the diagram",
                     {"what", "from and to", "ok"},
                     {false, false, false},
                     {}}));
    show(dead_table(t_, DeadTest::Is::seated,
                    {"Each device seated, and of its rating",
                     {"what", "what is fitted", "ok"},
                     {false, false, false},
                     {}}));
    show(dead_table(t_, DeadTest::Is::seen,
                    {"To be inspected; what is on mains voltage by a licensed electrician, by name",
                     {"what", "ok", "name"},
                     {false, false, false},
                     {}}));
  }

  void resting() {
    if (!t_.resting) return;
    head("At rest: the isolator closed, nothing on");
    say("The bank rests at " + std::string(to_write) + " V. " +
        (t_.load.resting
             ? "These bands are for " + print(*t_.load.resting, 4) + ", as measured."
             : "The bands below hold from " + fmt::format("{:.2f}", t_.resting->low / volt) +
                   " to " + fmt::format("{:.2f}", t_.resting->high / volt) +
                   " V. If it rests outside these, charge it or draw it down first."));
  }

  void switched_on(const wiring::SwitchOn& step) {
    head("Switch on: " + words_of(step.load));
    std::vector<std::string> running;
    for (const auto id : step.load.running) running.push_back(d_[id].name);
    say((running.empty() ? std::string() : "On: " + listed(running) + ". ") +
        (d_->bank ? "The bank then gives " + print(step.bank) + "." : "The design has no bank."));
    show(points_table(step.points, "Voltage at", "V"));
    show(points_table(step.points,
                      "Millivolts lost: along each conductor, across each device with its two "
                      "joints, in all joints of a run added up",
                      "mV"));
    auto clamped = points_table(step.points, "Amps, with the clamp around the lead", "A");
    drop_column(clamped, 1);  // "clamp around it", each time
    show(std::move(clamped));
  }

  void untested() {
    TableBlock table{"Not tested by this sheet", {"run", "ends", "why"}, {false, false, false}, {}};
    for (const auto& one : t_.plan.untested)
      table.rows.push_back({label_of_run(d_, one.run), ends_of(d_, one.run), why_of(one.why)});
    show(std::move(table));
  }

  void bands() {
    say("A reading outside its band means something is not as designed: look for a loose or dirty "
        "joint, a thinner or longer conductor, a device of another type, a battery that is not "
        "full.");
    page_.blocks.emplace_back(Heading{"What the bands allow"});
    for (const auto& one : wiring::test_tolerances())
      say(one.of + ": " + one.says + " (" + std::string(word_of(one.source.kind)) + ").");
  }

  const TestSheetReport& t_;
  const design::Design& d_;
  Page page_{};
  int step_ = 0;
};

// ---- For programs ----

Json read_point_json(const ReadPoint& r) {
  return {{"path", r.point.path.text()},
          {"label", r.point.label},
          {"leads", r.point.leads},
          {"expected", r.expected.si},
          {"low", r.low.si},
          {"high", r.high.si},
          {"unit", std::string(plain_unit(r.point.kind).symbol)}};
}

Json switch_ons_json(const TestSheetReport& t) {
  Json list = Json::array();
  for (const auto& step : t.plan.switch_ons) {
    Json one{{"name", step.load.name}, {"bank_current_A", json_of(step.bank)}};
    for (const char* key : {"running", "tests", "points"}) one[key] = Json::array();
    for (const auto id : step.load.running) one["running"].push_back(t.design[id].name);
    for (const auto id : step.tests) one["tests"].push_back(label_of_run(t.design, id));
    for (const ReadPoint& r : step.points) one["points"].push_back(read_point_json(r));
    list.push_back(std::move(one));
  }
  return list;
}

Json dead_json(const TestSheetReport& t) {
  Json list = Json::array();
  for (const DeadTest& one : t.dead) {
    Json test{{"what", one.what},
              {"how", one.how},
              {"kind", kinds_of_dead_test[std::size_t(one.is)]},
              {"source", json_of(one.source)}};
    test["least_ohm"] = one.least ? Json(one.least->value()) : Json();
    list.push_back(std::move(test));
  }
  return list;
}

}  // namespace

Page test_sheet_page(const TestSheetReport& t) { return SheetPage(t).made(); }

std::string test_sheet_json(const TestSheetReport& t) {
  Json json = housepower::report::head();
  json["design"] = {
      {"name", t.design->name}, {"file", t.design->file}, {"inputs_digest", t.inputs_digest}};
  json["design_verdicts"] = verdicts_of_design(*t.checked);
  json["load"] = {{"name", words_of(t.load)},
                  {"bank_current_A", json_of(t.sheet.bank_current)},
                  {"resting_V", json_of(t.resting ? t.resting->expected : Voltage{})},
                  {"resting_measured", t.load.resting.has_value()},
                  {"workshop_C", json_of(t.load.workshop)}};
  if (t.resting) {
    json["load"]["resting_holds_V"] = Json::array();
    for (const Voltage& u : {t.resting->low, t.resting->high})
      json["load"]["resting_holds_V"].push_back(json_of(u));
  }
  json["points"] = Json::array();
  for (const Reading& r : t.sheet.readings) {
    Json point = row_json(point_columns(), r);
    point["path"] = r.name.text();
    point["label"] = wiring::label_of_point(t.design, r.name);
    point["kind"] = kinds_of_point[std::size_t(r.kind)];
    json["points"].push_back(std::move(point));
  }
  json["without_current"] = Json::array();
  for (const auto id : t.sheet.without_current)
    json["without_current"].push_back(t.design[id].name);
  json["dead_tests"] = dead_json(t);
  json["switch_ons"] = switch_ons_json(t);
  json["untested"] = Json::array();
  for (const auto& one : t.plan.untested)
    json["untested"].push_back({{"run", t.design[one.run].name},
                                {"label", label_of_run(t.design, one.run)},
                                {"why", why_of(one.why)}});
  json["tolerances"] = Json::array();
  for (const auto& one : wiring::test_tolerances())
    json["tolerances"].push_back(
        {{"of", one.of}, {"says", one.says}, {"source", json_of(one.source)}});
  return dump(json);
}

namespace {

Json dead_test_shape() {
  return is::object({{"what", is::text()},
                     {"how", is::text()},
                     {"kind", is::words(kinds_of_dead_test)},
                     {"source", is::a("source")},
                     {"least_ohm", is::or_null(is::number())}});
}
Json switch_on_shape() {
  const Json texts = is::list(is::text());
  const Json point = is::object({{"path", is::text()},
                                 {"label", is::text()},
                                 {"leads", is::text()},
                                 {"expected", is::number()},
                                 {"low", is::number()},
                                 {"high", is::number()},
                                 {"unit", is::text()}});
  return is::object({{"name", is::text()},
                     {"bank_current_A", is::number()},
                     {"running", texts},
                     {"tests", texts},
                     {"points", is::list(point)}});
}

}  // namespace

JsonKeys test_sheet_answer() {
  const Json untested =
      is::object({{"run", is::text()}, {"label", is::text()}, {"why", is::text()}});
  const Json load = is::object(JsonKeys{{"name", is::text()},
                                        {"bank_current_A", is::number()},
                                        {"resting_V", is::number()},
                                        {"resting_measured", is::flag()},
                                        {"workshop_C", is::number()}} +
                               sometimes({{"resting_holds_V", is::list(is::number())}}));
  const Json point = is::object(
      keys_of(point_columns()) +
      JsonKeys{{"path", is::text()}, {"label", is::text()}, {"kind", is::words(kinds_of_point)}});
  const Json tolerance =
      is::object({{"of", is::text()}, {"says", is::text()}, {"source", is::a("source")}});
  return {{"design", is::object(design_keys())},
          {"design_verdicts", is::object(verdict_keys())},
          {"load", load},
          {"points", is::list(point)},
          {"without_current", is::list(is::text())},
          {"dead_tests", is::list(dead_test_shape())},
          {"switch_ons", is::list(switch_on_shape())},
          {"untested", is::list(untested)},
          {"tolerances", is::list(tolerance)}};
}

std::string test_sheet_csv(const TestSheetReport& t) {
  const auto line = [](std::vector<std::string> cells) { return csv_line(cells); };
  std::string text =
      line({"case", "point", "label", "leads", "expected", "low", "high", "unit", "read"});
  for (const DeadTest& one : t.dead)
    text += line({"", std::string(wiring::checked_point) + one.what, one.what, one.how, "",
                  one.least ? fmt::format("{:.1f}", *one.least / (1e6 * ohm)) : "", "",
                  one.is == DeadTest::Is::resistance ? "MΩ" : std::string(wiring::yes_or_no), ""});
  bool first = true;
  for (const auto& step : t.plan.switch_ons) {
    if (first && t.resting)
      text +=
          line({step.load.name, std::string(wiring::resting_point), "bank, nothing on",
                "plus, minus", fmt::format("{:.2f}", t.resting->expected / volt), "", "", "V", ""});
    first = false;
    for (const ReadPoint& r : step.points)
      text += line({step.load.name, r.point.path.text(), r.point.label, r.point.leads,
                    as_metered(r, r.expected), low_as_metered(r), as_metered(r, r.high),
                    unit_as_metered(r), ""});
  }
  return text;
}

}  // namespace housepower::report

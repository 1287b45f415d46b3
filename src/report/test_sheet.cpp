// SPDX-License-Identifier: Apache-2.0
// What a meter should read at each point, for the person on the line, and for programs.
#include <fmt/format.h>

#include "answer_shapes.hpp"
#include "housepower/units/phrases.hpp"
#include "housepower/wiring/diagnosis.hpp"
#include "json.hpp"

namespace housepower::report {
namespace {

using wiring::Reading;

const Columns<Reading>& point_columns() {
  static const Columns<Reading> all{
      {"name", "point", [](const Reading& r) { return r.name.text(); }},
      {"probes", "leads on", &Reading::probes},
      {"expected_V", "expect", "V", &Reading::expected},
      {"low_V", "from", "V", &Reading::low},
      {"high_V", "to", "V", &Reading::high}};
  return all;
}
/// Posts in volts with two decimals, drops in millivolts with one, as a meter shows them.
TableBlock table_of_kind(const char* title, Reading::Kind kind, const wiring::TestSheet& sheet) {
  const bool volts = kind == Reading::Kind::posts;
  TableBlock table{title, {"point", "leads on"}, {false, false, true, true, true, false}, {}};
  for (const char* head : {"expect", "from", "to"})
    table.heads.push_back(std::string(head) + (volts ? ", V" : ", mV"));
  table.heads.emplace_back("read");
  const auto shown = [&](Voltage u) {
    return volts ? fmt::format("{:.2f}", u / volt) : fmt::format("{:.1f}", u / millivolt);
  };
  for (const Reading& r : sheet.readings)
    if (r.kind == kind)
      table.rows.push_back(
          {r.name.text(), r.probes, shown(r.expected), shown(r.low), shown(r.high), "____"});
  return table;
}

constexpr std::string_view kinds_of_point[] = {"posts", "along", "device", "joints"};

}  // namespace

Page test_sheet_page(const TestedDesign& t) {
  Page page{t.design->name + ": test sheet, " + t.load.name, {}};
  const auto say = [&](std::string what) { page.blocks.emplace_back(Paragraph{std::move(what)}); };
  if (!t.design->bank) say("Switch on: " + t.load.name + ". The design has no bank.");
  else
    say("Switch on: " + t.load.name + ". The bank then gives " + print(t.sheet.bank_current) +
        ". Before, with nothing on, it rests at " + print(t.resting, 4) +
        (t.load.resting ? ", as measured."
                        : ": measure it, and ask again with --resting-voltage."));
  std::vector<std::string> open;
  for (const auto& run : t.design->runs)
    if (!run.conductor) open.push_back("\"" + run.name + "\"");
  if (!open.empty())
    say("STILL TO BE CHOSEN: the conductors of " + listed(open) +
        ". The figures are with the least that bears the current, not with what will be built: "
        "measure nothing by this sheet until the design states them.");
  const std::pair<Reading::Kind, const char*> tables[] = {
      {Reading::Kind::posts, "Voltage at"},
      {Reading::Kind::along, "Volts lost along each run"},
      {Reading::Kind::device, "Volts lost across each device with its two joints"},
      {Reading::Kind::joints, "Volts lost in the joints of each run, both conductors added up"}};
  for (const auto& [kind, title] : tables) {
    TableBlock table = table_of_kind(title, kind, t.sheet);
    if (!table.rows.empty()) page.blocks.push_back(std::move(table));
  }
  if (!t.sheet.without_current.empty())
    say("Without current under this load, so not tested: " + listed(t.sheet.without_current) + ".");
  say("Outside a band something is not as designed: look for a loose or dirty joint, a thinner or "
      "longer conductor, a device of another type, a battery that is not full.");
  const Heading bands{"What the bands allow"};
  page.blocks.emplace_back(bands);
  for (const auto& one : wiring::test_tolerances())
    say(one.of + ": " + one.says + " (" + std::string(word_of(one.source.kind)) + ").");
  return page;
}

std::string test_sheet_json(const TestedDesign& t) {
  Json json = head();
  json["design"] = {
      {"name", t.design->name}, {"file", t.design->file}, {"inputs_digest", t.inputs_digest}};
  json["load"] = {{"name", t.load.name},
                  {"bank_current_A", json_of(t.sheet.bank_current)},
                  {"resting_V", json_of(t.resting)},
                  {"resting_measured", t.load.resting.has_value()},
                  {"workshop_C", json_of(t.load.workshop)}};
  json["points"] = Json::array();
  for (const Reading& r : t.sheet.readings) {
    Json point = row_json(point_columns(), r);
    point["path"] = r.name.text();
    point["label"] = wiring::label_of_point(t.design, r.name);
    point["kind"] = kinds_of_point[std::size_t(r.kind)];
    json["points"].push_back(std::move(point));
  }
  json["without_current"] = t.sheet.without_current;
  json["tolerances"] = Json::array();
  for (const auto& one : wiring::test_tolerances())
    json["tolerances"].push_back(
        {{"of", one.of}, {"says", one.says}, {"source", json_of(one.source)}});
  return dump(json);
}

JsonKeys test_sheet_answer() {
  const Json load = is::object({{"name", is::text()},
                                {"bank_current_A", is::number()},
                                {"resting_V", is::number()},
                                {"resting_measured", is::flag()},
                                {"workshop_C", is::number()}});
  const Json point = is::object(
      keys_of(point_columns()) +
      JsonKeys{{"path", is::text()}, {"label", is::text()}, {"kind", is::words(kinds_of_point)}});
  const Json tolerance =
      is::object({{"of", is::text()}, {"says", is::text()}, {"source", is::a("source")}});
  return {{"design", is::object(design_keys())},
          {"load", load},
          {"points", is::list(point)},
          {"without_current", is::list(is::text())},
          {"tolerances", is::list(tolerance)}};
}

}  // namespace housepower::report

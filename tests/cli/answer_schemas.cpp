// SPDX-License-Identifier: Apache-2.0
// `schema --of answers`: every answer holds against the schema of its command, which names every key
// and no other, and every key that the contract with other programs freezes is in it.
#include <doctest/doctest.h>

#include <unistd.h>

#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "support/command.hpp"
#include "support/json_schema.hpp"

namespace cli_answer_schemas {

using namespace housepower::test;
using Json = nlohmann::json;

namespace {

const Json& schema_of(const std::string& command) {
  static std::map<std::string, Json> all;
  const auto at = all.find(command);
  if (at != all.end()) return at->second;
  const Ran ran =
      run_program("schema --of answers" + (command.empty() ? "" : " --command " + command));
  REQUIRE(ran.exit == 0);
  return all[command] = Json::parse(ran.out);
}

std::string command_of(const std::string& arguments) {
  return arguments.substr(0, arguments.find(' '));
}

Json answer_to(const std::string& arguments) {
  const Ran ran = run_program(arguments + " --format json");
  CAPTURE(arguments);
  CAPTURE(ran.err);
  const Json answer = Json::parse(ran.out, nullptr, false);
  REQUIRE(!answer.is_discarded());
  return answer;
}

/// It holds against its own schema, and against the one of all answers.
void holds(const std::string& arguments) {
  CAPTURE(arguments);
  const Json answer = answer_to(arguments);
  const Json& own = schema_of(command_of(arguments));
  CHECK(against(answer, own, own) == "");
}

std::vector<std::string> files_in(const char* folder) {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(HOUSEPOWER_SOURCE_DIR "/" + std::string(folder)))
    if (entry.path().extension() == ".toml" && entry.path().filename() != "parts.toml")
      files.push_back(std::string(folder) + "/" + entry.path().filename().string());
  std::sort(files.begin(), files.end());
  return files;
}

/// What stands under a path of a schema ("findings[].at.line"), in whichever answer of the command.
const Json* under(const Json& schema, const Json& root, std::string path) {
  const Json& s = resolved(schema, root);
  if (s.contains("anyOf")) {
    if (path.empty()) return &s;
    for (const Json& one : s["anyOf"])
      if (const Json* found = under(one, root, path)) return found;
    return nullptr;
  }
  if (path.empty()) return &s;
  if (path.starts_with("[]")) {
    path.erase(0, path.starts_with("[].") ? 3 : 2);
    return s.contains("items") ? under(s["items"], root, path) : nullptr;
  }
  const auto end = path.find_first_of(".[");
  const std::string key = path.substr(0, end);
  path = end == path.npos ? "" : path.substr(path[end] == '.' ? end + 1 : end);
  if (!s.contains("properties") || !s["properties"].contains(key)) return nullptr;
  const auto& required = s["required"];
  if (std::find(required.begin(), required.end(), key) == required.end()) return nullptr;
  return under(s["properties"][key], root, path);
}

/// "number", "text", "flag", "list", "object" or "null", each that may stand there.
std::string kinds_of(const Json& schema, const Json& root) {
  const Json& s = resolved(schema, root);
  std::string kinds;
  if (s.contains("anyOf"))
    for (const Json& one : s["anyOf"]) kinds += kinds_of(one, root);
  for (const Json& word : s.value("enum", Json::array())) kinds += word.is_string() ? " text" : "";
  const Json type = s.value("type", Json());
  const Json types = type.is_array() ? type : Json::array({type});
  static const std::map<std::string, std::string> ours{
      {"string", "text"}, {"number", "number"}, {"integer", "number"}, {"boolean", "flag"},
      {"array", "list"},  {"object", "object"}, {"null", "null"}};
  for (const Json& one : types)
    if (one.is_string()) kinds += " " + ours.at(one.get<std::string>());
  return kinds;
}

}  // namespace

TEST_CASE("every answer on an example holds against the schema of its command") {
  for (const std::string& file : files_in("examples"))
    for (const char* command : {"check", "energy", "wiring", "mend", "test-sheet", "build-list",
                                "schedule", "loads", "runs"})
      holds(std::string(command) + " " + file);
  for (const std::string& file : files_in("examples")) {
    holds("stay " + file + " --years 2");
    holds("compare " + file + " " + file + " --set bank/quantity=2");
    holds("compare " + file + " examples/two-berth.toml");
  }
  for (const std::string& file : files_in("examples/packs")) holds("check " + file);
}

TEST_CASE("every verdict of every rule stands in an answer that holds against its schema") {
  for (const std::string& file : files_in("examples/faulty")) holds("check " + file);
}

TEST_CASE("answers to other options hold against the schema, too") {
  for (const char* arguments :
       {"stay examples/pellibri.toml --years 2 --month all",
        "stay examples/pellibri.toml --first",
        "check examples/marrowick.toml --quick",
        "wiring examples/marrowick.toml --quick",
        "mend examples/packs",
        "stay examples/pellibri.toml --years 2 --place all --use heavy",
        "stay examples/marrowick.toml --years 2 --without 'Water pump' --chance '50 %'",
        "size examples/sizing/pellibri.toml --least price",
        "size examples/sizing/pellibri.toml --stay '300 d' --autonomy '90 d'",
        "wiring examples/faulty/voltage-collapse.toml",
        "mend examples/faulty/drop.toml",
        "mend examples/faulty/drop.toml --least price --catalogue examples/parts.toml",
        "range examples --stays none",
        "range examples --where verdict=fail",
        "test-sheet examples/marrowick.toml --readings examples/readings/marrowick-0417.toml",
        "test-sheet examples/marrowick.toml --readings examples/readings/marrowick-0431.toml",
        "test-sheet examples/pellibri.toml --current '20 A' --at 'day panel'",
        "check examples/faulty/drop.toml --why 'drop appliance/Cooler'",
        "range examples/pellibri.toml --place hobart,darwin --month july --years 2",
        "looms examples/packs/marrowick-modular.toml",
        "looms examples/packs/marrowick-modular.toml --assembly kitchen",
        "looms examples/pellibri.toml",
        "range examples/pellibri.toml --stays none --part 1/1",
        "replace examples/pellibri.toml --set 'bank/capacity=150 Ah'",
        "replace examples/marrowick.toml --set 'charger/mains charger/current=60 A'",
        "record show examples/readings/marrowick-0417.record",
        "record handover examples/readings/marrowick-0417.record",
        "record check examples/readings/marrowick-0417.record --design examples/marrowick.toml",
        "build-list examples/pellibri.toml examples/quondelay.toml",
        "schedule examples/pellibri.toml --sheet findings",
        "loads examples/loads-marrowick.csv",
        "loads tests/lists/workbooks/loads.ods",
        "loads tests/lists/workbooks/error.xlsx",
        "loads tests/lists/workbooks/several.xlsx",
        "runs examples/runs-fennimarl.csv --device iso-8820-3-c",
        "runs tests/lists/workbooks/schedule.xlsx",
        "parts examples/parts-fennimarl.csv",
        "parts examples/parts.toml",
        "cable --current '20 A' --length '4 m' --fuse 'iso-8820-3-c 25 A'",
        "cable --power '200 W' --length '10 m' --conductor '0.75 mm2'",
        "cable --current '2000 A' --length '100 m'",
        "cable --current '40 A' --length '2 m' --ambient '95 °C'",
        "cable --current '10 A' --length '10.5 ft' --method abyc-e11 --sizes awg"})
    holds(arguments);
}

TEST_CASE("rules, formulas and tables hold against their schema, each one") {
  for (const char* list : {"explain", "formula", "tables"}) holds(list);
  for (const Json& rule : answer_to("explain")["rules"])
    if (rule["rule"] < "c") holds("explain " + rule["rule"].get<std::string>());
  holds("formula voltage-drop");
  holds("formula voltage-drop --with 'L=4 m' --with 'I=15 A' --with 'r=7.98 mohm/m'");
  for (const Json& table : answer_to("tables")["tables"])
    holds("tables " + table["name"].get<std::string>());
}

TEST_CASE("a record that is intact and one that is not hold against the schema") {
  const std::string file = "/tmp/housepower-answers-" + std::to_string(getpid()) + ".record";
  REQUIRE(run_program("record new examples/pellibri.toml --serial P-1 -o " + file).exit == 0);
  holds("record show " + file);
  std::ofstream(file, std::ios::app) << "entry 7\n";
  holds("record verify " + file);
  std::filesystem::remove(file);
}

TEST_CASE("bad input is an answer that holds against the schema of the command") {
  const char* design = " examples/pellibri.toml --set 'run/fridge/length=4 A'";
  for (const char* command : {"check", "energy", "wiring", "mend", "stay", "size", "test-sheet",
                              "build-list", "schedule"})
    holds(command + std::string(design));
  for (const char* arguments :
       {"check no-such-file.toml", "range no-such-folder", "loads no-such-file.csv",
        "parts examples/loads-marrowick.csv", "size examples/pellibri.toml",
        "stay examples/faulty/left-unsaid.toml", "stay examples/pellibri.toml --place nowhere",
        "compare examples/pellibri.toml no-such-file.toml", "record show no-such-file",
        "cable --current '5 A' --length '1 m' --terminals '75 A'",
        "formula voltage-drop --with 'L=4 A'", "tables no-such-table"})
    if (const Ran ran = run_program(arguments + std::string(" --format json")); !ran.out.empty())
      holds(arguments);
}

TEST_CASE("the schema refuses a key that it does not name, and asks for each that it does") {
  const Json answer = answer_to("check examples/pellibri.toml");
  const Json& schema = schema_of("check");
  for (const char* at : {"", "/design", "/findings/0", "/findings/0/source", "/energy/months/0",
                         "/wiring/cases/0/runs/0", "/wiring/cases/0/runs/0/factors"}) {
    CAPTURE(at);
    Json more = answer;
    more[Json::json_pointer(at)]["unheard_of"] = 1;
    CHECK(against(more, schema, schema) == std::string(at) + "/unheard_of is not in the schema");
    const std::string key = answer[Json::json_pointer(at)].begin().key();
    Json less = answer;
    less[Json::json_pointer(at)].erase(key);
    CHECK(against(less, schema, schema) == std::string(at) + "/" + key + " is missing");
  }
  Json other = answer;
  other["findings"][0]["margin"] = "wide";
  CHECK(against(other, schema, schema).starts_with("/findings/0/margin is not of type"));
  other["findings"][0]["margin"] = nullptr;
  CHECK(against(other, schema, schema) == "");
  other["findings"][0]["verdict"] = "good";
  CHECK(against(other, schema, schema).starts_with("/findings/0/verdict is none of"));
}

TEST_CASE("every key of the contract is in the schema of its command, with its type") {
  // Keys and meanings as frozen with those who read the answers; "?": may be null, as it says there.
  const std::map<std::string, std::string> contract{
      {"check",
       "schema:number tool.name:text tool.version:text safety:text design.name:text "
       "design.file:text design.inputs_digest:text verdict:text verdict_safety:text "
       "verdict_service:text silences[].rule:text silences[].what:text counts:object "
       "findings[].rule:text findings[].subject:text findings[].case:text findings[].verdict:text "
       "findings[].at.file:text findings[].at.line:number findings[].at.column:number "
       "findings[].bound:text findings[].measured:number findings[].limit:number "
       "findings[].unit:text findings[].margin:number findings[].safety:flag findings[].label:text "
       "findings[].message:text findings[].cure:text findings[].cure_set[]:text "
       "findings[].source.kind:text findings[].source.title:text findings[].source.where:text "
       "findings[].working[].symbol:text findings[].working[].meaning:text "
       "findings[].working[].formula:text findings[].working[].with:text "
       "findings[].working[].value:number findings[].working[].unit:text "
       "findings[].working[].source:object energy.months[].month:text "
       "energy.months[].load_Wh:number "
       "energy.months[].load_Ah:number energy.months[].solar_Wh:number "
       "energy.months[].balance_Wh:number energy.appliances[].name:text "
       "energy.appliances[].Wh_per_day:number energy.appliances[].Ah_per_day:number "
       "energy.usable_Wh:number energy.usable_Ah:number energy.autonomy_d:number "
       "wiring.cases[].name:text wiring.cases[].nodes[].name:text "
       "wiring.cases[].nodes[].voltage_V:number wiring.cases[].runs[].name:text "
       "wiring.cases[].runs[].current_A:number wiring.cases[].runs[].drop_V:number "
       "wiring.cases[].runs[].drop_share:number wiring.cases[].runs[].conductor:text "
       "wiring.cases[].runs[].conductor_temperature_C:number "
       "wiring.cases[].runs[].ampacity_A:number wiring.cases[].runs[].ampacity_table:text "
       "wiring.cases[].runs[].ampacity_row:text wiring.cases[].runs[].factors.ambient:number "
       "wiring.cases[].runs[].factors.grouping:number wiring.cases[].runs[].factors.laid:number "
       "wiring.cases[].runs[].factors.terminal:number wiring.cases[].batteries[].index:number "
       "wiring.cases[].batteries[].current_A:number wiring.cases[].batteries[].share:number "
       "wiring.cases[].appliances[].name:text wiring.cases[].appliances[].voltage_V:number "
       "wiring.cases[].appliances[].path_drop_V:number "
       "wiring.cases[].appliances[].path_drop_share:number wiring.cases[].converged:flag "
       "wiring.cases[].collapse:object wiring.devices[].run:text wiring.devices[].end:text "
       "wiring.devices[].type:text wiring.devices[].rating_A:number "
       "wiring.devices[].prospective_max_A:number wiring.devices[].prospective_min_A:number "
       "wiring.devices[].breaking_capacity_A:number wiring.devices[].clearing_s:number "
       "wiring.devices[].let_through_A2s:number wiring.devices[].withstand_A2s:number"},
      {"cable",
       "conductor:text? nominal_area_mm2:number copper_area_mm2:number "
       "resistance_ohm_per_km:number "
       "conductor_temperature_C:number loop_resistance_ohm:number current_A:number? "
       "voltage_drop_V:number? voltage_drop_share:number voltage_at_load_V:number? "
       "power_lost_W:number drop_limit_share:number ampacity_A:number ampacity_table:text "
       "ampacity_row:text base_ambient_C:number factors.ambient:number factors.grouping:number "
       "factors.laid:number factors.terminal:number at_worst.conductor:text "
       "at_worst.ampacity_A:number at_worst.voltage_drop_V:number at_worst.factors:object "
       "largest_fuse_A:number smallest_for_drop:text? smallest_for_ampacity:text? smallest:text? "
       "fuse.prospective_max_A:number fuse.prospective_min_A:number "
       "fuse.breaking_capacity_A:number fuse.clearing_s:number fuse.let_through_A2s:number "
       "fuse.withstand_A2s:number verdict:text findings[].rule:text sources[].title:text "
       "assumed:list"},
      {"tables", "columns:list rows[].kind:object rows[].source:object"},
      {"stay", "stay_d:number chance:number sampling_interval_d[]:number input_doubt_d[]:number "
               "promise_met_chance:number unlimited:flag unserved_share:number weather_kind:text "
               "years:number starts:number emptied_by[].name:text emptied_by[].Wh_share:number "
               "levers[].change:text levers[].stay_d:number parked_d:number headline_d:number "
               "nights:number first_percentile_d:number horizon_d:number arrive_time:text "
               "charging[].what:text charging[].delivered_A:number"},
      {"size", "choices[].batteries:number choices[].modules:number choices[].mass_kg:number "
               "choices[].price:number choices[].stay_d:number choices[].chance:number "
               "choices[].verdict:text best:object binding:list marginal:list"},
      {"test-sheet",
       "points[].name:text points[].expected_V:number points[].low_V:number points[].high_V:number "
       "points[].path:text points[].label:text readings[].path:text readings[].label:text "
       "readings[].measured:number readings[].expected:number readings[].low:number "
       "readings[].high:number readings[].unit:text readings[].in_band:flag causes[].element:text "
       "causes[].what:text causes[].value:number causes[].unit:text causes[].sigma:number "
       "causes[].heat_W:number causes[].heat_full_W:number causes[].odds:number "
       "causes[].cannot_be_told_from:list could_hide[].element:text could_hide[].value:number "
       "could_hide[].unit:text verdict:text"},
      {"mend", "changes[].path:text changes[].from:text changes[].to:text changes[].why:text "
               "left[].rule:text "
               "left[].would:text before.fail:number after.fail:number verdict:text"},
      {"range", "designs[].name:text designs[].verdict:text designs[].verdict_safety:text "
                "designs[].autonomy_d:number designs[].mass_kg:number"},
      {"compare", "changes[].path:text"},
      {"record", "entries[].at:text entries[].by:text entries[].what:text entries[].digest:text "
                 "entries[].before:text intact:flag seal:text"},
      {"energy", "months[].month:text usable_Wh:number autonomy_d:number"},
      {"wiring", "cases[].name:text devices[].run:text"},
      {"loads", "diagnostics[].severity:text diagnostics[].file:text diagnostics[].line:number "
                "diagnostics[].column:number diagnostics[].key:text diagnostics[].message:text "
                "diagnostics[].hint:text"}};
  for (const auto& one : contract) {
    const std::string &command = one.first, &keys = one.second;
    CAPTURE(command);
    const Json& schema = schema_of(command);
    std::istringstream each(keys);
    for (std::string key; each >> key;) {
      CAPTURE(key);
      const auto colon = key.find(':');
      const bool null = key.ends_with('?');
      const Json* found = under(schema, schema, key.substr(0, colon));
      REQUIRE(found != nullptr);
      if (key == "schema:number") {
        CHECK((*found)["const"] == 1);
        continue;
      }
      if (key == "tool.name:text") {
        CHECK((*found)["const"] == "housepower");
        continue;
      }
      const std::string kinds = kinds_of(*found, schema);
      const std::string kind = key.substr(colon + 1, key.size() - colon - 1 - (null ? 1 : 0));
      CHECK(kinds.find(" " + kind) != std::string::npos);
      if (null) CHECK(kinds.find(" null") != std::string::npos);
    }
  }
}

TEST_CASE("every command has a schema of its answer, but those that print another file") {
  const std::string help = run_program("--help").out;
  const Json all = schema_of("");
  int commands = 0;
  std::istringstream lines(help.substr(help.find("Commands:\n") + 10));
  for (std::string line; std::getline(lines, line) && line.starts_with("  ");) {
    const std::string name = line.substr(2, line.find(' ', 2) - 2);
    const std::string others = " report page diagram schema new manual completions help ";
    CAPTURE(name);
    CHECK(all["$defs"].contains(name) != (others.find(" " + name + " ") != others.npos));
    ++commands;
  }
  CHECK(commands >= 24);
}

TEST_CASE("the schema of all answers takes the answer of each") {
  const Json& all = schema_of("");
  for (const char* arguments : {"check examples/pellibri.toml", "check no-such-file.toml",
                                "cable --current '20 A' --length '4 m'", "explain drop"})
    CHECK(against(answer_to(arguments), all, all) == "");
  CHECK(against(Json{{"schema", 1}}, all, all) != "");
}

TEST_CASE("schema says which commands answer, and what --command goes with") {
  const Ran near = run_program("schema --of answers --command chek");
  CHECK(near.exit == 2);
  CHECK(near.err.find("did you mean \"check\"?") != std::string::npos);
  CHECK(run_program("schema --of answers --command report").exit == 2);
  CHECK(run_program("schema --command check").exit == 2);
}

}  // namespace cli_answer_schemas

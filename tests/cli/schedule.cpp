// SPDX-License-Identifier: Apache-2.0
// schedule from the shell: every form of it tells the same, whatever the names in the design are.
#include <doctest/doctest.h>

#include "support/json_answer.hpp"
#include "support/schedule_files.hpp"

namespace cli_schedule {

using namespace housepower;
using namespace housepower::test;

namespace {

bool has_python() { return std::system("command -v python3 >/dev/null 2>&1") == 0; }

/// The sheets of a file, each as CSV in a folder; nothing where the file holds what it must not.
bool read_back(const std::string& file, const Folder& folder) {
  const std::string line = "python3 '" HOUSEPOWER_SOURCE_DIR "/tests/support/read_xlsx.py' '" +
                           file + "' '" + folder.path + "'";
  return std::system(line.c_str()) == 0;
}

bool holds(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}

}  // namespace

TEST_CASE("schedule answers with the keys of the contract") {
  const Json json = json_of("schedule examples/faulty/drop.toml", 1);
  CHECK(json["verdict"] == "fail");
  for (const char* key : {"name", "file", "inputs_digest"}) CHECK(json["design"].contains(key));
  for (const Json& c : json["cables"])
    for (const char* key : {"label",
                            "run",
                            "from",
                            "to",
                            "conductor",
                            "area_mm2",
                            "conductors_per_pole",
                            "insulation_material",
                            "insulation_C",
                            "length_m",
                            "return",
                            "laid_as",
                            "ambient_C",
                            "circuits_together",
                            "design_current_A",
                            "design_case",
                            "ampacity_A",
                            "ampacity_table",
                            "ampacity_row",
                            "ambient_factor",
                            "grouping_factor",
                            "laid_factor",
                            "drop_case",
                            "current_A",
                            "drop_V",
                            "drop_share",
                            "conductor_temperature_C",
                            "devices",
                            "note"})
      CHECK(c.contains(key));
  for (const Json& d : json["devices"])
    for (const char* key : {"label", "run", "end", "distance_m", "type", "rating_A",
                            "prospective_max_A", "prospective_min_A", "breaking_capacity_A",
                            "clearing_s", "let_through_A2s", "withstand_A2s"})
      CHECK(d.contains(key));
  for (const Json& f : json["findings"])
    for (const char* key : {"verdict", "rule", "subject", "case", "measured", "bound", "limit",
                            "unit", "margin", "message", "cure", "source", "file", "line"})
      CHECK(f.contains(key));
  for (const Json& s : json["sources"])
    for (const char* key : {"kind", "title", "where", "rules"}) CHECK(s.contains(key));
  CHECK_FALSE(json["labels"].empty());
  const Json one = json_of("schedule examples/faulty/drop.toml --sheet devices", 1);
  CHECK(one.contains("devices"));
  CHECK_FALSE(one.contains("cables"));
}

TEST_CASE("the schedule shows what wiring and check show") {
  const Json json = json_of("schedule examples/pellibri.toml"),
             wiring = json_of("wiring examples/pellibri.toml")["wiring"],
             check = json_of("check examples/pellibri.toml");
  for (const Json& c : json["cables"]) {
    CAPTURE(c["run"]);
    double most = 0;  // over the judged cases
    for (const Json& in : wiring["cases"])
      for (const Json& run : in["runs"]) {
        if (run["name"] != c["run"]) continue;
        CHECK(run["ampacity_A"] == c["ampacity_A"]);
        CHECK(run["conductor"] == c["conductor"]);
        if (in["judged"] == true) most = std::max(most, run["drop_V"].get<double>());
        if (in["name"] == c["drop_case"]) CHECK(run["drop_V"] == c["drop_V"]);
      }
    CHECK((c["drop_V"].is_null() ? 0.0 : c["drop_V"].get<double>()) ==
          doctest::Approx(most).epsilon(1e-9));
  }
  REQUIRE(json["devices"].size() == wiring["devices"].size());
  for (std::size_t i = 0; i < json["devices"].size(); ++i)
    for (const auto& [key, value] : wiring["devices"][i].items())
      CHECK(json["devices"][i][key] == value);
  REQUIRE(json["findings"].size() == check["findings"].size());
  for (std::size_t i = 0; i < json["findings"].size(); ++i)
    for (const char* key : {"rule", "subject", "verdict", "measured", "limit", "message", "cure"})
      CHECK(json["findings"][i][key] == check["findings"][i][key]);
}

TEST_CASE("sources are told once each, the weakest last, and those of workings are among them") {
  const Json sources = json_of("schedule examples/pellibri.toml --sheet sources")["sources"];
  const std::vector<std::string> kinds{"published", "supplier", "common practice", "from memory"};
  std::size_t rank = 0;
  std::vector<std::string> seen;
  for (const Json& s : sources) {
    const auto kind = std::find(kinds.begin(), kinds.end(), s["kind"].get<std::string>());
    REQUIRE(kind != kinds.end());
    CHECK(std::size_t(kind - kinds.begin()) >= rank);
    rank = std::size_t(kind - kinds.begin());
    Json bare = s;
    bare.erase("rules");
    CHECK(std::find(seen.begin(), seen.end(), bare.dump()) == seen.end());
    seen.push_back(bare.dump());
    CHECK_FALSE(s["rules"].get<std::string>().empty());
  }
  const Json check = json_of("check examples/pellibri.toml --working");
  std::size_t steps = 0;
  for (const Json& f : check["findings"])
    for (const Json& step : f["working"]) {
      const Json& source = step["source"];
      if (source["title"] == "") continue;
      ++steps;
      CHECK(std::any_of(sources.begin(), sources.end(), [&](const Json& s) {
        return s["title"] == source["title"] && s["where"] == source["where"] &&
               s["kind"] == source["kind"];
      }));
    }
  CHECK(steps > 0);
}

TEST_CASE("the format follows the ending of the file, and a spreadsheet wants a file") {
  const Folder folder;
  const std::string command = "schedule examples/faulty/base.toml";
  for (const char* ending : {"csv", "json", "txt"}) {
    const std::string file = folder.path + "/van." + ending;
    const std::string format = ending == std::string("txt") ? "text" : ending;
    CHECK(run_program(command + " -o " + file).exit == 0);
    CHECK(text_of(file) == run_program(command + " --format " + format).out);
  }
  const std::string file = folder.path + "/van.xlsx";
  CHECK(run_program(command + " -o " + file).exit == 0);
  CHECK(text_of(file).rfind("PK", 0) == 0);
  CHECK(run_program(command + " --format xlsx -o -").out == text_of(file));  // the same bytes again
  const Ran none = run_program(command + " --format xlsx");
  CHECK(none.exit == 2);
  CHECK(none.out.empty());
  CHECK(holds(none.err, "-o van.xlsx"));
  CHECK(run_program(command + " --format xlsx --sheet cables -o " + file).exit == 2);
  CHECK(run_program(command + " -o " + folder.path + "/none/van.xlsx").exit == 4);
  CHECK(run_program("schedule nowhere.toml -o " + file).exit == 4);
  const Ran homeless = run_program(command + " -o " + folder.path + "/b.xlsx");
  CHECK(homeless.err.empty());
}

TEST_CASE("what passes is in the spreadsheet and not on its paper" * doctest::skip(!has_python())) {
  const Folder folder;
  const std::string file = folder.path + "/van.xlsx";
  CHECK(run_program("schedule examples/faulty/drop.toml -o " + file).exit <= 1);
  REQUIRE(read_back(file, folder));
  const Json check = json_of("check examples/faulty/drop.toml", 1);
  const auto open = std::count_if(check["findings"].begin(), check["findings"].end(),
                                  [](const Json& f) { return f["verdict"] != "pass"; });
  REQUIRE(open >= 1);
  const std::string areas = text_of(folder.path + "/print-areas.txt");
  const auto at = areas.find("Findings!$A$1:");
  REQUIRE(at != areas.npos);
  const std::string last = areas.substr(at, areas.find('\n', at) - at);
  CHECK(last.ends_with("$" + std::to_string(open + 1)));  // below the row of headings
}

TEST_CASE("a spreadsheet wants no temporary file of its own") {
  const Folder folder;
  const std::string file = folder.path + "/van.xlsx";
  const std::string line = "cd '" HOUSEPOWER_SOURCE_DIR "' && TMPDIR=" + folder.path + "/none " +
                           program + " schedule examples/faulty/base.toml -o " + file + " 2>" +
                           folder.path + "/err";
  const int status = std::system(line.c_str());
  CHECK(WEXITSTATUS(status) == 0);
  CHECK(std::filesystem::exists(file));
}

TEST_CASE("a failing design's schedules say so, in every form, and exit with 1") {
  const std::string command = "schedule examples/faulty/drop.toml ";
  for (const char* how : {"", "--sheet devices", "--format csv", "--sheet findings --format csv"}) {
    CAPTURE(how);
    const Ran ran = run_program(command + how);
    CHECK(ran.exit == 1);
    CHECK(holds(ran.out + ran.err, "THIS DESIGN FAILS its check: drop at "));
    CHECK(holds(ran.out + ran.err, "licensed electrician"));
  }
}

TEST_CASE("each cell of the spreadsheet is that of the CSV, names that look like formulas too" *
          doctest::skip(!has_python())) {
  const Folder folder;
  const std::string file = folder.path + "/back.xlsx";
  for (const std::string& design :
       {hostile_design(folder), std::string("examples/quondelay.toml"),
        std::string("examples/faulty/far-fault-clears.toml")}) {  // fails and cautions
    CAPTURE(design);
    const Ran made = run_program("schedule '" + design + "' -o " + file);
    CAPTURE(made.err);
    REQUIRE(made.exit <= 1);
    CHECK(made.err.empty());
    REQUIRE(read_back(file, folder));
    for (const SheetName& sheet : sheets)
      same_cells(text_of(folder.path + "/" + sheet.title + ".csv"),
                 run_program("schedule '" + design + "' --format csv --sheet " + sheet.option).out,
                 sheet.title);
    const std::string summary = text_of(folder.path + "/Summary.csv");
    for (const char* what : {"licensed electrician", "housepower 0.", "\"verdict\"", "\"inputs\""})
      CHECK(holds(summary, what));
  }
}

}  // namespace cli_schedule

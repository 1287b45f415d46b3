// SPDX-License-Identifier: Apache-2.0
// build-list from the shell: its JSON keys, numbers of vans, and what is told where they do not fit.
#include <doctest/doctest.h>

#include "housepower/reading/csv.hpp"
#include "support/json_answer.hpp"

namespace cli_build_list {
namespace {

using namespace housepower::test;

const std::string two = "build-list examples/pellibri.toml examples/packs/marrowick-winter.toml ";

}  // namespace

TEST_CASE("build-list answers with the keys of the contract") {
  const Json json = json_of("build-list examples/pellibri.toml");
  for (const char* key :
       {"schema", "tool", "safety", "days", "models", "conductors", "cables", "lugs",
        "stud_not_stated", "without_lug", "devices", "inline", "copper_kg", "not_reckoned"}) {
    CAPTURE(key);
    CHECK(json.contains(key));
  }
  CHECK(json["days"].is_null());
  for (const char* key : {"name", "file", "inputs_digest", "vans", "verdict", "fails", "colours",
                          "allowance_m", "to_be_chosen", "left_out"})
    CHECK(json["models"][0].contains(key));
  for (const Json& c : json["conductors"])
    for (const char* key :
         {"model", "vans", "label", "run", "pole", "conductor", "standard", "tinned",
          "insulation_C", "insulation_material", "colour", "length_m", "to_cut_m", "pieces",
          "cut_for", "label_from", "label_to", "lands_from", "lands_to"})
      CHECK(c.contains(key));
  double kilograms = 0, metres = 0, cut = 0;
  for (const Json& c : json["cables"]) {
    kilograms += c["copper_kg"].get<double>();
    metres += c["to_cut_m"].get<double>();
    CHECK(c["to_cut_a_day_m"].is_null());
  }
  for (const Json& c : json["conductors"]) cut += c["to_cut_m"].get<double>();
  CHECK(metres == doctest::Approx(cut));
  CHECK(json["copper_kg"].get<double>() == doctest::Approx(kilograms));
}

TEST_CASE("a plan multiplies each model, and a day is its share of the week") {
  const double one = json_of("build-list examples/pellibri.toml")["copper_kg"].get<double>();
  const double other =
      json_of("build-list examples/packs/marrowick-winter.toml")["copper_kg"].get<double>();
  // A name may hold a comma; the stem of a file does as well.
  const Json plan = json_of(two + "--build 'Marrowick four-berth, winter=4,pellibri=6' --days 4");
  CHECK(plan["copper_kg"].get<double>() == doctest::Approx(6 * one + 4 * other));
  CHECK(plan["days"] == 4);
  for (const Json& c : plan["cables"])
    CHECK(c["to_cut_a_day_m"].get<double>() == doctest::Approx(c["to_cut_m"].get<double>() / 4));
  const Json twice = json_of(two + "--build 'pellibri=6' --build 'marrowick-winter=4'");
  CHECK(twice["copper_kg"] == plan["copper_kg"]);
  CHECK(twice["days"] == 5);
  CHECK(json_of(two)["copper_kg"].get<double>() == doctest::Approx(one + other));
}

TEST_CASE("a build plan that does not fit is refused in words") {
  struct Row {
    const char *build, *says;
  };
  for (const Row& row :
       {Row{"pelibri=6,marrowick-winter=4", "did you mean \"pellibri\"?"},
        Row{"pellibri=6", "says nothing of \"Marrowick four-berth, winter\""},
        Row{"pellibri=6,pellibri=1,marrowick-winter=4", "has its number already"},
        Row{"pellibri=six", "is not NAME=NUMBER"},
        Row{"pellibri=0,marrowick-winter=4", "no file is of a model"},
        Row{"pellibri=0", "is not NAME=NUMBER"}, Row{"pellibri=-1", "is not NAME=NUMBER"},
        Row{"pellibri=1.5", "is not NAME=NUMBER"},
        Row{"pellibri=99999999999999999999", "is not NAME=NUMBER"}, Row{"=3", "is not NAME=NUMBER"},
        Row{"", "got empty text"}, Row{"pellibri", "is not NAME=NUMBER"}}) {
    CAPTURE(row.build);
    const Ran ran = run_program(two + "--build '" + row.build + "'");
    CHECK(ran.exit == 2);
    CHECK(ran.out.empty());
    CHECK(ran.err.find(row.says) != std::string::npos);
  }
  CHECK(run_program(two + "--days 0").exit == 2);
  CHECK(run_program("build-list").exit == 2);
  const Ran same =
      run_program("build-list examples/pellibri.toml examples/pellibri.toml --build 'pellibri=6'");
  CHECK(same.exit == 2);
  CHECK(same.err.find("several files") != std::string::npos);
  CHECK(run_program("build-list examples/pellibri.toml nowhere.toml").exit == 4);
}

TEST_CASE("the list of a design that fails is made, and says so at its head and by its exit") {
  const Ran ran = run_program("build-list examples/faulty/drop.toml");
  CHECK(ran.exit == 1);
  const auto at = ran.out.find("THIS DESIGN FAILS its check: drop at ");
  REQUIRE(at != std::string::npos);
  CHECK(at < ran.out.find("Cutting list"));
  CHECK(ran.out.find("Do not build from it.") != std::string::npos);
  CHECK(json_of("build-list examples/faulty/drop.toml", 1)["models"][0]["fails"].size() > 0);
}

TEST_CASE("as CSV the list is the JSON's lists as one table, and a sheet is a table of its own") {
  const std::string list = "build-list examples/pellibri.toml";
  const Json json = json_of(list);
  const auto rows_of = [](const std::string& text) {
    housepower::Diagnostics diagnostics;
    auto read = housepower::parse_csv(text, "", ',', diagnostics);
    REQUIRE(read.has_value());
    return std::move(read->rows);
  };
  const Ran whole = run_program(list + " --format csv");
  CHECK(whole.exit == 0);
  CHECK(whole.err.find("note: Pellibri two-berth: Its check passes.") == 0);
  CHECK(whole.err.find("licensed electrician") != std::string::npos);
  const auto rows = rows_of(whole.out);
  CHECK(rows[0][0].text == "list");
  for (const char* key :
       {"conductors", "cables", "lugs", "stud_not_stated", "without_lug", "devices", "inline"}) {
    CAPTURE(key);
    CHECK(std::size_t(std::count_if(rows.begin(), rows.end(), [&](const auto& row) {
            return row[0].text == key;
          })) == json[key].size());
  }
  // Label, length to cut and pieces of the first conductor, each under its key.
  for (std::size_t c = 0; c < rows[0].size(); ++c) {
    const std::string& key = rows[0][c].text;
    if (key == "label") CHECK(rows[1][c].text == json["conductors"][0]["label"]);
    if (key == "to_cut_m")
      CHECK(std::stod(rows[1][c].text) == json["conductors"][0]["to_cut_m"].get<double>());
    if (key == "number") CHECK(rows[1][c].text.empty());
  }
  CHECK(rows_of(run_program(list + " --sheet cutting --format csv").out).size() ==
        json["conductors"].size() + 1);
  CHECK(rows_of(run_program(two + "--sheet inspection --format csv").out)[0].back().text ==
        "model");
  CHECK(run_program("build-list examples/faulty/drop.toml --format csv").exit == 1);
}

TEST_CASE("a label that begins like a formula comes into the CSV as text") {
  const std::string list =
      "build-list examples/faulty/base.toml --set 'run/cooler/label==1+1' --format csv";
  for (const char* sheet : {"", " --sheet cutting", " --sheet labels"}) {
    CAPTURE(sheet);
    const Ran ran = run_program(list + sheet);
    CHECK(ran.exit == 0);
    CHECK(ran.out.find("'=1+1+") != std::string::npos);  // the label of the outgoing conductor
    CHECK(ran.out.find(",=1+1") == std::string::npos);
    CHECK(ran.out.find("\n=1+1") == std::string::npos);
  }
}

}  // namespace cli_build_list

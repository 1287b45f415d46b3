// SPDX-License-Identifier: Apache-2.0
// The JSON keys and exit codes that others rely on. They keep their names and meanings.
#include <doctest/doctest.h>

#include <cmath>
#include <string_view>

#include "housepower/checks/rule.hpp"
#include "support/json_answer.hpp"

namespace cli_contract {
namespace {

using namespace housepower::test;

void has(const Json& object, std::initializer_list<std::string_view> keys) {
  for (const auto key : keys) {
    CAPTURE(key);
    CHECK(object.contains(std::string(key)));
  }
}

}  // namespace

TEST_CASE("check answers with the keys of the contract") {
  const Json json = json_of("check examples/faulty/drop.toml", 1);
  has(json, {"design", "verdict", "counts", "findings", "energy", "wiring"});
  has(json["design"], {"name", "file", "inputs_digest"});
  has(json["counts"], {"pass", "caution", "fail", "not-checked"});
  CHECK(json["verdict"] == "fail");
  bool seen = false;
  for (const Json& f : json["findings"]) {
    has(f, {"rule", "subject", "case", "verdict", "at", "bound", "measured", "limit", "unit",
            "margin", "message", "cure", "source", "working"});
    has(f["source"], {"kind", "title", "where"});
    has(f["at"], {"file", "line", "column"});
    for (const Json& step : f["working"])
      has(step, {"symbol", "meaning", "formula", "with", "value", "unit", "source"});
    if (f["rule"] != "drop" || f["verdict"] != "fail") continue;
    seen = true;
    CHECK(f["bound"] == "at most");
    CHECK(f["unit"] == "V");
    CHECK(f["limit"].get<double>() == doctest::Approx(0.8));  // EN 1648-2: 0.8 V for circuits
    CHECK(f["measured"].get<double>() > 0.8);
    CHECK(f["margin"].get<double>() == doctest::Approx((0.8 - f["measured"].get<double>()) / 0.8));
    CHECK(f["at"]["line"].get<int>() > 0);
  }
  CHECK(seen);
}

TEST_CASE("energy and wiring answer with the keys of the contract") {
  const Json energy = json_of("energy examples/pellibri.toml", 0)["energy"];
  has(energy, {"months", "appliances", "usable_Wh", "usable_Ah", "autonomy_d"});
  REQUIRE(energy["months"].size() == 12);
  for (const Json& m : energy["months"]) {
    has(m, {"month", "load_Wh", "load_Ah", "solar_Wh", "balance_Wh"});
    CHECK(m["balance_Wh"].get<double>() ==
          doctest::Approx(m["solar_Wh"].get<double>() - m["load_Wh"].get<double>()));
  }
  for (const Json& a : energy["appliances"]) has(a, {"name", "Wh_per_day", "Ah_per_day"});
  const Json wiring = json_of("wiring examples/pellibri.toml", 0)["wiring"];
  for (const Json& c : wiring["cases"]) {
    has(c, {"name", "nodes", "runs", "batteries", "appliances", "converged", "collapse"});
    for (const Json& r : c["runs"])
      has(r, {"name", "current_A", "drop_V", "drop_share", "conductor", "conductor_temperature_C",
              "ampacity_A", "ampacity_table", "ampacity_row", "factors"});
    for (const Json& n : c["nodes"]) has(n, {"name", "voltage_V"});
    for (const Json& a : c["appliances"])
      has(a, {"name", "voltage_V", "path_drop_V", "path_drop_share"});
    for (const Json& b : c["batteries"]) has(b, {"index", "current_A", "share"});
  }
  for (const Json& d : wiring["devices"])
    has(d, {"run", "end", "type", "rating_A", "prospective_max_A", "prospective_min_A",
            "breaking_capacity_A", "clearing_s", "let_through_A2s", "withstand_A2s"});
}

TEST_CASE("wiring answers what is left over and what a change would break") {
  const Json json = json_of("wiring examples/faulty/base.toml", 0);
  has(json, {"choices", "headroom", "beyond", "what_if"});
  CHECK(json["choices"].empty());
  for (const Json& h : json["headroom"]) has(h, {"run", "spare_A", "rule", "subject"});
  for (const Json& w : json["what_if"]) has(w, {"change", "findings"});
  has(json["wiring"], {"faults", "sharing", "charging", "inverters"});
}

TEST_CASE("test-sheet answers with the keys of the contract") {
  const Json json = json_of("test-sheet examples/pellibri.toml --case dinner", 0);
  REQUIRE(json["points"].size() > 20);
  for (const Json& p : json["points"]) {
    has(p, {"name", "expected_V", "low_V", "high_V"});
    CHECK(p["low_V"].get<double>() < p["expected_V"].get<double>());
    CHECK(p["expected_V"].get<double>() < p["high_V"].get<double>());
  }
}

TEST_CASE("cable answers with the keys of the contract and agrees with a hand calculation") {
  // 6 mm², class 5: 3.30 mΩ/m at 20 °C (IEC 60228:2004 table 3), held at 20 °C.
  // 2 · 5 m · 20 A · 3.30 mΩ/m = 0.660 V of 12 V = 5.5 %.
  const Json json = json_of("cable --current '20 A' --length '5 m' --conductor '6 mm2' "
                            "--conductor-temperature '20 °C' --drop '6 %'",
                            0);
  has(json, {"conductor",
             "nominal_area_mm2",
             "copper_area_mm2",
             "resistance_ohm_per_km",
             "conductor_temperature_C",
             "loop_resistance_ohm",
             "current_A",
             "voltage_drop_V",
             "voltage_drop_share",
             "voltage_at_load_V",
             "power_lost_W",
             "drop_limit_share",
             "ampacity_A",
             "ampacity_table",
             "ampacity_row",
             "base_ambient_C",
             "factors",
             "largest_fuse_A",
             "at_worst",
             "unsaid",
             "smallest_for_drop",
             "smallest_for_ampacity",
             "smallest",
             "fuse",
             "verdict",
             "findings",
             "sources",
             "assumed"});
  CHECK(json["resistance_ohm_per_km"].get<double>() == doctest::Approx(3.30).epsilon(1e-9));
  CHECK(json["voltage_drop_V"].get<double>() == doctest::Approx(0.660).epsilon(1e-6));
  CHECK(json["voltage_drop_share"].get<double>() == doctest::Approx(0.055).epsilon(1e-6));
  CHECK(json["voltage_at_load_V"].get<double>() == doctest::Approx(11.34).epsilon(1e-6));
  CHECK(json["power_lost_W"].get<double>() == doctest::Approx(13.2).epsilon(1e-6));
  CHECK(json["conductor_temperature_C"].get<double>() == doctest::Approx(20.0));
}

TEST_CASE("a load that no way can carry is a finding, not a number") {
  // 4 · R · P > U²: 2 · 10 m · 0.75 mm² at 26.0 Ω/km = 0.52 Ω; 4 · 0.52 · 200 = 416 > 144.
  const Json json = json_of("cable --power '200 W' --length '10 m' --conductor '0.75 mm2'", 1);
  CHECK(json["current_A"].is_null());
  CHECK(json["voltage_at_load_V"].is_null());
  bool seen = false;
  for (const Json& f : json["findings"])
    seen = seen || (f["rule"] == "voltage-collapse" && f["verdict"] == "fail");
  CHECK(seen);
}

TEST_CASE("an equal run in a design gives the numbers of cable") {
  const Json cable = json_of(
      "cable --current '8 A' --length '6 m' --conductor '4 mm2' --ambient '40 °C' --joints 4", 0);
  const std::string file = "tests/cli/equal-run.toml";
  const Json wiring = json_of("wiring " + file, 0)["wiring"];
  for (const Json& c : wiring["cases"]) {
    if (c["name"] != "lamp") continue;
    const Json& run = c["runs"][0];
    CHECK(run["current_A"].get<double>() ==
          doctest::Approx(cable["current_A"].get<double>()).epsilon(1e-9));
    CHECK(run["drop_V"].get<double>() ==
          doctest::Approx(cable["voltage_drop_V"].get<double>()).epsilon(1e-9));
    CHECK(run["ampacity_A"].get<double>() ==
          doctest::Approx(cable["ampacity_A"].get<double>()).epsilon(1e-9));
    // 40 °C, 90 °C insulation, terminals of 75 °C: √((75 − 40)/(90 − 30)) beside 0.91
    CHECK(run["factors"]["terminal"].get<double>() ==
          doctest::Approx(std::sqrt(35.0 / 60.0) / 0.91).epsilon(1e-9));
    CHECK(run["factors"] == cable["factors"]);
    return;
  }
  FAIL("no such case");
}

TEST_CASE("cable takes the boat table as printed: 100 A, 24 V, a loop of 10 ft is 6 AWG") {
  // 33 CFR 183.425 table 5, 105 °C, up to two together at 30 °C: 8 AWG 80 A, 6 AWG 120 A. By the drop
  // 8 AWG: 0.778 Ω/kft at 75 °C (NEC table 8), at 30 °C × 264.5/309.5, over 10 ft at 100 A: 0.665 V
  // of the 0.72 V that 3 % allow.
  const Json json = json_of(
      "cable --current '100 A' --voltage '24 V' --length '5 ft' --drop '3 %' --insulation '105 °C' "
      "--conductor-temperature '30 °C' --sizes awg --ampacity-table us-33cfr-183-425",
      0);
  const auto size = [&](const char* key) { return json[key].get<std::string>().substr(0, 2); };
  CHECK(size("smallest_for_drop") == "8 ");
  CHECK(size("smallest_for_ampacity") == "6 ");
  CHECK(size("smallest") == "6 ");
  CHECK(json["ampacity_A"].get<double>() == doctest::Approx(120.0));
  CHECK(json["factors"]["terminal"].get<double>() == 1.0);
}

TEST_CASE("shares of cable count of its own voltage") {
  // 6 mm², 3.30 mΩ/m held at 20 °C: 2 · 4 m · 20 A · 3.30 mΩ/m = 0.528 V: 2.2 % of 24 V
  const std::string run = "cable --current '20 A' --length '4 m' --conductor '6 mm2' "
                          "--conductor-temperature '20 °C' --voltage ";
  CHECK(json_of(run + "'24 V'", 0)["voltage_drop_share"].get<double>() ==
        doctest::Approx(0.022).epsilon(1e-6));
  CHECK(json_of(run + "'48 V'", 0)["voltage_drop_share"].get<double>() ==
        doctest::Approx(0.011).epsilon(1e-6));
  CHECK(json_of(run + "'12 V'", 0)["verdict"] == "caution");  // 4.4 % of 12 V, beyond a habit
  CHECK(json_of(run + "'12 V' --drop '3 %'", 1)["verdict"] == "fail");
}

TEST_CASE("cable answers as assumed and at worst, and passes only what holds there too") {
  // 4 mm², 4F2 42 A at 90 °C, terminals √(45/60), clipped 0.88. At worst 4F1 30 A at 60 °C, 40 °C
  // √(20/30), four circuits 0.65, 3 m within insulation 0.50 · 0.88.
  const double assumed = 42.0 * std::sqrt(45.0 / 60.0) * 0.88;
  const double worst = 30.0 * std::sqrt(20.0 / 30.0) * 0.65 * 0.50 * 0.88;  // 7.01 A
  const std::string run = "cable --current '8 A' --length '3 m' --conductor '4 mm2'";
  const std::string fuse = " --fuse 'iso-8820-3-c 15 A' --bank-resistance '20 mohm' "
                           "--source-resistance '25 mohm' --bank-voltage '13.6 V'";
  const Json json = json_of(run + fuse, 0);
  CHECK(json["ampacity_A"].get<double>() == doctest::Approx(assumed));
  CHECK(json["largest_fuse_A"].get<double>() == doctest::Approx(assumed));
  CHECK(json["at_worst"]["ampacity_A"].get<double>() == doctest::Approx(worst));
  CHECK(json["at_worst"]["ampacity_table"] == "bs-7671-4f1-60");
  CHECK(json["at_worst"]["conductor"] == json["conductor"]);
  CHECK(json["verdict"] == "caution");
  CHECK(json["unsaid"] ==
        Json({"--insulation", "--laid", "--circuits-together", "--ambient", "--joints"}));
  bool said = false;
  for (const Json& f : json["findings"])
    said = said || (f["rule"] == "ampacity" && f["verdict"] == "caution" &&
                    f["cure"].get<std::string>().find("--laid") != std::string::npos);
  CHECK(said);

  const std::string all = " --insulation '90 °C' --laid clipped --circuits-together 1 --ambient "
                          "'30 °C' --joints 4";
  const Json stated = json_of(run + fuse + all, 0);
  CHECK(stated["verdict"] == "pass");
  CHECK(stated["unsaid"].empty());
  CHECK(stated["at_worst"]["ampacity_A"] == stated["ampacity_A"]);
  // without a device at best caution
  CHECK(json_of(run + all, 0)["verdict"] == "caution");
  // what was said stays at worst: 90 °C insulation keeps its table
  CHECK(json_of(run + " --insulation '90 °C'", 0)["at_worst"]["ampacity_table"] ==
        "bs-7671-4f2-90");
}

TEST_CASE("where no size of the series suffices cable fails, whatever the tables of factors hold") {
  // terminals of 75 °C in air of 85 °C, insulation of 90 °C in air of 95 °C: nothing is left
  for (const std::string ambient : {"85 °C", "95 °C"}) {
    CAPTURE(ambient);
    const Json json =
        json_of("cable --current '40 A' --length '2 m' --ambient '" + ambient + "'", 1);
    CHECK(json["smallest_for_ampacity"].is_null());
    bool seen = false;
    for (const Json& f : json["findings"])
      seen = seen || (f["rule"] == "ampacity" && f["verdict"] == "fail");
    CHECK(seen);
  }
  CHECK(json_of("cable --current '1 A' --length '2 m' --conductor '6 mm2' --ambient '85 °C'",
                1)["ampacity_A"]
            .get<double>() == 0.0);
  // a table that does not state its ambient is no answer, and no fail
  CHECK(json_of("cable --current '4 A' --length '2 m' --ampacity-table de-leisure-list",
                0)["verdict"] == "caution");
}

TEST_CASE("cable takes the terminals that belong to the table, or as it is told") {
  const auto ampacity = [](const std::string& more) {
    return json_of("cable --current '5 A' --length '1 m' --conductor " + more, 0)["ampacity_A"]
        .get<double>();
  };
  CHECK(ampacity("'4 mm2' --laid free") == doctest::Approx(42.0 * std::sqrt(45.0 / 60.0)));
  CHECK(ampacity("'4 mm2' --laid free --terminals none") == doctest::Approx(42.0));
  CHECK(ampacity("'4 mm2' --laid free --terminals '60 °C'") ==
        doctest::Approx(42.0 * std::sqrt(30.0 / 60.0)));
  // NEC 310.16, 8 AWG: 40 A at 60 °C, 50 A at 75 °C, 55 A at 90 °C
  CHECK(ampacity("'8 awg' --ampacity-table nec-310-16") == doctest::Approx(40.0));
  CHECK(ampacity("'8 awg' --ampacity-table nec-310-16 --terminals '75 °C'") ==
        doctest::Approx(50.0));
  CHECK(ampacity("'8 awg' --ampacity-table nec-310-16 --terminals none") == doctest::Approx(55.0));
  // a training article: 10 AWG of 90 °C at 120 °F (49 °C) 40 · 0.82 = 32.8 A
  CHECK(ampacity("'10 awg' --ampacity-table nec-310-16 --terminals none --ambient '48.9 °C'") ==
        doctest::Approx(32.8));
  CHECK(run_program("cable --current '5 A' --length '1 m' --terminals '75 A'").exit == 3);
}

TEST_CASE("published worked examples come out of cable by the text's own formula") {
  struct Row {
    std::string_view arguments, key, expected, source;
  };
  for (const Row& row :
       {Row{"--current '10 A' --length '10.5 ft' --method abyc-e11 --sizes awg",
            "smallest_for_drop", "12",
            "a marine retailer's copy of ABYC: 12 V, 10 A, loop 21 ft, 3 %: AWG 12"},
        Row{"--current '10 A' --length '10.5 ft' --method abyc-e11 --conductor-table sae",
            "smallest_for_drop", "10", "a marine catalogue, p. 52: SAE wire 10"},
        Row{"--current '45 A' --length '20 ft' --drop '10 %' --method abyc-e11 --conductor-table "
            "astm-b258",
            "smallest_for_drop", "8", "a supplier's wire-size page: 45 A, loop 40 ft, 10 %: 8 AWG"},
        Row{"--current '60 A' --length '5 m' --drop '1.66667 %' --method en-1648",
            "smallest_for_drop", "70",
            "EN 1648-2 in a public forum thread: at least 60 mm² for 0.2 V"}}) {
    CAPTURE(row.source);
    const Ran ran = run_program("cable " + std::string(row.arguments) + " --format json");
    const Json json = Json::parse(ran.out, nullptr, false);
    REQUIRE(!json.is_discarded());
    const auto name = json[std::string(row.key)].get<std::string>();
    CHECK(name.substr(0, name.find(' ')) == row.expected);
  }
  // A boat owner's page: 1.6 A, loop 22 m, 1.5 mm²: 0.38 V (ISO 10133, 0.0164·I·L/S).
  const Json iso = json_of("cable --current '1.6 A' --length '11 m' --conductor '1.5 mm2' --drop "
                           "'5 %' --method iso-10133",
                           0);
  CHECK(std::floor(iso["voltage_drop_V"].get<double>() * 100.0) == 38.0);
}

TEST_CASE("formula, tables and explain answer with the keys of the contract") {
  const Json worked =
      json_of("formula voltage-drop --with 'L=4 m' --with 'I=15 A' --with 'r=7.98 mohm/m'", 0);
  has(worked, {"value", "unit", "working", "symbols", "formula", "source", "range"});
  CHECK(worked["value"].get<double>() == doctest::Approx(2.0 * 4.0 * 15.0 * 7.98e-3));  // 0.9576 V
  CHECK(worked["unit"] == "V");
  const Json k = json_of("formula k-factor --with 'θ_i=70 °C' --with 'θ_f=160 °C'", 0);
  CHECK(std::round(k["value"].get<double>()) == 115.0);  // NEN 1010 section 543: PVC 70 °C
  CHECK(k["unit"] == "A·√s/mm²");
  CHECK(json_of("formula", 0)["formulas"].size() > 60);
  const Json table = json_of("tables iec-60228-5", 0);
  has(table, {"columns", "rows", "source", "kind"});
  for (const Json& row : table["rows"]) has(row, {"kind", "source"});
  CHECK(json_of("tables", 0)["tables"].size() > 50);
  CHECK(json_of("explain", 0)["rules"].size() == housepower::checks::rules().size());
  has(json_of("explain drop", 0), {"rule", "asks", "why", "cure", "signs", "source"});
}

TEST_CASE("exit codes say what happened") {
  CHECK(run_program("check examples/pellibri.toml").exit == 0);
  CHECK(run_program("check examples/faulty/mass.toml").exit == 1);
  CHECK(run_program("").exit == 2);
  CHECK(run_program("chekc examples/pellibri.toml").exit == 2);
  CHECK(run_program("cable --length '4 m'").exit == 2);
  CHECK(run_program("cable --current '4 m' --length '4 m'").exit == 2);
  CHECK(run_program("check examples/pellibri.toml --set 'vehicle/system_voltage=12 A'").exit == 3);
  CHECK(run_program("check no-such-file.toml").exit == 4);
  CHECK(run_program("check examples/pellibri.toml > /dev/full").exit == 4);
  CHECK(run_program("check - < examples/pellibri.toml").exit == 0);
}

TEST_CASE("bad input is told with file, line, column and what to do") {
  const Json json = json_of("check examples/pellibri.toml --set 'run/fridge/length=4 A'", 3);
  REQUIRE(json["diagnostics"].size() >= 1);
  for (const Json& d : json["diagnostics"])
    has(d, {"severity", "file", "line", "column", "key", "message", "hint"});
}

TEST_CASE("stay answers with the keys of the contract") {
  const Json json =
      json_of("stay examples/pellibri.toml --years 12 --month july --place hobart", 0);
  has(json,
      {"stay_d", "chance", "sampling_interval_d", "input_doubt_d", "promise_met_chance",
       "unlimited", "unserved_share", "weather_kind", "years", "starts", "emptied_by", "levers"});
  CHECK(json["weather_kind"] == "synthetic");
  CHECK(json["years"] == 12);
  CHECK(json["starts"] == 12 * 31);
  CHECK(json["sampling_interval_d"].size() == 2);
  CHECK(json["input_doubt_d"].size() == 2);
  for (const Json& one : json["emptied_by"]) has(one, {"name", "Wh_share"});
  for (const Json& one : json["levers"]) has(one, {"change", "stay_d"});
  CHECK(json["stay_d"].get<double>() > 0.0);
  CHECK(json["stay_d"].get<double>() <= json["stay_new_d"].get<double>());
}

TEST_CASE("stay tells what it assumes of the start, and the charge hour by hour when asked") {
  const std::string stay = "stay examples/pellibri.toml --years 12 --month july --place hobart "
                           "--set 'promise/arrive_at=80 %' --set 'promise/reserve=15 %' "
                           "--set 'place/pitch=part shade' --age '7 y' ";
  const Json plain = json_of(stay, 0), charged = json_of(stay + "--charge", 0);
  for (const Json& json : {plain, charged}) {
    CHECK(json["assumed"]["arrive_at"].get<double>() == doctest::Approx(0.80));
    CHECK(json["assumed"]["reserve"].get<double>() == doctest::Approx(0.15));
    CHECK(json["assumed"]["bank_age_y"].get<double>() == doctest::Approx(7.0));
    CHECK(json["assumed"]["pitch"] == "part shade");
  }
  CHECK(plain["charge"].empty());
  CHECK(charged["stay_d"] == plain["stay_d"]);
  REQUIRE(charged["charge"].size() == 2);
  for (const Json& one : charged["charge"]) {
    CAPTURE(one["name"].get<std::string>());
    // An hour is at most a tenth of the way down from the 80 % of arrival, and none is over full.
    CHECK(one["share"][0].get<double>() > 0.70);
    for (const Json& share : one["share"]) CHECK(share.get<double>() <= 1.0);
    CHECK(double(one["share"].size()) * one["step_h"].get<double>() / 24.0 >=
          one["lasted_d"].get<double>());
  }
  CHECK(charged["charge"][1]["lasted_d"].get<double>() <=
        charged["charge"][0]["lasted_d"].get<double>());
}

TEST_CASE("stay asks for a bank and a place, and knows its names") {
  CHECK(run_program("stay examples/faulty/left-unsaid.toml").exit == 3);
  CHECK(run_program("stay examples/pellibri.toml --place nowhere").exit == 3);
  CHECK(run_program("stay examples/pellibri.toml --month jly").exit == 3);
  CHECK(run_program("stay examples/pellibri.toml --without Kettle").exit == 3);
  CHECK(run_program("stay examples/pellibri.toml --use lavish").exit == 2);
}

}  // namespace cli_contract

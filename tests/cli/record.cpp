// SPDX-License-Identifier: Apache-2.0
// record: a chain of entries that shows any change, and a seal that shows a cut end.
#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <fstream>

#include "housepower/answers/record.hpp"
#include "housepower/reading/sha256.hpp"
#include "support/json_answer.hpp"

namespace cli_record {
namespace {

using namespace housepower;
using namespace housepower::test;

std::string file_name() { return "/tmp/housepower-record-" + std::to_string(getpid()); }
void write(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}
std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("digests are those of coreutils' sha256sum") {
  for (const std::string& text : {std::string(), std::string("abc"), std::string(55, 'x'),
                                  std::string(56, 'y'), std::string(1000, 'z')}) {
    write(file_name(), text);
    const Ran ran = run_shell("sha256sum < " + file_name());
    CHECK(ran.out.substr(0, 64) == sha256_of(text));
  }
  std::remove(file_name().c_str());
}

TEST_CASE("a record is begun, added to and shown, and any change of it is told") {
  const std::string path = file_name();
  std::remove(path.c_str());
  const Ran begun = run_program("record new examples/marrowick.toml --serial M4-0431 --by 'line 4' "
                                "--at '2026-03-14 09:00' -o " +
                                path);
  REQUIRE(begun.exit == 0);
  CHECK(run_program("record add " + path +
                    " --readings examples/readings/marrowick-0431.toml "
                    "--by 'line 4' --at '2026-03-14 10:20'")
            .exit == 0);
  CHECK(run_program("record add " + path + " --released-by 'A. Example'").exit == 0);
  const Json shown = json_of("record show " + path, 0);
  REQUIRE(shown["entries"].size() == 3);
  for (const Json& e : shown["entries"])
    for (const char* key : {"at", "by", "what", "digest", "before"}) CHECK(e.contains(key));
  CHECK(shown["intact"] == true);
  CHECK(shown["entries"][1]["before"] == shown["entries"][0]["digest"]);
  const std::string seal = shown["seal"], text = text_of(path);
  CHECK(run_program("record verify " + path + " --seal " + seal).exit == 0);
  // a changed line, an entry taken out, a cut end
  write(path, replaced(text, "M4-0431", "M4-0432"));
  CHECK(run_program("record verify " + path).exit == 1);
  CHECK(run_program("record add " + path + " --note late").exit == 1);
  const auto second = text.find("entry 2"), third = text.find("entry 3");
  write(path, text.substr(0, second) + replaced(text.substr(third), "entry 3", "entry 2"));
  CHECK(run_program("record verify " + path).exit == 1);
  write(path, text.substr(0, third));
  CHECK(run_program("record verify " + path).exit == 0);
  CHECK(run_program("record verify " + path + " --seal " + seal).exit == 1);
  std::remove(path.c_str());
}

TEST_CASE("what is typed into an entry cannot pass for lines of the record") {
  answers::RecordEntry e;
  e.by = "nobody\nwhat: released";
  e.what = "note";
  e.lines = {"x\nbefore: none"};
  const auto record = answers::read_record(answers::entry_text(1, e, answers::nothing_before), "r");
  CHECK_FALSE(record.broken);
  REQUIRE(record.entries.size() == 1);
  CHECK(record.entries[0].what == "note");
  CHECK(record.entries[0].lines.size() == 1);
}

TEST_CASE("ten thousand entries are verified in a second") {
  std::string text, before(answers::nothing_before);
  answers::RecordEntry e;
  e.at = "2026-03-14 10:20";
  e.by = "line 7";
  e.what = "readings";
  e.lines = std::vector<std::string>(10, "\"W04+\" = \"71 mV\"");
  for (std::size_t i = 1; i <= 10000; ++i) {
    const std::string entry = answers::entry_text(i, e, before);
    before = entry.substr(entry.find("digest: ") + 8, 64);
    text += entry;
  }
  const std::clock_t begin = std::clock();  // of the processor: others may be at work beside it
  const auto record = answers::read_record(text, "r");
  const double took = double(std::clock() - begin) / CLOCKS_PER_SEC;
  if (std::getenv("UBSAN_OPTIONS") == nullptr) CHECK(took < 1.0);  // seconds
  CHECK_FALSE(record.broken);
  CHECK(record.entries.size() == 10000);
}

TEST_CASE("a new record is never written over one that exists") {
  const std::string path = file_name();
  std::remove(path.c_str());
  const std::string make = "record new examples/pellibri.toml --serial 1 -o " + path;
  REQUIRE(run_program(make).exit == 0);
  const std::string before = text_of(path);
  const Ran again = run_program(make);
  CHECK(again.exit == 4);
  CHECK(again.err.find("exists, and a record is never written over") != std::string::npos);
  CHECK(text_of(path) == before);
  std::remove(path.c_str());
}

TEST_CASE("to a record whose end was cut nothing is added where its seal is known") {
  const std::string path = file_name();
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/pellibri.toml --serial 1 -o " + path).exit == 0);
  REQUIRE(run_program("record add " + path + " --note one").exit == 0);
  const std::string text = text_of(path), seal = json_of("record show " + path, 0)["seal"];
  const std::string cut = text.substr(0, text.find("entry 2"));
  write(path, cut);
  const Ran refused = run_program("record add " + path + " --note two --seal " + seal);
  CHECK(refused.exit == 1);
  CHECK(refused.err.find("entries are missing at the end") != std::string::npos);
  CHECK(text_of(path) == cut);
  write(path, text);
  CHECK(run_program("record add " + path + " --note two --seal " + seal).exit == 0);
  std::remove(path.c_str());
}

TEST_CASE("the handover page warns of charge in frost, and speaks of the sources that there are") {
  const auto handed_over = [](const std::string& of_bank, const std::string& more) {
    const std::string van_ = file_name() + ".toml", path = file_name() + ".rec";
    write(van_,
          "schema = 1\n[vehicle]\nname = \"v\"\nsystem_voltage = \"12 V\"\n[rules]\nprofile = "
          "\"au-nz-caravan\"\n[bank]\nchemistry = \"lfp\"\nquantity = 1\ncapacity = \"100 Ah\"\n"
          "nominal_voltage = \"12.8 V\"\n" +
              of_bank + more);
    std::remove(path.c_str());
    REQUIRE(run_program("record new " + van_ + " --serial A1 -o " + path).exit == 0);
    Json page = json_of("record handover " + path, 0);
    std::remove(van_.c_str()), std::remove(path.c_str());
    return page;
  };
  const auto says = [](const Json& page, const std::string& key, const char* what) {
    return page[key].dump().find(what) != std::string::npos;
  };
  const Json colder = handed_over("charge_cut_off_below = \"-20 °C\"\n", "");
  CHECK(says(colder, "never", "Never charge it below 0 °C"));
  CHECK(says(handed_over("charge_cut_off_below = \"5 °C\"\n", ""), "never", "below 5 °C it stops"));
  CHECK(says(handed_over("", ""), "never", "is not stated"));
  CHECK(says(handed_over("no_cold_cut_off = true\n", ""), "never", "nothing prevents it"));
  CHECK_FALSE(says(colder, "wake", "mains"));
  CHECK_FALSE(says(colder, "wake", "tow vehicle"));
  const Json charged =
      handed_over("", "[[charger]]\nname = \"c\"\nkind = \"mains\"\ncurrent = \"10 A\"\n");
  CHECK(says(charged, "wake", "plug in the mains"));
  CHECK_FALSE(says(charged, "wake", "tow vehicle"));
  const Json started =
      handed_over("", "[[charger]]\nname = \"c\"\nkind = \"generator\"\ncurrent = \"10 A\"\n");
  CHECK(says(started, "wake", "start the generator"));
  CHECK_FALSE(says(started, "wake", "mains"));
}

TEST_CASE(
    "readings in a record bring their verdict, and the handover page shows it with the seal") {
  const std::string path = file_name();
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/marrowick.toml --serial M4-0431 -o " + path).exit == 0);
  REQUIRE(run_program("record add " + path +
                      " --readings examples/readings/marrowick-0431.toml --by 'line 4' --at "
                      "'2026-03-14 10:20'")
              .exit == 0);
  CHECK(run_program("record handover " + path).out.find("not released yet") != std::string::npos);
  REQUIRE(run_program("record add " + path + " --released-by 'A. Example' --at '2026-03-15 09:00'")
              .exit == 0);
  const Json shown = json_of("record show " + path, 0);
  CHECK(run_program("record handover " + path).out.find("not released yet") == std::string::npos);
  CHECK(shown["entries"][1]["lines"][0] == "verdict: caution");
  CHECK(shown["entries"][2]["lines"][1] == "readings then: caution");
  const Json page = json_of("record handover " + path, 0);
  CHECK(page["serial"] == "M4-0431");
  CHECK(page["seal"] == shown["seal"]);
  CHECK(page["tested"]["verdict"] == "caution");
  CHECK(page["released"]["by"] == "A. Example");
  CHECK(page["fuses"].size() > 10);
  CHECK(page["isolate"].get<std::string>().find("the isolator in W01") != std::string::npos);
  const Ran text = run_program("record handover " + path);
  CHECK(text.exit == 0);
  for (const std::string& says :
       {std::string("What never to do"), std::string("Where the fuses are"),
        shown["seal"].get<std::string>().substr(0, 30)})
    CHECK(text.out.find(says) != std::string::npos);
  // readings that are not of this design are refused
  write(path + ".toml",
        "schema = 1\n[[measured]]\ncase = \"x\"\nvalues = { \"bank\" = \"13 V\" }\n");
  const Ran kept = run_program("record add " + path + " --readings " + path + ".toml");
  CHECK(kept.exit == 3);
  CHECK(kept.err.find("the design has no case \"x\"") != std::string::npos);
  std::remove((path + ".toml").c_str());
  std::remove(path.c_str());
}

TEST_CASE("a record takes no readings of another van") {
  const std::string path = file_name();
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/marrowick.toml --serial S1 -o " + path).exit == 0);
  const Ran other =
      run_program("record add " + path + " --readings examples/readings/marrowick-0417.toml");
  CHECK(other.exit == 3);
  CHECK(other.err.find("readings of van \"M4-0417\"; the record is of van \"S1\"") !=
        std::string::npos);
  CHECK(json_of("record show " + path, 0)["entries"].size() == 1);
  std::remove(path.c_str());
}

TEST_CASE("readings that pass do not take back a fail before them") {
  const std::string path = file_name(), bad = path + ".toml";
  const std::string readings = HOUSEPOWER_SOURCE_DIR "/examples/readings/marrowick-0417.csv";
  std::remove(path.c_str());
  write(bad, text_of(HOUSEPOWER_SOURCE_DIR "/examples/readings/marrowick-0417.toml") +
                 "\n[[checked]]\nwhat = \"polarity W05\"\nresult = \"no\"\n");
  REQUIRE(run_program("record new examples/marrowick.toml --serial M4-0417 -o " + path).exit == 0);
  const auto add = [&](const std::string& what, const std::string& at) {
    return run_program("record add " + path + " " + what + " --at '" + at + "'").exit;
  };
  REQUIRE(add("--readings " + bad + " --by 'line 4'", "2026-03-14 10:20") <= 1);
  CHECK(add("--released-by 'A. Example'", "2026-03-14 10:30") == 1);
  REQUIRE(add("--readings '" + readings + "' --by 'line 4'", "2026-03-14 11:00") == 0);
  CHECK(add("--released-by 'A. Example'", "2026-03-15 09:00") == 1);
  REQUIRE(add("--released-by 'A. Example' --despite 'W05 turned'", "2026-03-15 09:00") == 0);
  const Json shown = json_of("record show " + path, 0);
  REQUIRE(shown["entries"].size() == 4);  // what was refused left nothing behind
  CHECK(shown["entries"][1]["lines"][0] == "verdict: fail");
  CHECK(shown["entries"][3]["lines"].back() == "despite: W05 turned");
  CHECK(shown["entries"][3]["lines"][1] == "readings then: pass, after fail at 2026-03-14 10:20");
  std::remove(bad.c_str());
  std::remove(path.c_str());
}

namespace {

bool has_line(const Json& entry, const std::string& line) {
  for (const Json& one : entry["lines"])
    if (one == line) return true;
  return false;
}

}  // namespace

TEST_CASE("what was not tested stands in the entry of the readings and on the handover page") {
  const std::string path = file_name();
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/marrowick.toml --serial M4-0417 -o " + path).exit == 0);
  REQUIRE(run_program("record add " + path + " --readings examples/readings/marrowick-0417.toml")
              .exit == 0);
  const Json entry = json_of("record show " + path, 0)["entries"][1];
  CHECK(entry["lines"][0] == "verdict: caution");
  CHECK(entry["lines"][1].get<std::string>().starts_with("not tested: 14 runs: W03, "));
  CHECK(entry["lines"][2].get<std::string>().starts_with("not tested: all "));
  CHECK(json_of("record handover " + path, 0)["not_tested"].size() == 2);
  std::remove(path.c_str());
}

TEST_CASE("what was not tested when a van is released stands in its record") {
  const std::string path = file_name();
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/marrowick.toml --serial M4-0417 -o " + path).exit == 0);
  const std::string release = "record add " + path + " --released-by 'A. Example'";
  const auto says = [&](const char* what) { return text_of(path).find(what) != std::string::npos; };
  REQUIRE(run_program(release).exit == 0);
  CHECK(says("readings then: none"));
  REQUIRE(run_program("record add " + path + " --readings examples/readings/marrowick-0417.toml")
              .exit == 0);
  REQUIRE(run_program(release).exit == 0);
  CHECK(says("readings then: caution"));
  REQUIRE(
      run_program("record add " + path + " --readings examples/readings/marrowick-0417.csv").exit ==
      0);
  REQUIRE(run_program(release).exit == 0);
  CHECK(says("readings then: pass"));
  std::remove(path.c_str());
}

TEST_CASE("the handover page names what an isolator does not switch off") {
  const std::string path = file_name(), design = path + ".toml";
  std::remove(path.c_str());
  std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/examples/two-berth.toml");
  text =
      replaced(text, "resistance = \"0.2 mΩ\" }]", "resistance = \"0.2 mΩ\", pole = \"return\" }]");
  const auto isolate = [&] {
    write(design, text);
    std::remove(path.c_str());
    REQUIRE(run_program("record new " + design + " --serial T -o " + path).exit == 0);
    return json_of("record handover " + path, 0)["isolate"].get<std::string>();
  };
  CHECK(isolate().find("Still fed") == std::string::npos);
  text = replaced(text, "to = \"Fridge\"\n",
                  "to = \"Fridge\"\nreturn = { to = \"bank\", length = \"6 m\", conductor = \"10 "
                  "mm2\" }\n");
  CHECK(isolate().find("Still fed: Fridge.") != std::string::npos);
  std::remove(design.c_str());
  std::remove(path.c_str());
}

TEST_CASE("the first entry holds the design's verdicts; what fails for safety is not released") {
  const std::string path = file_name();
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/faulty/ampacity.toml --serial F1 -o " + path).exit == 0);
  const std::string text = text_of(path);
  const Json first = json_of("record show " + path, 0)["entries"][0];
  bool verdict = false;
  for (const Json& line : first["lines"])
    verdict = verdict || line.get<std::string>().starts_with("design verdict: safety fail (");
  CHECK(verdict);
  CHECK(has_line(first, "fails: ampacity run/foot warmer in everything-on"));
  const Ran refused = run_program("record add " + path + " --released-by 'A. Example'");
  CHECK(refused.exit == 1);
  CHECK(refused.err.find("not released") != std::string::npos);
  CHECK(refused.err.find("ampacity run/foot warmer") != std::string::npos);
  CHECK(text_of(path) == text);
  REQUIRE(run_program("record add " + path +
                      " --released-by 'A. Example' --despite 'for the crash test, bank taken out'")
              .exit == 0);
  const Json released = json_of("record show " + path, 0)["entries"][1];
  CHECK(has_line(released, "despite: for the crash test, bank taken out"));
  const Json page = json_of("record handover " + path, 0);
  CHECK(page["released"]["despite"] == "for the crash test, bank taken out");
  CHECK(page["design_verdicts"].get<std::string>().starts_with("safety fail"));
  CHECK(run_program("record add " + path + " --note x --despite y").exit == 2);
  std::remove(path.c_str());
}

TEST_CASE("options and parts by serial are kept, replaced, shown and held against a design") {
  const std::string path = file_name(), design = path + ".toml";
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/marrowick.toml --serial M4-0417 --option 'winter pack' "
                      "--part 'bank/battery/1=SN 123' --part 'bank/battery/2 = SN 124' -o " +
                      path)
              .exit == 0);
  REQUIRE(run_program("record add " + path + " --part 'bank/battery/2=SN 300'").exit == 0);
  const Json shown = json_of("record show " + path, 0);
  CHECK(shown["options"] == Json::array({"winter pack"}));
  REQUIRE(shown["parts"].size() == 2);
  CHECK(shown["parts"][0]["serial"] == "SN 123");
  CHECK(shown["parts"][1]["path"] == "bank/battery/2");
  CHECK(shown["parts"][1]["serial"] == "SN 300");
  CHECK(has_line(shown["entries"][0], "part: bank/battery/2 = SN 124"));  // and stays readable
  const Json page = json_of("record handover " + path, 0);
  CHECK(page["parts"] == shown["parts"]);
  CHECK(page["options"] == shown["options"]);
  CHECK(run_program("record handover " + path).out.find("SN 300") != std::string::npos);
  const Ran wrong = run_program("record add " + path + " --part 'bank/batery/1=SN 1'");
  CHECK(wrong.exit == 2);
  CHECK(wrong.err.find("did you mean \"bank/battery/1\"?") != std::string::npos);
  CHECK(run_program("record add " + path + " --part bank/battery/1").exit == 2);
  CHECK(run_program("record add " + path + " --part bank/battery/1=2 --note x").exit == 2);
  // a design of one battery has no place for the second
  write(design, "schema = 1\nextends = \"" HOUSEPOWER_SOURCE_DIR
                "/examples/marrowick.toml\"\n[bank]\nquantity = 1\ntakeoff_from = [1, 1]\n");
  const Ran ran = run_program("record check " + path + " --design " + design + " --format json");
  const Json check = Json::parse(ran.out);
  REQUIRE(check["parts_not_in_design"].size() == 1);
  CHECK(check["parts_not_in_design"][0]["path"] == "bank/battery/2");
  CHECK(check["verdict"] != "pass");
  const Json same = json_of("record check " + path + " --design examples/marrowick.toml", 0);
  CHECK(same["parts_not_in_design"].empty());
  CHECK(same["verdict"] == "pass");
  // a serial that was changed by hand shows
  write(path, replaced(text_of(path), "SN 300", "SN 301"));
  CHECK(run_program("record verify " + path).exit == 1);
  std::remove(design.c_str());
  std::remove(path.c_str());
}

TEST_CASE("a run that the design renamed is judged with the copper that was built") {
  const std::string path = file_name(), design = path + ".toml";
  std::remove(path.c_str());
  REQUIRE(run_program("record new examples/marrowick.toml --serial M4-0417 -o " + path).exit == 0);
  // 90 W through the 2.5 mm² that was built for 20 W; the design of today has 16 mm², by another name
  std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/examples/marrowick.toml");
  const auto run = text.find("name = \"lights\"");
  REQUIRE(run != std::string::npos);
  text.replace(run, 15, "name = \"new lights\"");
  write(design, text);
  const std::string check = "record check " + path + " --design " + design;
  const Json same = json_of(check, 0);
  REQUIRE(same["renamed"].size() == 1);
  CHECK(same["renamed"][0]["built"] == "lights");
  CHECK(same["renamed"][0]["now"] == "new lights");
  CHECK(same["not_built"].empty());
  const auto size = text.find("conductor = \"2.5 mm2\"", run);
  REQUIRE(size != std::string::npos);
  text.replace(size, 21, "conductor = \"16 mm2\"");
  const auto lamp = text.find("power = \"20 W\"", text.find("name = \"Lights\""));
  REQUIRE(lamp != std::string::npos);
  text.replace(lamp, 14, "power = \"90 W\"");
  write(design, text);
  const Json changed = json_of(check, 1);
  CHECK(changed["verdict"] == "fail");
  bool drop = false;
  for (const Json& f : changed["findings"])
    drop = drop || (f["rule"] == "drop" && f["subject"] == "appliance/Lights");
  CHECK(drop);
  // a run that the van has and the design no longer is named: nobody judged it
  const auto begin = text.rfind("[[run]]", text.find("name = \"bank to jump posts\""));
  text.erase(begin, text.find("[[run]]", begin + 1) - begin);
  write(design, text);
  const Json less = Json::parse(run_program(check + " --format json").out);
  CHECK(less["left_out"] == Json::array({"bank to jump posts"}));
  std::remove(design.c_str());
  std::remove(path.c_str());
}

TEST_CASE(
    "under a changed design a record shows what its van would now fail, from the record alone") {
  const std::string path = file_name(), design = path + ".toml";
  std::remove(path.c_str());
  write(design, "schema = 1\nextends = \"" HOUSEPOWER_SOURCE_DIR "/examples/pellibri.toml\"\n");
  REQUIRE(run_program("record new " + design + " --serial P1 -o " + path).exit == 0);
  const std::string check = "record check " + path + " --design " + design;
  const Json same = json_of(check, 0);
  CHECK(same["differences"].empty());
  CHECK(same["findings"].empty());
  // the bank's run was built with what the design had; now it asks for thicker, and for more load
  const std::string text = text_of(HOUSEPOWER_SOURCE_DIR "/examples/pellibri.toml");
  const auto run = text.find("[[run]]");
  const auto name = text.find("name = \"", run) + 8;
  const std::string first = text.substr(name, text.find('"', name) - name);
  const auto appliance = text.find("name = \"", text.find("[[appliance]]")) + 8;
  const std::string fridge = text.substr(appliance, text.find('"', appliance) - appliance);
  write(design, "schema = 1\nextends = \"" HOUSEPOWER_SOURCE_DIR
                "/examples/pellibri.toml\"\n[[run]]\nname = \"" +
                    first + "\"\nconductor = \"95 mm2\"\n[[appliance]]\nname = \"" + fridge +
                    "\"\npower = \"1500 W\"\n");
  const Json changed = json_of(check, 1);
  CHECK(changed["verdict"] == "fail");
  CHECK_FALSE(changed["findings"].empty());
  bool conductor = false;
  for (const Json& d : changed["differences"])
    conductor = conductor || d["path"] == "run/" + first + "/conductor";
  CHECK(conductor);
  std::remove(design.c_str());
  std::remove(path.c_str());
}

}  // namespace cli_record

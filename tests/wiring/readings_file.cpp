// SPDX-License-Identifier: Apache-2.0
// Readings as a file: what is understood, and what is told at its line and column.
#include "housepower/wiring/readings_file.hpp"

#include "housepower/wiring/dead_tests.hpp"
#include "rig.hpp"

namespace wiring_readings_file {

using namespace rig;

namespace {

/// 10 A through 4 m of 6 mm² out and back; a second lamp that one case leaves off.
const std::string lamps = bank +
                          appliance("Lamp", "current = \"10 A\"\nbehaves = \"constant-current\"") +
                          appliance("Spot", "current = \"8 A\"\nbehaves = \"constant-current\"") +
                          run("lamp", "bank", "Lamp", "4 m", "6 mm2", "label = \"W1\"") +
                          run("spot", "bank", "Spot", "3 m", "4 mm2", "label = \"W2\"") +
                          "[[case]]\nname = \"evening\"\nrunning = [\"Lamp\"]\n"
                          "[[case]]\nname = \"late\"\nrunning = [\"Spot\"]\n"
                          "[[case]]\nname = \"both\"\nrunning = [\"Lamp\", \"Spot\"]\n";

std::vector<TestLoad> cases_of(const Rig& r) {
  std::vector<TestLoad> all;
  for (const auto& c : r.design()->cases) {
    TestLoad& one = all.emplace_back();
    one.name = c.name;
    one.running = c.running;
  }
  return all;
}

struct Tried_ {
  std::optional<ReadingsFile> file;
  Diagnostics diagnostics;
  [[nodiscard]] const Diagnostic& only() const {
    REQUIRE(diagnostics.all.size() == 1);
    return diagnostics.all.front();
  }
};
Tried_ read(const Rig& r, const std::string& text, std::string_view name = "van.toml") {
  Tried_ tried;
  tried.file = read_readings(text, name, r.design(), r.found, cases_of(r), tried.diagnostics);
  return tried;
}
/// One case with these values, on line 4.
std::string measured(const std::string& values, const std::string& of_case = "evening") {
  return "schema = 1\n[[measured]]\ncase = \"" + of_case + "\"\nvalues = { " + values + " }\n";
}
bool is_at(const Diagnostic& d, int line, int column) {
  return d.place.line == line && d.place.column == column;
}

}  // namespace

TEST_CASE("readings go by labels, paths and clamps, with who, when and by what meter") {
  const Rig r(lamps);
  const auto tried = read(r, R"(schema = 1
[van]
serial = "T2-0417"
design = "two-berth.toml"
[[measured]]
case = "evening"
at = "2026-03-14 10:20"
by = "line 7"
meter = { voltage = "0.5 %", voltage_least = "2 mV", current = "3 %", current_least = "0.2 A" }
resting_voltage = "13.31 V"
values = { "W1+" = "138 mV", "W1-" = "0.137 V", "bank" = "13.25 V", "clamp W1" = "10.1 A", "run/lamp/return/current" = "10 A" }
[[checked]]
what = "bank to chassis"
value = "2.1 MΩ"
)");
  for (const auto& d : tried.diagnostics.all) MESSAGE(d.message);
  REQUIRE(tried.file);
  const ReadingsFile& f = *tried.file;
  CHECK(f.serial == "T2-0417");
  REQUIRE(f.cases.size() == 1);
  const MeasuredCase& c = f.cases.front();
  CHECK(c.load.resting->value() == about(13.31));
  CHECK(double(c.meter.voltage) == about(0.005));
  CHECK(c.meter.drops_least.value() == about(2e-3));
  CHECK(c.meter.current_least.value() == about(0.2));
  REQUIRE(c.values.size() == 5);
  CHECK(c.values[0].path == "run/lamp/outgoing");
  CHECK(c.values[0].value.si == about(0.138));
  CHECK(c.values[1].path == "run/lamp/return");
  CHECK(c.values[2].path == "bank");
  CHECK(c.values[3].path == "run/lamp/outgoing/current");
  CHECK(c.values[4].path == "run/lamp/return/current");
  CHECK(f.told.front().by == "line 7");
  CHECK(f.told.front().values[0].line == 11);
  REQUIRE(f.checked.size() == 1);
  CHECK(f.checked.front().value == "2.1 MΩ");
}

TEST_CASE("a point that the sheet does not have is told with the nearest one") {
  const auto tried = read(Rig(lamps), measured("\"W7+\" = \"70 mV\", \"bank\" = \"13.2 V\""));
  CHECK_FALSE(tried.file);
  CHECK(is_at(tried.only(), 4, 12));
  CHECK(tried.only().message == "the sheet has no point \"W7+\"");
  CHECK(tried.only().hint.find("W1+") != std::string::npos);
}

TEST_CASE("a wrong unit is told where it stands") {
  const auto tried = read(Rig(lamps), measured("\"W1+\" = \"138 mA\""));
  CHECK(is_at(tried.only(), 4, 20));
  CHECK(tried.only().message.find("wants a voltage") != std::string::npos);
  CHECK(read(Rig(lamps), measured("\"clamp W1\" = \"10 V\"")).only().message.find("a current") !=
        std::string::npos);
  CHECK(read(Rig(lamps), measured("\"W1+\" = 138")).only().message.find("with its unit") !=
        std::string::npos);
}

TEST_CASE(
    "a drop may be all that the bank has; beyond, and at a post, a slip of a thousand is refused") {
  const Rig r(lamps);
  const auto volts = read(r, measured("\"W1+\" = \"138 V\""));
  CHECK(is_at(volts.only(), 4, 20));
  CHECK(volts.only().message.find("reads 138 V, expected") == 0);
  CHECK(volts.only().hint == "were millivolts meant?");
  const auto millivolts = read(r, measured("\"bank\" = \"13.2 mV\""));
  CHECK_FALSE(millivolts.file);
  CHECK(millivolts.only().hint == "were volts meant?");
  // a post behind an open fuse shows next to nothing
  CHECK(read(r, measured("\"Lamp\" = \"10 mV\", \"bank\" = \"13.2 V\"")).file);
  // an open fuse has all of it, and more than 1.2 times what the bank rests at is nowhere
  CHECK(read(r, measured("\"W1+\" = \"13.1 V\"")).file);
  CHECK_FALSE(read(r, measured("\"W1+\" = \"18 V\"")).file);
  // a joint that is far too bad is no slip of the pen: ten times what is expected
  const auto bad = read(r, measured("\"W1+\" = \"1400 mV\""));
  CHECK(bad.file);
  CHECK(bad.diagnostics.all.empty());
}

TEST_CASE("a drop that can be and looks like a slip of a thousand is warned of and kept") {
  const Rig r(lamps);
  // 4 m of 6 mm² under 10 A: 0.14 V; at a tenth of an ampere more it would be 1.4 mV
  const std::string small =
      bank + appliance("Clock", "current = \"0.5 A\"\nbehaves = \"constant-current\"") +
      run("clock", "bank", "Clock", "4 m", "6 mm2", "label = \"W1\"") +
      "[[case]]\nname = \"evening\"\nrunning = [\"Clock\"]\n";
  const auto volts = read(Rig(small), measured("\"W1+\" = \"7 V\""));
  REQUIRE(volts.file);
  CHECK(volts.file->cases.at(0).values.at(0).value.si == about(7.0));
  CHECK(volts.only().severity == Severity::warning);
  CHECK(volts.only().hint == "were millivolts meant?");
  CHECK(is_at(volts.only(), 4, 20));
  const auto less = read(r, measured("\"W1+\" = \"0.138 mV\", \"bank\" = \"13.2 V\""));
  REQUIRE(less.file);
  CHECK(less.only().severity == Severity::warning);
  CHECK(less.only().hint == "were volts meant?");
}

TEST_CASE("a part that loses more than the whole is told with both places") {
  const std::string fused =
      bank + appliance("Lamp", "current = \"10 A\"\nbehaves = \"constant-current\"") +
      run("lamp", "bank", "Lamp", "4 m", "6 mm2",
          "label = \"W1\"\njoints = 6\njoint_resistance = \"0.5 mΩ\"\nprotection = [{ end = "
          "\"from\", "
          "type = \"iso-8820-3-c\", rating = \"30 A\", distance = \"1 m\" }]") +
      "[[case]]\nname = \"evening\"\nrunning = [\"Lamp\"]\n";
  const Rig r(fused);
  const auto device = read(r, measured("\"W1+\" = \"150 mV\", \"W1 fuse\" = \"210 mV\""));
  CHECK(is_at(device.only(), 4, 42));
  CHECK(device.only().message == "reads 0.21 V, but all of W1+ 0.15 V at van.toml:4:20");
  const auto joints =
      read(r, measured("\"W1+\" = \"150 mV\", \"W1-\" = \"140 mV\", \"W1 joints\" = \"400 mV\""));
  CHECK(joints.only().message == "reads 0.4 V, but all of W1+ and W1− 0.29 V at van.toml:4:20");
  // within twice the meter's errors it may be
  CHECK(read(r, measured("\"W1+\" = \"20 mV\", \"W1 fuse\" = \"21 mV\", \"bank\" = \"13.2 V\""))
            .file);
}

TEST_CASE("two values of one point that contradict each other are told, two that agree are kept") {
  const auto tried =
      read(Rig(lamps), measured("\"W1+\" = \"138 mV\", \"run/lamp/outgoing\" = \"190 mV\""));
  CHECK(is_at(tried.only(), 4, 52));
  CHECK(tried.only().message == "reads 0.19 V, but 0.138 V at van.toml:4:20");
  const auto agree =
      read(Rig(lamps), measured("\"W1+\" = \"138 mV\", \"run/lamp/outgoing\" = \"139 mV\""));
  REQUIRE(agree.file);
  CHECK(agree.file->cases.front().values.size() == 2);
  const auto again =
      read(Rig(lamps), measured("\"W1+\" = \"138 mV\"") + "[[measured]]\ncase = \"evening\"\n"
                                                          "values = { \"W1+\" = \"190 mV\" }\n");
  CHECK(is_at(again.only(), 7, 20));
}

TEST_CASE("a case that is not in the design, or was not on, is told") {
  const auto unknown = read(Rig(lamps), measured("\"W1+\" = \"138 mV\"", "evenings"));
  CHECK(unknown.only().message == "the design has no case \"evenings\"");
  CHECK(unknown.only().hint.find("evening") != std::string::npos);
  CHECK(unknown.only().place.line == 2);
  const auto dead =
      read(Rig(lamps), measured("\"W1+\" = \"0 mV\", \"W1-\" = \"0.2 mV\", \"bank\" = \"13.3 V\""));
  CHECK(dead.only().message.find("was not on") != std::string::npos);
  // nothing flows in the spot's run while only the lamp is on
  const auto idle = read(Rig(lamps), measured("\"W2+\" = \"138 mV\""));
  CHECK(idle.only().message == "no current flows there in evening, so nothing is read");
}

TEST_CASE("the drops of another case are told as that case") {
  const auto on_panel = [](const char* name, const char* current) {
    return appliance(name, std::string("current = \"") + current +
                               "\"\non = \"panel\"\nbehaves = \"constant-current\"");
  };
  const Rig r(
      bank + node("panel") + on_panel("Fan", "4 A") + on_panel("Heater", "15 A") +
      run("panel", "bank", "panel", "4 m", "10 mm2",
          "joints = 6\njoint_resistance = \"0.2 mΩ\"\nprotection = [{ end = \"from\", type = "
          "\"iso-8820-3-c\", rating = \"30 A\", distance = \"1 m\" }]") +
      "[[case]]\nname = \"fan\"\nrunning = [\"Fan\"]\n"
      "[[case]]\nname = \"heater\"\nrunning = [\"Heater\"]\n");
  const auto answer = test_sheet(r.design(), r.found, cases_of(r).at(1));
  std::string values;
  for (const auto& reading : std::get<TestSheet>(answer).readings)
    if (reading.kind != wiring::Reading::Kind::posts)
      values += (values.empty() ? "\"" : ", \"") + reading.name.text() + "\" = \"" +
                std::to_string(1e3 * reading.expected.value()) + " mV\"";
  CHECK(read(r, measured(values, "heater")).file);
  const auto tried = read(r, measured(values, "fan"));
  CHECK(tried.only().message == "case \"fan\" was not on: the drops are those of \"heater\"");
  CHECK(tried.only().hint == "case = \"heater\"");
}

TEST_CASE("the sheet as CSV is read with its column filled in, whatever parts its cells") {
  const Rig r(lamps);
  const std::string head = "case,point,label,leads,expected,low,high,unit,read\r\n";
  const auto tried = read(r,
                          head + "evening,bank/resting,\"bank, nothing on\",,13.30,,,V,13.31\r\n"
                                 "evening,run/lamp/outgoing,W1+,\"a, b\",138.0,1,2,mV,141.5\r\n"
                                 "evening,run/lamp/return,W1−,\"a, b\",138.0,1,2,mV,\r\n"
                                 "evening,run/lamp/outgoing/current,clamp W1,,10,9,11,A,10.2\r\n",
                          "van.csv");
  for (const auto& d : tried.diagnostics.all) MESSAGE(d.message);
  REQUIRE(tried.file);
  const MeasuredCase& c = tried.file->cases.at(0);
  CHECK(c.load.resting->value() == about(13.31));
  REQUIRE(c.values.size() == 2);
  CHECK(c.values[0].value.si == about(0.1415));
  CHECK(c.values[1].value.si == about(10.2));
  const auto semicolons =
      read(r, "case;point;unit;read\nevening;run/lamp/outgoing;mV;141,5\n", "van.csv");
  REQUIRE(semicolons.file);
  CHECK(semicolons.file->cases.at(0).values.at(0).value.si == about(0.1415));
  const auto wrong =
      read(r, "case,point,unit,read\nevening,run/lamp/outgoing,mV,much\n", "van.csv");
  CHECK(is_at(wrong.only(), 2, 30));
  CHECK(read(r, "case,point,unit\nevening,bank,V\n", "van.csv").only().message ==
        "the sheet has no column \"read\"");
}

TEST_CASE("a label that two points bear is asked for by its path") {
  const std::string twice =
      bank + node("W2 fuse") +
      appliance("Lamp", "current = \"10 A\"\nbehaves = \"constant-current\"") +
      run("feed", "bank", "W2 fuse", "1 m", "6 mm2", "label = \"W1\"") +
      run("lamp", "W2 fuse", "Lamp", "4 m", "6 mm2",
          "label = \"W2\"\nprotection = [{ end = \"from\", type = \"iso-8820-3-c\", rating = \"30 "
          "A\", "
          "distance = \"1 m\" }]") +
      "[[case]]\nname = \"evening\"\nrunning = [\"Lamp\"]\n";
  const Rig r(twice);
  const auto tried = read(r, measured("\"W2 fuse\" = \"12 mV\""));
  CHECK(tried.only().message == "\"W2 fuse\" is more than one point");
  CHECK(tried.only().hint.find("run/lamp/protection/0") != std::string::npos);
  CHECK(read(r, measured("\"run/lamp/protection/0\" = \"15 mV\"")).file);
}

TEST_CASE("a CSV takes decimal commas, passes over what is empty, and is known by its ending in "
          "any letters") {
  const Rig r(lamps);
  const auto tried = read(r,
                          "Case;Point;Unit;Read\nevening;bank/resting;V;13,31\n"
                          "evening;run/lamp/outgoing;mV;141,5\nevening;run/lamp/return;mV;\n"
                          "evening;bank;V;  \nevening;run/lamp/outgoing/current;A;−10,2\n",
                          "VAN.CSV");
  for (const auto& d : tried.diagnostics.all) MESSAGE(d.message);
  REQUIRE(tried.file);
  const MeasuredCase& c = tried.file->cases.at(0);
  CHECK(c.load.resting->value() == about(13.31));
  REQUIRE(c.values.size() == 2);
  CHECK(c.values[0].value.si == about(0.1415));
  CHECK(c.values[1].value.si == about(-10.2));
  const auto with_units =
      read(r, "case,point,unit,read\nevening,run/lamp/outgoing,mV,\"0,1415 V\"\n", "van.csv");
  REQUIRE(with_units.file);
  CHECK(with_units.file->cases.at(0).values.at(0).value.si == about(0.1415));
}

TEST_CASE("a resting voltage that no bank has is told where it stands, in either form") {
  const Rig r(lamps);
  const auto csv = read(
      r, "case,point,unit,read\nevening,bank/resting,V,1.331\nevening,run/lamp/outgoing,mV,141\n",
      "van.csv");
  CHECK(is_at(csv.only(), 2, 24));
  CHECK(csv.only().message == "no bank of 4 cells in series rests at 1.331 V");
  const auto toml =
      read(r, "schema = 1\n[[measured]]\ncase = \"evening\"\nresting_voltage = \"26.6 V\"\n"
              "values = { \"W1+\" = \"141 mV\" }\n");
  CHECK(is_at(toml.only(), 4, 19));
  CHECK(read(r, "schema = 1\n[[measured]]\ncase = \"evening\"\nresting_voltage = \"-1 V\"\n"
                "values = { \"W1+\" = \"141 mV\" }\n")
            .diagnostics.any_error());
}

TEST_CASE("what was seen holds by yes or no, a dead test by its limit") {
  const Rig r(lamps);
  const auto checked = [&](const std::string& more) {
    return read(r, measured("\"W1+\" = \"138 mV\"") + "[[checked]]\n" + more);
  };
  const auto holds = [&](const std::string& more) {
    const auto tried = checked(more);
    REQUIRE(tried.file);
    return tried.file->checked.at(0).holds;
  };
  CHECK(holds("what = \"polarity W1\"\nresult = \"yes\"\n") == true);
  CHECK(holds("what = \"polarity W1\"\nresult = \"No\"\n") == false);
  // 0.5 MΩ at the least: IEC 60364-6 for extra-low voltage, from memory
  CHECK(holds("what = \"bank to chassis\"\nvalue = \"2.1 MΩ\"\n") == true);
  CHECK(holds("what = \"bank to chassis\"\nvalue = \"0.4 MΩ\"\n") == false);
  for (const std::string beyond : {"OL", "OL MΩ", "O.L", " open ", "over range", "> 20 MΩ"})
    CHECK(holds("what = \"bank to chassis\"\nvalue = \"" + beyond + "\"\n") == true);
  CHECK(holds("what = \"bank to chassis\"\nvalue = \"> 3 Ω\"\n") == false);
  for (const std::string figure : {"open 3 Ω", "OL 3 Ω", "open, then 3", "opened"})
    CHECK(checked("what = \"bank to chassis\"\nvalue = \"" + figure + "\"\n")
              .diagnostics.any_error());
  CHECK_FALSE(holds("what = \"tyre pressure\"\nvalue = \"3 bar\"\n").has_value());
  CHECK(checked("what = \"polarity W1\"\nresult = \"perhaps\"\n").only().message ==
        "the result of \"polarity W1\" is yes or no, not \"perhaps\"");
  CHECK(checked("what = \"bank to chassis\"\nvalue = \"2.1 V\"\n").diagnostics.any_error());
  CHECK(holds("what = \" Bank to chassis \"\nvalue = \"0.4 MΩ\"\n") == false);
  CHECK(checked("what = \"bank to chasis\"\nvalue = \"3 Ω\"\n").only().message ==
        "no test is called \"bank to chasis\"");
  const auto csv = read(r,
                        "case,point,unit,read\n,checked/bank to chassis,MΩ,0.2\n,checked/polarity "
                        "W1,yes or no,no\nevening,run/lamp/outgoing,mV,141\n",
                        "van.csv");
  REQUIRE(csv.file);
  REQUIRE(csv.file->checked.size() == 2);
  CHECK(csv.file->checked[0].holds == false);
  CHECK(csv.file->checked[1].holds == false);
}

TEST_CASE("runs that were not switched on and dead tests that were not done are left open") {
  const Rig r(lamps);
  const auto coverage = [&](const std::string& of_case, const std::string& more) {
    const auto tried = read(
        r, measured(of_case == "late" ? "\"W2+\" = \"120 mV\"" : "\"W1+\" = \"138 mV\"", of_case) +
               more);
    REQUIRE(tried.file);
    const auto answer = diagnose(r.design(), r.found, tried.file->cases);
    REQUIRE(std::holds_alternative<Diagnosis>(answer));
    return coverage_of(r.design(), r.found, std::get<Diagnosis>(answer), tried.file->checked, {});
  };
  const auto evening = coverage("evening", "");
  REQUIRE(evening.runs.size() == 1);
  CHECK(evening.runs[0].run.index == 1);
  CHECK_FALSE(evening.runs[0].why);  // the case "late" sends 8 A through it
  CHECK(evening.open_runs() == 1);
  CHECK(evening.dead.size() == evening.dead_tests);
  CHECK(coverage("both", "").runs.empty());
  // a polarity that holds does not stand for a load that there is
  const auto seen = coverage("evening", "[[checked]]\nwhat = \" Polarity W2\"\nresult = \"yes\"\n");
  CHECK(seen.runs.at(0).by_hand);
  CHECK(seen.open_runs() == 1);
  CHECK(seen.dead.size() + 1 == seen.dead_tests);
  // a value that nothing judges is no result of what is seen
  CHECK(coverage("evening", "[[checked]]\nwhat = \"polarity W2\"\nvalue = \"3 Ω\"\n").dead.size() ==
        seen.dead_tests);
}

TEST_CASE("a run that no load reaches is settled by its polarity") {
  const Rig r(lamps + run("spare", "bank", "posts", "2 m", "6 mm2", "label = \"W3\"") +
              node("posts"));
  const auto coverage = [&](const std::string& more) {
    const auto tried = read(r, measured("\"W1+\" = \"138 mV\"", "both") + more);
    REQUIRE(tried.file);
    const auto answer = diagnose(r.design(), r.found, tried.file->cases);
    REQUIRE(std::holds_alternative<Diagnosis>(answer));
    return coverage_of(r.design(), r.found, std::get<Diagnosis>(answer), tried.file->checked, {});
  };
  const auto none = coverage("");
  REQUIRE(none.runs.size() == 1);
  CHECK(none.runs[0].why == Untested::Why::no_load);
  CHECK(none.open_runs() == 1);
  const std::string polarity = "[[checked]]\nwhat = \"polarity W3\"\nresult = ";
  CHECK(coverage(polarity + "\"yes\"\n").open_runs() == 0);
  CHECK(coverage(polarity + "\"no\"\n").open_runs() == 1);
}

TEST_CASE("a reading that may be one of thousands is refused, unless semicolons part the cells") {
  const Rig r(lamps);
  const auto value = [&](const std::string& rows) {
    const auto tried = read(r, "case;point;unit;read\n" + rows, "van.csv");
    REQUIRE(tried.file);
    return tried.file->cases.at(0).values.at(0).value.si;
  };
  // all decimals of a sheet with semicolons have commas
  CHECK(value("evening;run/lamp/outgoing;mV;141,525\n") == about(0.141525));
  CHECK(value("evening;run/lamp/outgoing;mV;141.525\n") == about(0.141525));
  const auto quoted =
      read(r, "case,point,unit,read\nevening,run/lamp/outgoing,mV,\"141,525\"\n", "van.csv");
  CHECK(is_at(quoted.only(), 2, 30));
  CHECK(quoted.only().message == "may be read in two ways, as 141.525 or as 141525");
  const auto both = read(r,
                         "case;point;unit;read\nevening;run/lamp/outgoing;mV;141.525\n"
                         "evening;run/lamp/outgoing/current;A;10,2\n",
                         "van.csv");
  CHECK(both.only().message == "may be read in two ways, as 141.525 or as 141525");
}

}  // namespace wiring_readings_file

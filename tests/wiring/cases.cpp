// SPDX-License-Identifier: Apache-2.0
// Load cases of whole designs against calculations written out here. Resistances per length are
// those of IEC 60228 class 5; copper by (234.5 + T)/254.5.
#include "rig.hpp"

namespace wiring_cases {

using namespace rig;

namespace {

const std::string lamp = appliance(
    "Lamp", "current = \"10 A\"\nbehaves = \"constant-current\"\nlowest_voltage = \"10 V\"");
double hot(double ohm_per_km, double celsius_degrees) {
  return ohm_per_km * 1e-3 * (234.5 + celsius_degrees) / 254.5;
}
/// 6 mm² free at 30 °C: 55 A, near its terminals 55 · √(45/60); heated to 30 + 45 · (I / I_z)².
double warmed(double amperes, double listed) {
  const double iz = listed * std::sqrt(45.0 / 60.0);
  return 30.0 + 45.0 * (amperes / iz) * (amperes / iz);
}

}  // namespace

TEST_CASE("a run loses 2·I·r·L at its own temperature, and its joints' and items' voltage") {
  const Rig r(bank + lamp +
              run("lamp", "bank", "Lamp", "4 m", "6 mm2",
                  "joints = 4\njoint_resistance = \"0.1 mΩ\"\ninline = [{ kind = \"isolator\", "
                  "resistance = \"0.3 mΩ\" }]"));
  const double t = warmed(10.0, 55.0);
  const double expected = 10.0 * (2 * 4.0 * hot(3.30, t) + 4 * 0.1e-3 + 0.3e-3);
  const auto& in_case = r.in_case("lamp");
  CHECK(in_case.current.value() == about(10.0));
  CHECK(in_celsius(in_case.conductor) == about(t));
  CHECK(in_case.drop.value() == about(expected));
  CHECK(double(in_case.drop_share) == about(expected / 12.0));
  CHECK(r.consumer("Lamp").path_drop.value() == about(expected));
  CHECK(r.consumer("Lamp").subject == "appliance/Lamp");
  Working working;
  CHECK(drop_of(r.design(), r.found, r.last(), r.id("lamp"), &working).value() == about(expected));
  adds_up(working);
  CHECK(r.facts("lamp").joints.value() == about(0.4e-3));
  CHECK(r.facts("lamp").items.value() == about(0.3e-3));
}

TEST_CASE("joints that nobody states are 0.1 m of the conductor, from 0.05 to 0.5 mΩ, in fours") {
  const std::string unstated = van::with(bank, "joints = 0\njoint_resistance = \"0 mΩ\"\n", "");
  const auto joints = [&](const std::string& size) {
    return Rig(unstated + lamp + run("lamp", "bank", "Lamp", "4 m", size))
        .facts("lamp")
        .joints.value();
  };
  CHECK(joints("6 mm2") == about(4 * 0.1 * 3.30e-3));
  CHECK(joints("70 mm2") == about(4 * 0.05e-3));  // 0.027 mΩ is less than the least
  CHECK(joints("1.5 mm2") == about(4 * 0.5e-3));  // 1.33 mΩ is more than the most
}

TEST_CASE("the path's drop is that of its runs, a shared trunk counted with all it carries") {
  const Rig r(
      bank + node("panel") + lamp +
      appliance("Pump", "current = \"5 A\"\nbehaves = \"constant-current\"\non = \"panel\"") +
      run("trunk", "bank", "panel", "2 m", "16 mm2") +
      run("lamp", "panel", "Lamp", "4 m", "6 mm2"));
  const double trunk = 15.0 * 2 * 2.0 * hot(1.21, warmed(15.0, 103.0));
  const double branch = 10.0 * 2 * 4.0 * hot(3.30, warmed(10.0, 55.0));
  CHECK(r.consumer("Lamp").path_drop.value() == about(trunk + branch));
  CHECK(r.consumer("Pump").path_drop.value() == about(trunk));
  Working working;
  CHECK(path_drop_of(r.design(), r.found, r.last(), r.consumer("Lamp"), &working).value() ==
        about(trunk + branch));
  adds_up(working);
}

TEST_CASE("a run named from load to source is the same run, with its current against it") {
  const Rig r(
      bank + node("panel") +
      appliance("Pump", "current = \"5 A\"\nbehaves = \"constant-current\"\non = \"panel\"") +
      run("trunk", "panel", "bank", "2 m", "16 mm2"));
  const double trunk = 5.0 * 2 * 2.0 * hot(1.21, warmed(5.0, 103.0));
  CHECK(r.in_case("trunk").current.value() == about(-5.0));
  CHECK(r.in_case("trunk").drop.value() == about(trunk));
  CHECK(r.consumer("Pump").path_drop.value() == about(trunk));
  CHECK(path_drop_of(r.design(), r.found, r.last(), r.consumer("Pump")).value() == about(trunk));
}

TEST_CASE("a return of its own way carries what goes back through it") {
  const Rig r(
      bank + node("panel") + node("bar") + lamp +
      appliance("Pump", "current = \"5 A\"\nbehaves = \"constant-current\"\non = \"panel\"") +
      run("trunk", "bank", "panel", "2 m", "16 mm2") +
      run("to bar", "bank", "bar", "1 m", "25 mm2") +
      run("lamp", "panel", "Lamp", "4 m", "6 mm2", "return = { to = \"bar\", length = \"3 m\" }"));
  // out by the trunk, back by the bar: the lamp's 10 A is not in the trunk's return
  CHECK(r.in_case("trunk").current.value() == about(15.0));
  CHECK(r.in_case("trunk").back.value() == about(5.0));
  CHECK(r.in_case("to bar").back.value() == about(10.0));
  CHECK(r.in_case("to bar").current.value() == about(0.0));
  const double expected =
      15.0 * 2.0 * hot(1.21, warmed(15.0, 103.0)) + 10.0 * 4.0 * hot(3.30, warmed(10.0, 55.0)) +
      10.0 * 3.0 * hot(3.30, warmed(10.0, 55.0)) + 10.0 * 1.0 * hot(0.780, warmed(10.0, 136.0));
  CHECK(r.consumer("Lamp").path_drop.value() == about(expected));
  Working working;
  CHECK(path_drop_of(r.design(), r.found, r.last(), r.consumer("Lamp"), &working).value() ==
        about(expected));
  adds_up(working);
  CHECK(r.facts("trunk").current.back.value() < r.facts("trunk").current.outgoing.value());
}

TEST_CASE("a chassis return loses I·R of the chassis, and without a value its figure is unknown") {
  const std::string text =
      bank + lamp + run("lamp", "bank", "Lamp", "4 m", "6 mm2", "chassis_return = true");
  const double out = 10.0 * 4.0 * hot(3.30, warmed(10.0, 55.0));
  const Rig known(text + "[chassis]\nresistance = \"2 mΩ\"\n");
  CHECK(known.consumer("Lamp").path_drop.value() == about(out + 10.0 * 2e-3));
  CHECK(known.consumer("Lamp").unknown.empty());
  CHECK_FALSE(known.facts("lamp").back);
  Working working;
  CHECK(drop_of(known.design(), known.found, known.last(), known.id("lamp"), &working).value() ==
        about(out + 10.0 * 2e-3));
  adds_up(working);
  const Rig unknown(text);
  CHECK(unknown.consumer("Lamp").path_drop.value() == about(out, 1e-4));
  CHECK(unknown.consumer("Lamp").unknown.find("chassis") != std::string::npos);
}

TEST_CASE("parallel conductors divide a run's resistance") {
  const Rig r(bank + lamp + run("lamp", "bank", "Lamp", "4 m", "6 mm2", "parallel = 2"));
  const double iz = 2 * 55.0 * std::sqrt(45.0 / 60.0) * 0.80;  // two circuits together
  const double t = 30.0 + 45.0 * (10.0 / iz) * (10.0 / iz);
  CHECK(r.in_case("lamp").drop.value() == about(10.0 * 2 * 4.0 * hot(3.30, t) / 2));
}

TEST_CASE("a ring of two runs shares the current by their resistances") {
  // 4 m and 8 m of the same conductor: 20 A and 10 A, but for the few kelvins between them
  const Rig r(
      bank + node("panel") +
      appliance("Stove", "current = \"30 A\"\nbehaves = \"constant-current\"\non = \"panel\"") +
      run("short", "bank", "panel", "4 m", "16 mm2") +
      run("long", "bank", "panel", "8 m", "16 mm2"));
  const double a = r.in_case("short").current.value(), b = r.in_case("long").current.value();
  CHECK(a + b == about(30.0));
  CHECK(a * 4.0 * hot(1.21, warmed(a, 103.0)) == about(b * 8.0 * hot(1.21, warmed(b, 103.0))));
}

TEST_CASE("linked batteries share as the ladder of the published check says") {
  // K2: R_i 20 mΩ, four batteries, links 0.52 mΩ: 29.22 / 25.54 / 23.19 / 22.04 at 100 A, from one
  // end; diagonally 25.63 / 24.37. Here links of 35 mm² and 60 °C with two joints of 0.0554 mΩ, so
  // the ladder is solved once more below by its own mesh equations for their actual resistance.
  const auto text = [&](const std::string& takeoff) {
    return van::with(
               bank, "quantity = 1",
               "quantity = 2\ntakeoff_from = " + takeoff +
                   "\nlinks = { positive = { conductor = \"35 mm2\", length = \"0.2 m\" } }") +
           appliance("Stove", "current = \"100 A\"\nbehaves = \"constant-current\"") +
           run("stove", "bank", "Stove", "1 m", "95 mm2");
  };
  const double link = 0.2 * hot(0.554, 60.0) + 2 * 0.0554e-3;
  const Rig one_end(text("[1, 1]")), diagonal(text("[1, 2]"));
  CHECK(double(diagonal.last().batteries[0].share) == about(0.5));
  // one end: E − R·I1 = E − (R + 2·link)·I2, so I1 / I2 = (R + 2·link) / R
  const auto& b = one_end.last().batteries;
  const double ratio = b[0].current.value() / b[1].current.value();
  const double ri = 2 * link / (ratio - 1.0);
  CHECK(ri > 5e-3);  // the stated high resistance, and more in use
  CHECK(ri < 10e-3);
  CHECK(b[0].current.value() + b[1].current.value() == about(100.0));
  CHECK(one_end.last().bank_current.value() == about(100.0));
}

TEST_CASE("leads to a common bar count on the way, and share equally") {
  const Rig r(van::with(bank, "quantity = 1",
                        "quantity = 2\neach_battery = { lead = { conductor = \"35 mm2\", length = "
                        "\"0.3 m\" } }") +
              appliance("Stove", "current = \"100 A\"\nbehaves = \"constant-current\"") +
              run("stove", "bank", "Stove", "1 m", "95 mm2"));
  const double lead = 0.3 * hot(0.554, 60.0) + 2 * 0.0554e-3;
  const double way = 100.0 * 2 * 1.0 * hot(0.206, warmed(100.0, 369.0));
  CHECK(double(r.last().batteries[1].share) == about(0.5));
  CHECK(r.consumer("Stove").path_drop.value() == about(50.0 * 2 * lead + way));
  Working working;
  CHECK(path_drop_of(r.design(), r.found, r.last(), r.consumer("Stove"), &working).value() ==
        about(50.0 * 2 * lead + way));
  adds_up(working);
}

TEST_CASE("what draws too much collapses under its own name") {
  const Rig r(bank + appliance("Heater", "power = \"900 W\"") +
              run("heater", "bank", "Heater", "20 m", "2.5 mm2"));
  REQUIRE(std::holds_alternative<Collapse>(r.last().solution));
  CHECK(r.last().collapsed == "Heater");
  const auto& c = std::get<Collapse>(r.last().solution);
  CHECK(c.most < c.asked);
  CHECK_FALSE(r.consumer("Heater").voltage.value() > 0.0);
  // everything-on is linear and exists all the same: 900 W / 10.5 V
  CHECK(r.found.cases.front().solved());
  CHECK(r.found.cases.front().runs[0].current.value() == about(900.0 / 10.5));
}

TEST_CASE("before a collapse the load that asks too much has what its way can carry") {
  // One load behind one resistance has most at half the voltage: P = E² / 4R, I = E / 2R. The way is
  // held at 60 °C, the lamp hangs beside it on a run of its own.
  const Rig r(
      bank + lamp + appliance("Heater", "power = \"900 W\"") +
      run("lamp", "bank", "Lamp", "4 m", "6 mm2", "conductor_temperature = \"60 °C\"") +
      run("heater", "bank", "Heater", "20 m", "2.5 mm2", "conductor_temperature = \"60 °C\""));
  REQUIRE_FALSE(r.last().solved());
  const CaseResult* brink = r.last().borne();
  REQUIRE(brink);
  REQUIRE(brink->solved());
  CHECK(brink->collapsed == "Heater");
  const double way = 2 * 20.0 * hot(7.98, 60.0);
  double heater = 0, lamp_volts = 0;
  for (const auto& c : brink->consumers) {
    CHECK(c.unknown.find("Heater") != std::string::npos);
    (c.name == "Heater" ? heater : lamp_volts) = c.voltage.value();
  }
  // a hair before the end: with 0.999 of the most, U = E/2 · (1 + √(1 − 0.999)), cells apart
  const double source = brink->source.value();
  CHECK(heater > 0.5 * source);
  CHECK(heater < 0.5 * source * (1.0 + std::sqrt(0.001)) + 0.2);
  CHECK(brink->runs[1].current.value() == about((source - heater) / way));
  CHECK(lamp_volts == about(source - 10.0 * 2 * 4.0 * hot(3.30, 60.0)));
  CHECK(brink->bank_current.value() == about(10.0 + (source - heater) / way));
}

TEST_CASE("what starts in a case runs on in it, and in what comes after") {
  const std::string text =
      bank + appliance("Fridge", "power = \"48 W\"") +
      appliance("Pump", "power = \"60 W\"\nstarting = { current = \"30 A\", time = \"1 s\" }") +
      run("fridge", "bank", "Fridge", "1 m", "6 mm2") +
      run("pump", "bank", "Pump", "1 m", "6 mm2") +
      "[[case]]\nname = \"evening\"\nrunning = [\"Fridge\"]\nstarting = \"Pump\"\n";
  const auto tried = van::opened(text);
  const auto& stated = tried.design()->cases.front();
  REQUIRE(stated.running.size() == 2);
  CHECK(stated.running.back() == *stated.starting);
  // also where a case is made by hand and does not name it among what runs
  LoadCase start;
  start.name = "start";
  start.running = {{0}};
  start.starting = design::resolved::ApplianceId{1};
  start.temperature = celsius(20);
  const Rig r(text, {start});
  CHECK(r.in_case("pump").current.value() == about(30.0));
}

TEST_CASE("a starting appliance draws its starting current beside the others") {
  LoadCase c;
  c.name = "start";
  c.running = {{0}, {1}};
  c.starting = design::resolved::ApplianceId{1};
  c.temperature = celsius(20);
  const Rig r(
      bank + lamp +
          appliance("Pump", "power = \"60 W\"\nquantity = 2\nstarting = { current = \"30 A\", time "
                            "= \"1 s\" }\nbehaves = \"constant-current\"\nrated_at = \"12 V\"") +
          run("lamp", "bank", "Lamp", "1 m", "6 mm2") + run("pump", "bank", "Pump", "1 m", "6 mm2"),
      {c});
  CHECK(r.in_case("pump").current.value() == about(30.0 + 5.0));  // one starts, one runs
  CHECK(r.in_case("lamp").current.value() == about(10.0));
}

TEST_CASE("a dc-dc charger draws its input from the tow vehicle and charges the bank") {
  LoadCase c;
  c.name = "driving";
  c.charging = {"drive charger"};
  c.temperature = celsius(20);
  const std::string text = bank +
                           "[[charger]]\nname = \"drive charger\"\nkind = \"dc-dc\"\ncurrent = "
                           "\"20 A\"\nefficiency = \"90 %\"\ncharge_voltage = \"14.4 V\"\n"
                           "[[feed]]\nname = \"tow vehicle\"\nvoltage = { low = \"12.2 V\", high = "
                           "\"14.7 V\" }\nresistance = { low = \"8 mΩ\", high = \"20 mΩ\" }\n" +
                           run("in", "tow vehicle", "drive charger.in", "6 m", "16 mm2") +
                           run("out", "drive charger.out", "bank", "1 m", "16 mm2");
  const Rig r(text, {c});
  CHECK(r.in_case("out").current.value() == about(20.0));
  CHECK(r.last().bank_current.value() == about(-20.0));
  // P = 14.4 · 20 / 0.9 = 320 W from 12.2 V behind 20 mΩ and the cable: the quadratic's smaller root
  const double i = r.in_case("in").current.value();
  const double way = 2 * 6.0 * hot(1.21, warmed(i, 103.0));
  CHECK(i ==
        about((12.2 - std::sqrt(12.2 * 12.2 - 4 * (0.020 + way) * 320.0)) / (2 * (0.020 + way)),
              1e-8));
  CHECK(r.consumer("drive charger").path_drop.value() == about(i * way));
  // design current of the input: at the cut-out of 11.5 V
  CHECK(r.facts("in").current.outgoing.value() == about(14.4 * 20 / (0.9 * 11.5)));
  CHECK(r.facts("in").current.in_case == "charging: drive");
  const Rig silent(van::with(text, "resistance = { low = \"8 mΩ\", high = \"20 mΩ\" }", ""), {c});
  CHECK(silent.consumer("drive charger").unknown.find("tow vehicle") != std::string::npos);
}

TEST_CASE("Kirchhoff: at every node of a case the currents add up to nothing") {
  const Rig r(van::text);
  for (const auto& c : r.found.cases) {
    REQUIRE(c.solved());
    CHECK(std::get<OperatingPoint>(c.solution).residual.value() < 1e-6);
  }
}

TEST_CASE("neither the order of the runs nor a joint without resistance in one changes anything") {
  const std::string start =
      bank + node("panel") + node("half way") + appliance("Stove", "power = \"240 W\"");
  const std::string trunk = run("trunk", "bank", "panel", "2 m", "16 mm2");
  const std::string whole = run("stove", "panel", "Stove", "4 m", "16 mm2");
  const Rig a(start + trunk + whole), b(start + whole + trunk);
  const Rig c(start + run("first", "panel", "half way", "1.5 m", "16 mm2") +
              run("second", "half way", "Stove", "2.5 m", "16 mm2") + trunk);
  const double expected = a.consumer("Stove").voltage.value();
  CHECK(b.consumer("Stove").voltage.value() == about(expected));
  CHECK(c.consumer("Stove").voltage.value() == about(expected));
  CHECK(c.consumer("Stove").path_drop.value() ==
        about(a.consumer("Stove").path_drop.value(), 1e-8));
}

TEST_CASE(
    "a case named after nothing that runs has no consumers but the inverter that always runs") {
  LoadCase nothing;
  nothing.name = "night";
  nothing.temperature = celsius(20);
  const Rig r(van::text, {nothing});
  REQUIRE(r.last().consumers.size() == 1);
  // 30 W of no-load draw (1.5 % of 2000 W)
  const double u = r.consumer("inverter").voltage.value();
  CHECK(r.in_case("to inverter").current.value() == about(30.0 / u));
}

}  // namespace wiring_cases

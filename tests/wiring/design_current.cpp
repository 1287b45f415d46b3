// SPDX-License-Identifier: Apache-2.0
// Design currents and the choice of conductors, by hand.
#include "rig.hpp"

namespace wiring_design_current {

using namespace rig;

TEST_CASE("everything on counts each load at the least voltage at which it works") {
  const Rig r(van::text);
  const auto& main = r.facts("main").current;
  CHECK(main.outgoing.value() == about((45.0 + 2 * 12.0) / 10.5));  // fridge and lights
  CHECK(main.in_case == "everything-on");
  REQUIRE(main.parts.size() == 2);
  CHECK(main.parts[0].name == "Fridge");
  CHECK(main.parts[0].value.value() == about(45.0 / 10.5));
  CHECK_FALSE(main.of_inverter);
  // not the kettle alone, for anything may be plugged in: 2000 W + 30 W + 0.11 · 2000²/2000 W from
  // 10.5 V, r.m.s. by 1.22
  const auto& fed = r.facts("to inverter").current;
  CHECK(fed.outgoing.value() == about(1.22 * 2250.0 / 10.5));
  CHECK(fed.back.value() == about(1.22 * 2250.0 / 10.5));
  CHECK(fed.at_normal_voltage.value() == about(1.22 * 2250.0 / 12.5));
  CHECK(fed.in_case == "\"inverter\" at its rating");
  CHECK(fed.of_inverter);
  Working working;
  CHECK(design_current_of(r.design(), r.found, r.id("main"), Pole::outgoing, &working).value() ==
        about(main.outgoing.value()));
  CHECK(working.size() == 3);
  adds_up(working);
  Working inverter;
  (void)design_current_of(r.design(), r.found, r.id("to inverter"), Pole::return_, &inverter);
  adds_up(inverter);
}

TEST_CASE("an inverter is bounded by its rating, and without appliances counts with it") {
  const double rating = 1.22 * (2000.0 + 30.0 + 0.11 * 2000.0) / 10.5;
  const Rig big(van::with(van::text, "power = \"1000 W\"", "power = \"3000 W\""));
  CHECK(big.facts("to inverter").current.outgoing.value() == about(rating));
  const Rig lagging(
      van::with(van::text, "power = \"1000 W\"", "power = \"1000 W\"\npower_factor = 0.5"));
  CHECK(lagging.facts("to inverter").current.outgoing.value() == about(rating));
  std::string none =
      van::with(van::text, "running = [\"Fridge\", \"Kettle\"]", "running = [\"Fridge\"]");
  none = van::with(
      none, "[[appliance]]\nname = \"Kettle\"\npower = \"1000 W\"\nsupply = \"inverter\"\n", "");
  CHECK(Rig(none).facts("to inverter").current.outgoing.value() == about(rating));
}

TEST_CASE("an inverter that only what is listed can load counts with that, on its own run too") {
  const Rig r(
      van::with(van::text, "rating = \"2000 W\"", "rating = \"2000 W\"\nloads = \"listed\""));
  // kettle: 1000 W + 30 W + 0.11 · 1000²/2000 W from 10.5 V, r.m.s. by 1.22
  const auto& fed = r.facts("to inverter").current;
  CHECK(fed.outgoing.value() == about(1.22 * 1085.0 / 10.5));
  CHECK(fed.in_case == "everything-on");
  Working working;
  (void)design_current_of(r.design(), r.found, r.id("to inverter"), Pole::outgoing, &working);
  adds_up(working);
}

TEST_CASE("a trunk that others hang on counts an inverter with what is listed on it") {
  const std::string rest =
      bank + node("bar") +
      "[[inverter]]\nname = \"inverter\"\nrating = \"2000 W\"\nno_load = \"30 W\"\nloss = { k = "
      "0.11 }\n" +
      appliance("Kettle", "power = \"1000 W\"\nsupply = \"inverter\"") +
      run("trunk", "bank", "bar", "1 m", "95 mm2") + run("own", "bar", "inverter", "1 m", "95 mm2");
  const Rig r(rest + appliance("Lamp", "power = \"42 W\"\non = \"bar\""));
  CHECK(r.facts("own").current.outgoing.value() == about(1.22 * 2250.0 / 10.5));
  CHECK(r.facts("trunk").current.outgoing.value() == about(1.22 * 1085.0 / 10.5 + 42.0 / 10.5));
  CHECK(r.facts("trunk").current.of_inverter);
  // with nothing else on it the trunk leads to the inverter alone
  const Rig alone(rest);
  CHECK(alone.facts("trunk").current.outgoing.value() == about(1.22 * 2250.0 / 10.5));
}

TEST_CASE("resistive loads draw most while charging, constant currents always the same") {
  const Rig r(
      bank +
      appliance("Kettle",
                "power = \"150 W\"\nrated_at = \"12 V\"\nbehaves = \"resistive\"\nquantity = 2") +
      run("kettle", "bank", "Kettle", "1 m", "25 mm2"));
  CHECK(r.facts("kettle").current.outgoing.value() == about(2 * 150.0 * 14.6 / (12.0 * 12.0)));
  Working working;
  (void)design_current_of(r.design(), r.found, r.id("kettle"), Pole::outgoing, &working);
  adds_up(working);
}

TEST_CASE(
    "a duty does not reduce a design current, but a short load does not load a fuse for hours") {
  const Rig r(bank + node("panel") +
              appliance("Fridge", "power = \"60 W\"\nduty = \"40 %\"\non = \"panel\"") +
              appliance("Pump", "power = \"60 W\"\nper_day = \"20 min\"\non = \"panel\"") +
              appliance("Fan", "power = \"30 W\"\nbetween = [\"22:00-22:25\"]\non = \"panel\"") +
              appliance("Alarm", "power = \"6 W\"\nbetween = [\"23:40-00:20\"]\non = \"panel\"") +
              run("trunk", "bank", "panel", "1 m", "16 mm2"));
  CHECK(r.facts("trunk").current.outgoing.value() == about(156.0 / 10.5));
  CHECK(r.facts("trunk").current.at_normal_voltage.value() == about((60.0 + 6.0) / 12.5));
}

TEST_CASE("everything that can charge at once counts against everything on") {
  const std::string sources =
      "[[array]]\nname = \"roof\"\nmodules = 4\nin_series = 2\nmodule = { power = \"200 W\", isc = "
      "\"10 A\" }\nto = \"controller\"\n"
      "[[controller]]\nname = \"controller\"\nmax_voltage = \"100 V\"\nmax_charge_current = \"30 "
      "A\"\n"
      "[[charger]]\nname = \"shore\"\nkind = \"mains\"\ncurrent = \"20 A\"\n"
      "[[charger]]\nname = \"drive\"\nkind = \"dc-dc\"\ncurrent = \"40 A\"\n";
  const Rig r(bank + node("bar") + sources + appliance("Lamp", "power = \"42 W\"\non = \"bar\"") +
              run("main", "bank", "bar", "1 m", "35 mm2") +
              run("sun", "controller.out", "bar", "1 m", "16 mm2") +
              run("shore", "shore.out", "bar", "1 m", "10 mm2") +
              run("drive", "drive.out", "bar", "1 m", "16 mm2") +
              run("roof", "roof", "controller.in", "6 m", "6 mm2"));
  CHECK(r.facts("main").current.outgoing.value() == about(70.0));  // drive and sun, not shore
  CHECK(r.facts("main").current.in_case == "charging: drive, sun");
  REQUIRE(r.facts("main").current.parts.size() == 2);
  CHECK(r.facts("sun").current.outgoing.value() == about(30.0));
  CHECK(r.facts("shore").current.outgoing.value() == about(20.0));
  CHECK(r.facts("roof").current.outgoing.value() == about(2 * 10.0 * 1.25, 1e-7));
  Working working;
  CHECK(design_current_of(r.design(), r.found, r.id("main"), Pole::outgoing, &working).value() ==
        about(70.0));
  CHECK(design_current_of(r.design(), r.found, r.id("roof"), Pole::outgoing, &working).value() ==
        about(25.0, 1e-6));
  adds_up(working);
  REQUIRE(r.found.cases.size() == 4);  // everything-on, two charging sets, ours
  CHECK(r.found.cases[1].load_case.name == "charging: drive, sun");
  CHECK(r.found.cases[1].bank_current.value() == about(-70.0));
  CHECK_FALSE(r.found.cases[1].load_case.judged);
}

TEST_CASE("a dc-dc charger whose tow vehicle is not drawn still loads its input") {
  const Rig r(bank + node("tow plug") +
              "[[charger]]\nname = \"drive\"\nkind = \"dc-dc\"\ncurrent = \"20 A\"\nefficiency = "
              "\"90 %\"\ncharge_voltage = \"14.4 V\"\n" +
              run("in", "tow plug", "drive.in", "6 m", "16 mm2") +
              run("out", "drive.out", "bank", "1 m", "16 mm2"));
  CHECK(r.facts("in").current.outgoing.value() == about(14.4 * 20 / (0.9 * 11.5)));
  CHECK(r.facts("in").current.back.value() == about(14.4 * 20 / (0.9 * 11.5)));
  CHECK(r.facts("out").current.outgoing.value() == about(20.0));
}

TEST_CASE("an array that does not state its short-circuit current leaves its run unknown") {
  const std::string text =
      bank +
      "[[array]]\nname = \"roof\"\nmodules = 1\nmodule = { power = \"200 W\" }\nto = \"sun\"\n"
      "[[controller]]\nname = \"sun\"\nmax_voltage = \"100 V\"\nmax_charge_current = \"30 A\"\n" +
      run("roof", "roof", "sun.in", "6 m", "6 mm2") +
      run("sun", "sun.out", "bank", "1 m", "16 mm2");
  CHECK(Rig(text).facts("roof").current.why_unknown.find("roof") != std::string::npos);
  CHECK(Rig(text).facts("sun").current.why_unknown.empty());
  const Rig stated(van::with(text, "power = \"200 W\"", "power = \"200 W\", isc = \"10 A\""));
  CHECK(stated.facts("roof").current.why_unknown.empty());
}

TEST_CASE("a run without a conductor is given the smallest that suffices, and so are the others") {
  // 10 A over 5 m within 5 % of 12 V (0.6 V). 4 mm²: 2·5·10·4.95e-3·(1 + …) is about 0.52 V; 2.5 mm²
  // 0.84 V. Ampacity asks less: 1 mm² bears 10 A · √(45/60) = 8.7 A, 1.5 mm² 13.9 A.
  const std::string lamp = appliance("Lamp", "current = \"10 A\"\nbehaves = \"constant-current\"");
  const auto names = [](const RunFacts& f) {
    return f.smallest_for_ampacity->name + ", " + f.smallest_for_drop->name + ", " +
           f.smallest->name;
  };
  const Rig open(bank + lamp + run("lamp", "bank", "Lamp", "5 m", ""));
  CHECK(names(open.facts("lamp")) == "1.5 mm2, 4 mm2, 4 mm2");
  CHECK(open.facts("lamp").outgoing.chosen);
  CHECK(open.facts("lamp").outgoing.conductor.name == "4 mm2");
  CHECK(open.consumer("Lamp").unknown.find("no conductor") != std::string::npos);
  const Rig given(bank + lamp + run("lamp", "bank", "Lamp", "5 m", "10 mm2"));
  CHECK(names(given.facts("lamp")) == "1.5 mm2, 4 mm2, 4 mm2");
  CHECK_FALSE(given.facts("lamp").outgoing.chosen);
  // a 30 A device asks for a conductor that bears 30 A: 4 mm² 42 · √(45/60) = 36.4
  const Rig fused(bank + lamp +
                  run("lamp", "bank", "Lamp", "1 m", "10 mm2",
                      "protection = [{ end = \"from\", type = \"iso-8820-3-c\", rating = \"30 A\", "
                      "distance = \"0.1 m\" }]"));
  CHECK(fused.facts("lamp").smallest_for_ampacity->name == "4 mm2");
}

TEST_CASE("where no size suffices that is left open") {
  const Rig r(bank + appliance("Winch", "power = \"20 kW\"") +
              run("winch", "bank", "Winch", "20 m", ""));
  CHECK_FALSE(r.facts("winch").smallest);
  CHECK_FALSE(r.facts("winch").smallest_for_ampacity);
  CHECK(r.facts("winch").outgoing.chosen);  // reckoned with the largest there is
}

TEST_CASE("an inverter's ripple loads devices for hours by its r.m.s., but drops by its mean") {
  const std::string text = bank +
                           "[[inverter]]\nname = \"inverter\"\nrating = \"1000 W\"\nno_load = \"10 "
                           "W\"\nloss = { k = 0.1 "
                           "}\nripple = 1.2\n" +
                           appliance("Heater", "power = \"500 W\"\nsupply = \"inverter\"") +
                           run("inverter", "bank", "inverter", "2 m", "35 mm2");
  const Rig r(text);
  const double dc = 500.0 + 10.0 + 0.1 * 500.0 * 500.0 / 1000.0;
  const double rated = 1000.0 + 10.0 + 0.1 * 1000.0;
  CHECK(r.facts("inverter").current.outgoing.value() == about(1.2 * rated / 10.5));
  CHECK(r.facts("inverter").current.at_normal_voltage.value() == about(1.2 * rated / 12.5));
  const Rig listed(van::with(text, "ripple = 1.2", "ripple = 1.2\nloads = \"listed\""));
  CHECK(listed.facts("inverter").current.outgoing.value() == about(1.2 * dc / 10.5));
  CHECK(listed.facts("inverter").current.at_normal_voltage.value() == about(1.2 * dc / 12.5));
  CHECK(r.in_case("inverter").current.value() ==
        about(dc / r.consumer("inverter").voltage.value()));
}

}  // namespace wiring_design_current

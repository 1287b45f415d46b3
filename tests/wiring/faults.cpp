// SPDX-License-Identifier: Apache-2.0
// Largest prospective currents by hand: full and rested four cells of 3.5305 V (the table of one cell
// at 100 %: data table of a 3 Ah cell, M. Naumann, TU Munich 2018), copper of 0.017241 Ω·mm²/m at
// 20 °C (IACS) or colder, no joints, no devices.
#include "housepower/design/battery_resistance.hpp"
#include "rig.hpp"

namespace wiring_faults {

using namespace rig;

namespace {

constexpr double rho = 0.017241e-6;
constexpr double full = 4 * 3.5305;
const std::string lamp = appliance("Lamp", "current = \"1 A\"");
std::string device(const std::string& end, const std::string& distance) {
  return "protection = [{ end = \"" + end +
         "\", type = \"ul-248-class-t\", rating = \"100 A\", distance = \"" + distance + "\" }]";
}
double fault(const Rig& r, std::size_t device = 0) {
  REQUIRE(r.found.devices.size() > device);
  CAPTURE(r.found.devices[device].why_unknown);
  REQUIRE(r.found.devices[device].largest);
  Working working;
  const auto again = largest_fault(r.design(), r.found.devices[device], &working);
  CHECK(again->value() == r.found.devices[device].largest->value());
  adds_up(working);
  return again->value();
}

}  // namespace

TEST_CASE("before a device near the bank lies its own stretch of one conductor") {
  const Rig r(bank + lamp + run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0.15 m")));
  CHECK(fault(r) == about(full / (2e-3 + 0.15 * rho / 70e-6)));
}

TEST_CASE("before a device at the far end lie both conductors of the run") {
  const Rig r(bank + node("panel") + lamp + run("main", "bank", "panel", "2 m", "70 mm2") +
              run("lamp", "panel", "Lamp", "3 m", "6 mm2", device("from", "0 m")));
  CHECK(fault(r) == about(full / (2e-3 + 2 * 2.0 * rho / 70e-6)));
  const auto there = r.found.faults[std::size_t(r.design()[r.id("lamp")].from.index)].largest;
  REQUIRE(there);
  CHECK(there->value() == about(fault(r)));
}

TEST_CASE("cold copper carries more: the record low counts") {
  const Rig r(bank + "[place]\nname = \"hobart\"\nrecord_low = \"-10 °C\"\n" + node("panel") +
              lamp + run("main", "bank", "panel", "2 m", "70 mm2") +
              run("lamp", "panel", "Lamp", "3 m", "6 mm2", device("from", "0 m")));
  CHECK(fault(r) == about(full / (2e-3 + 2 * 2.0 * rho / 70e-6 * (234.5 - 10.0) / 254.5)));
}

TEST_CASE(
    "batteries add up, and one that states nothing has 160 mΩ·Ah over its capacity, at most 2") {
  const auto text = [&](const std::string& quantity, const std::string& more) {
    return van::with(van::with(bank, "quantity = 1", "quantity = " + quantity),
                     "capacity = \"100 Ah\"\nnominal_voltage = \"12.8 V\"\nresistance = { low = "
                     "\"2 mΩ\", high = \"5 mΩ\" }\n",
                     more) +
           lamp + run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0 m"));
  };
  const std::string nominal = "nominal_voltage = \"12.8 V\"\n";
  CHECK(fault(Rig(text("4", "capacity = \"200 Ah\"\n" + nominal))) == about(4 * full / 0.8e-3));
  CHECK(fault(Rig(text("2", "capacity = \"320 Ah\"\n" + nominal))) == about(2 * full / 0.5e-3));
  CHECK(fault(Rig(text("1", "capacity = \"60 Ah\"\n" + nominal))) == about(full / 2e-3));
  CHECK(fault(Rig(text("1", "capacity = \"100 Ah\"\nresistance = { low = \"3 mΩ\" }\n" +
                                nominal))) == about(full / 3e-3));
  // no lower than the high one that is stated: 60 Ah would have 2 mΩ
  CHECK(fault(Rig(text("1", "capacity = \"60 Ah\"\nresistance = { high = \"1.5 mΩ\" }\n" +
                                nominal))) == about(full / 1.5e-3));
}

TEST_CASE("a battery of eight cells that states nothing has twice the resistance of four") {
  const Rig r(van::with(van::with(bank, "system_voltage = \"12 V\"", "system_voltage = \"24 V\""),
                        "nominal_voltage = \"12.8 V\"\nresistance = { low = \"2 mΩ\", high = \"5 "
                        "mΩ\" }\n",
                        "nominal_voltage = \"25.6 V\"\n") +
              lamp + run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0 m")));
  CHECK(fault(r) == about(2 * full / (2 * 1.6e-3)));  // 160 mΩ·Ah over 100 Ah are 1.6 mΩ
  // 2.5 · 3.2 mΩ are less than 5 mΩ for each four cells; at 25 °C, half full and new nothing is added
  CHECK(design::high_by_capacity(100.0 * ampere_hour, 25.6 * volt).value() == about(10e-3));
  CHECK(design::high_by_capacity(60.0 * ampere_hour, 12.8 * volt).value() == about(5e-3));
  CHECK(design::high_by_capacity(40.0 * ampere_hour, 12.8 * volt).value() == about(5e-3));
}

TEST_CASE("a design that states the voltage of its full bank is believed") {
  const Rig r(van::with(bank, "quantity = 1", "quantity = 1\nopen_circuit_full = \"13.8 V\"") +
              lamp + run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0 m")));
  CHECK(fault(r) == about(13.8 / 2e-3));
}

TEST_CASE("two batteries in series have twice the voltage and twice the resistance") {
  const Rig r(van::with(van::with(bank, "system_voltage = \"12 V\"", "system_voltage = \"24 V\""),
                        "quantity = 1", "quantity = 1\nin_series = 2") +
              lamp + run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0 m")));
  CHECK(fault(r) == about(2 * full / 4e-3));
}

TEST_CASE("chargers that can coincide add their limits") {
  const Rig r(
      bank + node("bar") + lamp +
      "[[controller]]\nname = \"sun\"\nmax_voltage = \"100 V\"\nmax_charge_current = \"30 A\"\n"
      "[[charger]]\nname = \"shore\"\nkind = \"mains\"\ncurrent = \"20 A\"\n"
      "[[charger]]\nname = \"drive\"\nkind = \"dc-dc\"\ncurrent = \"40 A\"\n" +
      run("a", "sun.out", "bar", "1 m", "16 mm2") + run("b", "shore.out", "bar", "1 m", "16 mm2") +
      run("c", "drive.out", "bar", "1 m", "16 mm2") + run("main", "bar", "bank", "1 m", "35 mm2") +
      run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0 m")));
  CHECK(fault(r) == about(full / 2e-3 + 70.0));
}

TEST_CASE("where only an array feeds, its limit is the fault") {
  const std::string text =
      bank +
      "[[array]]\nname = \"roof\"\nmodules = 3\nmodule = { power = \"200 W\", isc = \"10 A\" }\nto "
      "= \"sun\"\n"
      "[[controller]]\nname = \"sun\"\nmax_voltage = \"100 V\"\nmax_charge_current = \"30 A\"\n" +
      run("roof", "roof", "sun.in", "6 m", "6 mm2", device("to", "0.1 m"));
  CHECK(fault(Rig(text)) == about(3 * 10.0 * 1.25 * 1.25));
  const Rig silent(van::with(text, ", isc = \"10 A\"", ""));
  CHECK_FALSE(silent.found.devices[0].largest);
  CHECK(silent.found.devices[0].why_unknown.find("roof") != std::string::npos);
}

TEST_CASE("a tow vehicle feeds at its high voltage and low resistance, or nothing is known") {
  const std::string text = bank + lamp +
                           "[[feed]]\nname = \"tow vehicle\"\nvoltage = { low = \"12.2 V\", high = "
                           "\"14.7 V\" }\nresistance = { low = \"8 mΩ\", high = \"20 mΩ\" }\n" +
                           run("tow", "tow vehicle", "bank", "6 m", "16 mm2") +
                           run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0 m"));
  const double cable = 2 * 6.0 * rho / 16e-6;
  CHECK(fault(Rig(text)) == about(full / 2e-3 + 14.7 / (8e-3 + cable)));
  const Rig silent(van::with(text, "low = \"8 mΩ\", ", ""));
  CHECK_FALSE(silent.found.devices[0].largest);
  CHECK(silent.found.devices[0].why_unknown.find("tow vehicle") != std::string::npos);
}

TEST_CASE("a jump post for charging or starting feeds 13 V behind 5 mΩ; one for waking does not") {
  const auto text = [&](const std::string& purpose) {
    return bank + lamp + "[[node]]\nname = \"jump\"\nkind = \"jump-post\"\n" + purpose +
           run("jump", "bank", "jump", "1 m", "35 mm2") +
           run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0 m"));
  };
  const double with = full / 2e-3 + 13.0 / (5e-3 + 2 * 1.0 * rho / 35e-6);
  CHECK(fault(Rig(text("purpose = \"charge\"\n"))) == about(with));
  CHECK(fault(Rig(text("purpose = \"start-a-vehicle\"\n"))) == about(with));
  CHECK(fault(Rig(text("purpose = \"wake\"\n"))) == about(full / 2e-3));
  CHECK(fault(Rig(text(""))) == about(with));  // not said: the safe side
}

TEST_CASE("a run without a conductor on the way leaves the fault unknown, elsewhere it does not") {
  const Rig r(bank + node("panel") + lamp + appliance("Fan", "power = \"10 W\"") +
              run("main", "bank", "panel", "2 m", "", device("from", "0 m")) +
              run("lamp", "panel", "Lamp", "3 m", "6 mm2", device("from", "0 m")) +
              run("fan", "bank", "Fan", "3 m", "", device("from", "0 m")));
  CHECK(fault(r, 0) == about(full / 2e-3));
  CHECK_FALSE(r.found.devices[1].largest);
  CHECK(r.found.devices[1].why_unknown == "run \"main\" has no conductor");
  CHECK(fault(r, 2) == about(full / 2e-3));
}

TEST_CASE("linked batteries feed a fault through their links") {
  // two batteries of 2 mΩ, take-off at the first: 2 mΩ beside 2 mΩ + two links
  const Rig r(
      van::with(
          bank, "quantity = 1",
          "quantity = 2\nlinks = { positive = { conductor = \"35 mm2\", length = \"0.2 m\" } }") +
      lamp + run("lamp", "bank", "Lamp", "2 m", "70 mm2", device("from", "0 m")));
  const double farther = 2e-3 + 2 * 0.2 * rho / 35e-6;
  CHECK(fault(r) == about(full / 2e-3 + full / farther));
}

}  // namespace wiring_faults

// SPDX-License-Identifier: Apache-2.0
// What a meter should read: against calculations written out, and against vans built at random
// within the tolerances of their parts.
#include "housepower/wiring/test_sheet.hpp"

#include <random>

#include "housepower/parts/cell.hpp"
#include "housepower/wiring/dead_tests.hpp"
#include "housepower/wiring/network_of.hpp"
#include "rig.hpp"

namespace wiring_test_sheet {

using namespace rig;

namespace {

const wiring::Reading* find(const TestSheet& sheet, std::string_view name) {
  for (const wiring::Reading& r : sheet.readings)
    if (r.name == name) return &r;
  return nullptr;
}
const wiring::Reading& reading(const TestSheet& sheet, std::string_view name) {
  const wiring::Reading* found = find(sheet, name);
  REQUIRE_MESSAGE(found, name);
  return *found;
}
TestSheet sheet_of(const Rig& r, const TestLoad& load) {
  const auto answer = test_sheet(r.design(), r.found, load);
  if (const auto* none = std::get_if<NoTestSheet>(&answer)) FAIL(none->why);
  return std::get<TestSheet>(answer);
}

const std::string lamp = appliance(
    "Lamp", "current = \"10 A\"\nbehaves = \"constant-current\"\nlowest_voltage = \"10 V\"");
const std::string one_run = bank + lamp +
                            run("lamp", "bank", "Lamp", "4 m", "6 mm2",
                                "joints = 6\njoint_resistance = \"0.1 mΩ\"\n"
                                "protection = [{ end = \"from\", type = \"iso-8820-3-c\", rating = "
                                "\"40 A\", distance = \"1 m\" }]");

/// The meter's own error: half a percent, and 10 mV or 0.5 mV.
double meter(double u, double least) { return 0.005 * u + least; }

}  // namespace

TEST_CASE("the device at each battery is looked at as every other is") {
  const Rig r(R"(schema = 1
[vehicle]
name = "rig"
system_voltage = "12 V"
[rules]
profile = "au-nz-caravan"
[bank]
chemistry = "lfp"
quantity = 3
capacity = "100 Ah"
nominal_voltage = "12.8 V"
each_battery = { protection = { type = "ul-248-class-t", rating = "150 A" } }
)");
  std::vector<std::string> seated;
  for (const DeadTest& test : dead_tests(r.design()))
    if (test.is == DeadTest::Is::seated) seated.push_back(test.what + ": " + test.how);
  REQUIRE(seated.size() == 3);
  CHECK(seated.front().starts_with("device of battery 1 seated: 150 A"));
  CHECK(seated.back().starts_with("device of battery 3 seated: 150 A"));
}

TEST_CASE("a test sheet tells each voltage of one run as a pocket calculator does") {
  const Rig r(one_run);
  TestLoad load;
  load.bench = TestLoad::Bench{r.design()->appliances[0].post, 10.0 * ampere};
  load.resting = 13.2 * volt;
  const TestSheet sheet = sheet_of(r, load);
  CHECK(sheet.bank_current.value() == about(10.0));

  // IEC 60228 class 5, 6 mm²: 3.30 Ω/km at 20 °C. Free, 30 °C: 55 A, near the terminals
  // 55·√(45/60); 10 A warm it by 45 K · (10/47.6)² over the workshop's 20 °C.
  const double iz = 55.0 * std::sqrt(45.0 / 60.0);
  const double warm = 20.0 + 45.0 * (10.0 / iz) * (10.0 / iz);
  const double pole = 4.0 * 3.30e-3 * (234.5 + warm) / 254.5;
  // of 6 joints two sit at the device, one at each of four lugs; a 40 A blade is 1.44 mΩ cold
  const double device = 1.44e-3 + 0.2e-3;
  const double out = 10.0 * (pole + 0.2e-3 + device), back = 10.0 * (pole + 0.2e-3);
  CHECK(reading(sheet, "run/lamp/outgoing").expected.value() == about(out));
  CHECK(reading(sheet, "run/lamp/return").expected.value() == about(back));
  CHECK(reading(sheet, "run/lamp/protection/0").expected.value() == about(10.0 * device));
  CHECK(reading(sheet, "run/lamp/joints").expected.value() == about(10.0 * 0.4e-3));
  // 2 to 5 mΩ, new; at 20 °C and 80 % charge the cells' factor on both
  const double f = double(parts::resistance_factor(celsius(20.0), 0.8));
  const double posts = 13.2 - 10.0 * 3.5e-3 * f;
  CHECK(reading(sheet, "bank").expected.value() == about(posts));
  CHECK(reading(sheet, "appliance/Lamp").expected.value() == about(posts - out - back));

  // Least of the return: cold pure copper 3 % short, joints of nothing, 9.9 A.
  const double least = 9.9 * 0.97 * 4.0 * 0.017241 / 6.0;
  CHECK(reading(sheet, "run/lamp/return").low.value() == about(least - meter(least, 0.5e-3), 1e-6));
  const double most = 10.1 * (1.03 * pole + 2 * 0.2e-3);
  CHECK(reading(sheet, "run/lamp/return").high.value() == about(most + meter(most, 0.5e-3), 1e-6));
  const double empty = 13.19 - 10.1 * 5e-3 * f;
  CHECK(reading(sheet, "bank").low.value() == about(empty - meter(empty, 10e-3), 1e-6));
}

TEST_CASE("a battery that was not measured rests anywhere from half full to nearly full, and 35 mV "
          "a cell "
          "about the mean curve") {
  const Rig r(one_run);
  TestLoad load;  // 80 % full
  load.bench = TestLoad::Bench{r.design()->bank->post, 0.001 * ampere};
  const TestSheet sheet = sheet_of(r, load);
  const auto& bank_ = reading(sheet, "bank");
  const auto curve = [&](double charge) {
    return parts::bank_open_circuit(r.design()->tables->cells, *r.design()->bank, charge).value();
  };
  CHECK(bank_.high.value() - bank_.expected.value() ==
        about(curve(0.95) - curve(0.8) + 4 * 0.035 + meter(curve(0.95) + 0.14, 10e-3), 1e-4));
  CHECK(bank_.expected.value() - bank_.low.value() ==
        about(curve(0.8) - curve(0.5) + 4 * 0.035 + meter(curve(0.5) - 0.14, 10e-3), 1e-4));
  const auto range = resting_range(r.design(), load);
  REQUIRE(range);
  CHECK(range->low.value() == about(curve(0.5) - 0.14));
  CHECK(range->high.value() == about(curve(0.95) + 0.14));
  // measured on the day: only its own 10 mV
  load.resting = 13.2 * volt;
  CHECK(resting_range(r.design(), load)->low.value() == about(13.19));
  CHECK(find(sheet, "run/lamp/outgoing") == nullptr);
  REQUIRE(sheet.without_current.size() == 1);
  CHECK(r.design()[sheet.without_current.front()].name == "lamp");
}

TEST_CASE("a load that the bank cannot carry has no test sheet") {
  const Rig r(one_run);
  TestLoad load;
  load.running = {};
  load.bench = TestLoad::Bench{r.design()->appliances[0].post, 10.0 * ampere};
  CHECK(std::holds_alternative<TestSheet>(test_sheet(r.design(), r.found, load)));
  const Rig heavy(bank + appliance("Heater", "power = \"9000 W\"") +
                  run("heater", "bank", "Heater", "4 m", "6 mm2"));
  TestLoad all;
  all.running = {{0}};
  CHECK(std::holds_alternative<NoTestSheet>(test_sheet(heavy.design(), heavy.found, all)));
}

TEST_CASE("what a van within the tolerances of its parts shows lies within the sheet's bands") {
  const std::string ring =
      van::with(bank, "quantity = 1",
                "quantity = 3\nlinks = { positive = { conductor = \"35 mm2\", "
                "length = \"0.2 m\" }, negative = { conductor = \"35 mm2\", "
                "length = \"0.2 m\" } }\ntakeoff_from = [1, 3]") +
      node("left") + node("right") + appliance("Lamp", "power = \"90 W\"\non = \"left\"") +
      appliance("Pump", "power = \"60 W\"\non = \"right\"") +
      appliance("Fan", "power = \"40 W\"\nbehaves = \"resistive\"") +
      run("to left", "bank", "left", "3 m", "10 mm2", "joints = 4\njoint_resistance = \"0.2 mΩ\"") +
      run("to right", "bank", "right", "5 m", "6 mm2",
          "joints = 4\njoint_resistance = \"0.2 mΩ\"") +
      run("across", "left", "right", "2 m", "4 mm2", "joints = 4\njoint_resistance = \"0.2 mΩ\"") +
      run("fan", "right", "Fan", "3 m", "2.5 mm2", "joints = 4\njoint_resistance = \"0.2 mΩ\"");
  const Rig r(ring);
  TestLoad load;
  load.running = {{0}, {1}, {2}};
  load.charge = 0.5;
  const TestSheet sheet = sheet_of(r, load);
  // Vans of the same design: its own network, each part drawn at random.
  std::mt19937_64 random(20);
  const auto between = [&](double low, double high) {
    return low + (high - low) * (double(random() >> 11) * 0x1.0p-53);
  };
  std::vector<RunConductors> used = stated_conductors(r.design());
  double nearest = 1.0;  // how near to an end of its band a reading came, as a share
  for (int van = 0; van < 300; ++van) {
    Wired w = network_of(r.design(), used, Condition::drop, {0.5, celsius(20.0)});
    auto& n = w.network;
    for (std::size_t i = 0; i < r.design()->runs.size(); ++i) {
      const auto& run_ = r.design()->runs[i];
      const double cold = 0.017241e-6 / run_.conductor->nominal.value() * run_.length.value();
      const double table = run_.conductor->resistance_at_20.value() * run_.length.value();
      for (const int b : {w.runs[i].outgoing, w.runs[i].back})
        n.branches[std::size_t(b)].resistance = Resistance::from_value(
            between(0.97 * cold, 1.03 * table) + between(0.0, 2 * 2 * 0.2e-3));
    }
    const double f = double(parts::resistance_factor(celsius(20.0), 0.5));
    for (const int battery : w.batteries) {
      auto& feed = n.feeds[std::size_t(battery)];
      feed.internal = Resistance::from_value(f * between(2e-3, 5e-3));
      feed.open_circuit += between(-0.14, 0.14) * volt;
    }
    for (std::size_t i = 0; i < 3; ++i) {
      const auto& a = r.design()->appliances[i];
      auto& one = n.loads[std::size_t(w.appliances[i].steady)];
      one.power = between(0.95, 1.05) * a.power;
      one.nominal = a.rated_at;
    }
    const auto solution = solve(n);
    REQUIRE(std::holds_alternative<OperatingPoint>(solution));
    const auto& point = std::get<OperatingPoint>(solution);
    const auto potential = [&](NodeId id) { return point.potential[id].value(); };
    const auto within = [&](const std::string& name, double shown) {
      const wiring::Reading& band = reading(sheet, name);
      CAPTURE(name);
      CAPTURE(shown);
      CHECK(shown >= band.low.value());
      CHECK(shown <= band.high.value());
      const double half = 0.5 * (band.high - band.low).value();
      nearest =
          std::min(nearest, std::min(shown - band.low.value(), band.high.value() - shown) / half);
    };
    for (std::size_t i = 0; i < r.design()->posts.size(); ++i) {
      const auto& p = r.design()->posts[i];
      const std::string room = p.kind == design::resolved::PostKind::node        ? "node/"
                               : p.kind == design::resolved::PostKind::appliance ? "appliance/"
                                                                                 : "";
      if (p.kind == design::resolved::PostKind::appliance && p.name != "Fan") continue;
      within(room + p.name, potential(w.posts[i].plus) - potential(w.posts[i].minus));
    }
    for (std::size_t i = 0; i < r.design()->runs.size(); ++i) {
      const auto& b = n.branches[std::size_t(w.runs[i].outgoing)];
      const wiring::Reading* band = find(sheet, "run/" + r.design()->runs[i].name + "/outgoing");
      if (band) within(band->name.text(), std::abs(potential(b.from) - potential(b.to)));
    }
  }
  CHECK(nearest < 0.5);  // the bands are no wider than they need be: some reading came halfway out
}

}  // namespace wiring_test_sheet

// SPDX-License-Identifier: Apache-2.0
// From readings back to causes: against a plain grid with the whole network, against finite differences,
// and on vans whose faults were planted.
#include "housepower/wiring/diagnosis.hpp"

#include <cmath>
#include <random>

#include "../../src/wiring/sheet/diagnosis_model.hpp"
#include "rig.hpp"
#include "simulated_van.hpp"

namespace wiring_diagnosis {

using namespace rig;
using housepower::test::Clamps;
using housepower::test::Planted;
using housepower::test::SimulatedVan;
using wiring::inside::CaseModel;
using wiring::inside::Unknown;
using wiring::inside::Values;

namespace {

const std::string joints = "joints = 4\njoint_resistance = \"0.2 mΩ\"\n";
const std::string fused =
    "joints = 6\njoint_resistance = \"0.2 mΩ\"\nprotection = [{ end = \"from\", "
    "type = \"iso-8820-3-c\", rating = \"30 A\", distance = \"1 m\" }]\n";
/// Two batteries in a star, two panels, four appliances of which three draw over 5 A.
std::string tourer() {
  return van::with(bank, "quantity = 1",
                   "quantity = 2\neach_battery = { lead = { conductor = \"35 mm2\", length = \"0.3 "
                   "m\" } }") +
         node("left") + node("right") + appliance("Pump", "power = \"90 W\"\non = \"left\"") +
         appliance("Fridge", "power = \"80 W\"") + appliance("Heater", "power = \"120 W\"") +
         appliance("Lamp", "power = \"20 W\"") +
         run("to left", "bank", "left", "3 m", "16 mm2", fused) +
         run("to right", "bank", "right", "5 m", "16 mm2", fused) +
         run("fridge", "left", "Fridge", "2 m", "4 mm2", joints) +
         run("heater", "right", "Heater", "3 m", "6 mm2", fused) +
         run("lamp", "right", "Lamp", "3 m", "2.5 mm2", joints);
}

TestLoad all_on(const Rig& r) {
  TestLoad load;
  load.name = "all";
  for (int i = 0; i < int(r.design()->appliances.size()); ++i) load.running.push_back({i});
  load.resting = 13.3 * volt;
  return load;
}
Diagnosis diagnosed(const Rig& r, const MeasuredCase& read) {
  auto answer = diagnose(r.design(), r.found, {read});
  if (const auto* none = std::get_if<NoDiagnosis>(&answer)) FAIL(none->why);
  return std::get<Diagnosis>(std::move(answer));
}
Planted joint(const Rig& r, std::string_view run, Pole pole, double ohms, int which = 0) {
  return {Planted::Is::joint, std::size_t(r.id(run).index), pole, ohms, which};
}
bool names(const Diagnosis& d, const std::string& element) {
  for (const Cause& c : d.causes) {
    if (c.it.element == element) return true;
    for (const auto& other : c.cannot_be_told_from)
      if (other == element) return true;
  }
  return false;
}
void keep_only(MeasuredCase& read, const std::vector<std::string>& paths) {
  std::erase_if(read.values, [&](const Measured& m) {
    return std::find(paths.begin(), paths.end(), m.path.text()) == paths.end();
  });
}

}  // namespace

TEST_CASE("the derivatives of readings agree with small steps of each unknown") {
  const Rig r(tourer());
  const TestLoad load = all_on(r);
  auto s = inside::test_network_of(r.design(), r.found, load);
  Solver solver(s.wired.network);
  const auto solution = inside::settle(s, solver);
  REQUIRE(std::holds_alternative<OperatingPoint>(solution));
  CaseModel model(std::move(s), std::get<OperatingPoint>(solution));
  std::vector<Unknown> unknowns;
  for (std::size_t k = 0; k < model.parts().size(); ++k) {
    unknowns.push_back({Unknown::Is::scale, {k}, {}, 0.0, 1.0, false});
    unknowns.push_back({Unknown::Is::scale, {k}, {}, 0.0, 1.0, true});
    unknowns.push_back({Unknown::Is::extra, {k}, {}, 0.0, 1.0, false});
  }
  for (const int battery : model.wired().batteries) {
    unknowns.push_back({Unknown::Is::internal, {std::size_t(battery)}, {}, 0.0, 1.0, false});
    unknowns.push_back({Unknown::Is::internal, {std::size_t(battery)}, {}, 0.0, 1.0, true});
    unknowns.push_back({Unknown::Is::open, {std::size_t(battery)}, {}, 0.0, 1.0, false});
  }
  for (std::size_t i = 0; i < model.loads().size(); ++i)
    if (model.loads()[i].expected.value() != 0.0)
      unknowns.push_back({Unknown::Is::load, {i}, {}, 0.0, 1.0, false});
  for (std::size_t range = 0; range < 3; ++range)
    unknowns.push_back({Unknown::Is::gain, {range}, 0, 0.0, 1.0, false});
  Values values;
  for (const Unknown& u : unknowns)  // a joint of 0.3 mΩ too many everywhere, else nothing changed
    values.push_back(u.is == Unknown::Is::extra ? std::log(3e-4) : 0.0);
  const auto point = model.solve(unknowns, values, 0);
  REQUIRE(point);
  const auto rows = model.derivatives(model.spots(), unknowns, values, *point, 0);
  double largest = 0;
  for (std::size_t u = 0; u < unknowns.size(); ++u) {
    constexpr double step = 1e-4;
    Values up = values, down = values;
    up[u] += step;
    down[u] -= step;
    const auto above = model.solve(unknowns, up, 0);
    Values high;
    REQUIRE(above);
    for (const auto& spot : model.spots()) high.push_back(model.read(spot, *above));
    const auto below = model.solve(unknowns, down, 0);
    REQUIRE(below);
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const auto& spot = model.spots()[i];
      const double slope = (high[i] - model.read(spot, *below)) / (2.0 * step);
      CAPTURE(spot.point.path.text());
      CAPTURE(u);
      CHECK(rows[i][u] == doctest::Approx(slope).epsilon(1e-4).scale(1e-2));
      largest = std::max(largest, std::abs(slope));
    }
  }
  CHECK(largest > 1.0);
}

TEST_CASE("one joint's value, spread and odds are those of a plain grid with the whole network") {
  // A clamped load bench of 10 A at the end of one run; of it only the outgoing conductor is read.
  const Rig r(
      van::with(bank, "low = \"2 mΩ\", high = \"5 mΩ\"", "low = \"2 mΩ\", high = \"2.1 mΩ\"") +
      appliance("Lamp", "power = \"5 W\"") + run("lamp", "bank", "Lamp", "4 m", "6 mm2", joints));
  TestLoad load;
  load.name = "bench";
  load.bench = TestLoad::Bench{r.design()->appliances[0].post, 10.0 * ampere};
  load.resting = 13.3 * volt;
  constexpr double read = 0.19;  // V; a sound one shows 0.14
  // A meter so bad that its error is larger than the tolerances: then a few draws sample them well.
  Meter meter;
  meter.voltage = 0.1;
  MeasuredCase given{
      load,
      meter,
      {{subject_of(r.design(), r.design()[r.id("lamp")]).outgoing(), Voltage::from_value(read)}}};
  const Diagnosis d = diagnosed(r, given);
  const auto cause = std::find_if(d.causes.begin(), d.causes.end(), [](const Cause& c) {
    return c.it.element == "run/lamp/outgoing";
  });
  REQUIRE(cause != d.causes.end());

  // The grid: logarithms of the joint over its prior, and at each of them the likelihood of the
  // reading averaged over vans drawn within the tolerances, each solved as a whole.
  auto s = inside::test_network_of(r.design(), r.found, load);
  Solver solver(s.wired.network);
  REQUIRE(std::holds_alternative<OperatingPoint>(inside::settle(s, solver)));
  std::mt19937_64 random(5);
  const auto uniform = [&] { return (double(random() >> 11U) + 0.5) * 0x1.0p-53; };
  const auto normal = [&] {
    return std::sqrt(-2.0 * std::log(uniform())) * std::cos(6.283185307179586 * uniform());
  };
  std::vector<std::size_t> lugs, copper;
  for (const auto& piece : s.pieces)
    if (piece.pole == Pole::outgoing)
      (piece.is == inside::PieceIs::lug ? lugs : copper).push_back(piece.branch);
  const auto drawn = [&](std::vector<std::size_t>& branches, double z) {
    for (const std::size_t b : branches) {  // all of a kind together, mean and spread of a band
      const double low = s.branches[b].low.value(), high = s.branches[b].high.value();
      s.wired.network.branches[b].resistance = Resistance::from_value(std::max(
          0.5 * (low + high) + z * 0.5 * (high - low) / std::sqrt(3.0), 0.01 * 0.5 * (low + high)));
    }
  };
  const auto& pole = s.wired.network.branches;
  const std::size_t bench_load = s.whole.loads.size() - 1;
  constexpr int draws = 4000, steps = 41;
  constexpr double wide =
      2.5;  // drawn wider than the tolerances, and weighed for it: the tails count
  std::vector<double> likelihood(steps, 0.0);
  double sound = 0;
  // Limits are two standard deviations; a fifth of the share scatters with the digit, the rest is gain.
  const double gain_sd = 0.05 * std::sqrt(1.0 - 0.04);
  const double noise = 0.5 * std::hypot(0.2 * 0.1 * read, meter.drops_least.value());
  const auto shown = [&] {
    const auto solution = solver.solve(s.wired.network);
    const auto& point = std::get<OperatingPoint>(solution);
    double u = 0;
    for (const auto* list : {&lugs, &copper})
      for (const std::size_t b : *list)
        u += std::abs(point.branch[b].value()) * pole[b].resistance.value();
    return u;
  };
  const auto density = [&](double u) {  // of one reading: gain and noise in one
    const double sd = std::hypot(noise, gain_sd * u), z = (read - u) / sd;
    return std::exp(-0.5 * z * z) / sd;
  };
  const auto at_step = [&](int i) { return std::log(0.01) + 1.2 * (-4.0 + 0.2 * i); };
  for (int n = 0; n < draws; ++n) {
    double weight = 1.0 / draws;
    const auto tolerance = [&] {
      const double z = wide * normal();
      weight *= wide * std::exp(-0.5 * z * z * (1.0 - 1.0 / (wide * wide)));
      return z;
    };
    drawn(copper, tolerance());
    drawn(lugs, tolerance());
    s.wired.network.loads[bench_load].power =
        (10.0 * (1.0 + 0.01 / std::sqrt(3.0) * tolerance())) * watt;
    sound += weight * density(shown());
    const Resistance first = s.wired.network.branches[lugs.front()].resistance;
    for (int i = 0; i < steps; ++i) {
      s.wired.network.branches[lugs.front()].resistance =
          first + Resistance::from_value(std::exp(at_step(i)));
      likelihood[std::size_t(i)] += weight * density(shown());
    }
  }
  double whole = 0, mean = 0, square = 0;
  for (int i = 0; i < steps; ++i) {
    const double z = -4.0 + 0.2 * i, q = at_step(i);
    const double weight =
        0.1 / std::sqrt(6.283185307179586) * std::exp(-0.5 * z * z) * likelihood[std::size_t(i)];
    whole += weight;
    mean += weight * q;
    square += weight * q * q;
  }
  mean /= whole;
  const double spread = std::sqrt(square / whole - mean * mean);
  CHECK(std::log(cause->it.value.si) == doctest::Approx(mean).epsilon(0.01));
  CHECK(cause->sigma.si / cause->it.value.si == doctest::Approx(spread).epsilon(0.15));
  // A joint on either pole, a conductor of either or both, battery, rest and bench: eight faults.
  const double eight = 8.0;
  CHECK(std::log(double(cause->odds) * eight) ==
        doctest::Approx(std::log(whole / sound)).epsilon(0.1));
}

TEST_CASE("of a sound van nothing is told but how large a joint could hide") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(11);
  for (int n = 0; n < 10; ++n) {
    const Diagnosis d = diagnosed(r, *van_.read(random, {}, {}));
    CHECK(d.causes.empty());
    CHECK_FALSE(d.unexplained);
    for (const CouldHide& hidden : d.could_hide) {
      CAPTURE(hidden.element.text());
      REQUIRE(hidden.value);  // everything is on
      CHECK(hidden.value->value() > 0.2e-3);
      CHECK(hidden.value->value() < 50e-3);
    }
  }
}

TEST_CASE("a joint larger than what could hide is found") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(12);
  const Diagnosis sound = diagnosed(r, *van_.read(random, {}, {}));
  for (const CouldHide& hidden : sound.could_hide) {
    if (!hidden.element.is(design::Subject::Kind::run)) continue;  // links of the bank: below
    const bool device = hidden.element.is(design::Subject::Part::protection);
    const bool outgoing = device || hidden.element.is(design::Subject::Part::outgoing);
    const std::string& name = r.design()->runs[std::size_t(hidden.element.index())].name;
    const auto read = van_.read(random, {},
                                {joint(r, name, outgoing ? Pole::outgoing : Pole::return_,
                                       1.3 * hidden.value->value(), device ? 2 : 0)});
    CAPTURE(hidden.element.text());
    CHECK(names(diagnosed(r, *read), hidden.element.text()));
  }
}

TEST_CASE("a loose joint is found with its ohms and its heat") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(13);
  const Diagnosis d =
      diagnosed(r, *van_.read(random, {}, {joint(r, "to left", Pole::return_, 0.012)}));
  REQUIRE_FALSE(d.causes.empty());
  const Cause& c = d.causes.front();
  CHECK(c.it.element == "run/to left/return");
  CHECK(c.it.is == Cause::Is::joint);
  CHECK(std::abs(c.it.value.si - 0.012) < 3.0 * c.sigma.si);
  CHECK(c.sigma.si < 1e-3);
  CHECK(c.odds >= least_odds);
  // I²·R with what flows under the test: 170 W at about 13 V, a few percent apart by tolerances
  const double i = van_.current(std::size_t(r.id("to left").index), Pole::return_);
  CHECK(c.heat->value() == doctest::Approx(i * i * c.it.value.si).epsilon(0.1));
  CHECK(*c.heat_full >= *c.heat);
}

TEST_CASE("two bad joints are told together") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(14);
  const Diagnosis d = diagnosed(r, *van_.read(random, {},
                                              {joint(r, "to left", Pole::outgoing, 0.010, 2),
                                               joint(r, "heater", Pole::return_, 0.015, 1)}));
  CHECK(d.together);
  REQUIRE(d.causes.size() == 2);
  CHECK(names(d, "run/to left/protection/0"));
  CHECK(names(d, "run/heater/return"));
}

TEST_CASE("what the readings cannot tell apart is named, and what would tell") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(15);
  auto read = *van_.read(random, {}, {joint(r, "heater", Pole::outgoing, 0.05)});
  keep_only(read, {"bank", "node/right", "appliance/Heater"});  // voltages at posts only
  const Diagnosis d = diagnosed(r, read);
  REQUIRE_FALSE(d.causes.empty());
  CHECK(names(d, "run/heater/outgoing"));
  CHECK(names(d, "run/heater/return"));
  REQUIRE(d.next);
  CHECK(d.next->point.path.text().starts_with("run/heater/"));
  CHECK(d.next->parts.size() == 2);
}

TEST_CASE("a wrong reading and swapped wires are told as such") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(16);
  auto read = *van_.read(random, {}, {});
  const auto of = [&](const std::string& path) -> Number& {
    for (Measured& m : read.values)
      if (m.path == path) return m.value;
    FAIL("no reading " << path);
    return read.values.front().value;
  };
  const double right = of("run/to left/outgoing").si;
  of("run/to left/outgoing").si = 3.0 * right;  // while its device, joints and posts say otherwise
  const Diagnosis wrong = diagnosed(r, read);
  REQUIRE_FALSE(wrong.causes.empty());
  const bool told = std::any_of(wrong.causes.begin(), wrong.causes.end(), [](const Cause& c) {
    return c.it.is == Cause::Is::reading && c.it.element == "run/to left/outgoing";
  });
  CHECK(told);
  of("run/to left/outgoing").si = right;
  of("appliance/Fridge").si = -of("appliance/Fridge").si;
  const Diagnosis swapped = diagnosed(r, read);
  REQUIRE(swapped.causes.size() == 1);
  CHECK(swapped.causes.front().it.is == Cause::Is::reversed);
  CHECK(swapped.causes.front().it.element == "appliance/Fridge");
}

TEST_CASE("a weak battery shows by clamps around the batteries' leads, and not without") {
  const Rig r(van::with(tourer(), "high = \"5 mΩ\"", "high = \"2.4 mΩ\""));
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(17);
  const Planted weak{Planted::Is::weak_battery, 1, Pole::outgoing, 4.0, 0};
  CHECK(diagnosed(r, *van_.read(random, {}, {weak})).causes.empty());
  const Diagnosis d = diagnosed(r, *van_.read(random, {}, {weak}, Clamps::batteries));
  CHECK(names(d, "bank/battery/2"));
  REQUIRE(d.batteries.size() == 2);
  CHECK(d.batteries[1] < d.batteries[0]);
}

TEST_CASE("joints of 10 mΩ that carry 5 A are found, and sound vans are not suspected") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(18);
  Meter meter;
  int named = 0, first = 0, alarms = 0;
  constexpr int vans = 60;
  for (int n = 0; n < vans; ++n) {
    meter.voltage = n % 2 == 0 ? 0.005 : 0.02;
    const auto run = std::size_t(random() % 4);  // all but the lamp's carry 5 A and more
    const Pole pole = random() % 2 == 0 ? Pole::outgoing : Pole::return_;
    REQUIRE(van_.current(run, pole) >= 5.0);
    const std::string element =
        "run/" + r.design()->runs[run].name + (pole == Pole::outgoing ? "/outgoing" : "/return");
    const Diagnosis d = diagnosed(
        r, *van_.read(random, meter, {{Planted::Is::joint, run, pole, 0.01, int(random() % 2)}}));
    named += names(d, element);
    first += !d.causes.empty() && d.causes.front().it.element == element;
    const Diagnosis sound = diagnosed(r, *van_.read(random, meter, {}));
    alarms += !sound.causes.empty() || sound.unexplained;
  }
  CHECK(named >= 58);
  CHECK(first >= 54);
  CHECK(alarms == 0);
}

TEST_CASE("contacts of devices and links of the bank could hide a fault as well as lugs") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(21);
  const Diagnosis d = diagnosed(r, *van_.read(random, {}, {}));
  const auto hides = [&](const std::string& element) {
    return std::any_of(d.could_hide.begin(), d.could_hide.end(),
                       [&](const CouldHide& h) { return h.element == element; });
  };
  CHECK(hides("run/heater/outgoing"));
  CHECK(hides("run/heater/protection/0"));
  CHECK(hides("run/to left/protection/0"));
  // two batteries in a star: a lead on each pole of each
  CHECK(std::count_if(d.could_hide.begin(), d.could_hide.end(), [](const CouldHide& h) {
          return h.element.is(design::Subject::Part::link);
        }) == 4);
}

TEST_CASE("a pole that carries a current and that nobody read is named with its case") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(22);
  auto read = *van_.read(random, {}, {});
  CHECK(diagnosed(r, read).unread.empty());
  std::erase_if(read.values, [](const Measured& m) { return m.path == "run/heater/return"; });
  const Diagnosis d = diagnosed(r, read);
  REQUIRE(d.unread.size() == 1);
  CHECK(d.unread.front().element == "run/heater/return");
  CHECK(d.unread.front().in_case == "all");
}

TEST_CASE("a drop below nothing is told as probes or current the wrong way, and hides no fault") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(23);
  auto read = *van_.read(random, {}, {joint(r, "to left", Pole::return_, 0.012)});
  for (Measured& m : read.values)
    if (m.path == "run/heater/outgoing" || m.path == "run/lamp/return") m.value.si = -m.value.si;
  const Diagnosis d = diagnosed(r, read);
  REQUIRE(d.causes.size() == 3);
  CHECK(d.causes[0].it.element == "run/to left/return");
  CHECK(d.causes[0].it.is == Cause::Is::joint);
  for (const std::size_t i : {1U, 2U}) {
    CHECK(d.causes[i].it.is == Cause::Is::reversed);
    CHECK(d.causes[i].what == "probes reversed or current flows backwards");
    CHECK_FALSE(d.readings[*d.causes[i].read].in_band);
  }
}

TEST_CASE("a clamp counts by its amount, whichever way it was put on") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(24);
  auto read = *van_.read(random, {}, {});
  const double amperes = van_.current(std::size_t(r.id("to left").index), Pole::outgoing);
  read.values.push_back(
      {subject_of(r.design(), r.design()[r.id("to left")]).outgoing().with("current"),
       Current::from_value(-amperes)});
  const Diagnosis d = diagnosed(r, read);
  CHECK(d.causes.empty());
  CHECK(d.readings.back().in_band);
}

TEST_CASE("the bank rests at one voltage for all cases of a sheet") {
  const Rig r(tourer());
  TestLoad one = all_on(r);
  one.resting = std::nullopt;
  TestLoad two = one;
  two.name = "two";
  two.running.resize(2);
  const auto shifted = [&](const TestLoad& load, double by) {
    std::mt19937_64 random(25);  // the same van in both cases
    SimulatedVan van_(r.design(), r.found, load);
    Meter fine;  // or its own gain might be the tenth of a volt
    fine.voltage = 0.0005;
    fine.volts_least = 2.0 * millivolt;
    auto read = *van_.read(random, fine, {});
    for (Measured& m : read.values)
      if (!m.path.is(design::Subject::Kind::run)) m.value.si += by;
    return read;
  };
  const auto found = [&](double first, double second) {
    const auto answer = diagnose(r.design(), r.found, {shifted(one, first), shifted(two, second)});
    REQUIRE(std::holds_alternative<Diagnosis>(answer));
    return std::get<Diagnosis>(answer);
  };
  // 0.1 V fuller in both is a bank that nobody measured; fuller in one and emptier in the other is not
  const Diagnosis same = found(0.1, 0.1);
  CHECK((same.causes.empty() && !same.unexplained));
  const Diagnosis apart = found(0.1, -0.1);
  CHECK((!apart.causes.empty() || apart.unexplained));
}

TEST_CASE("a wrong reading that may as well be a bad joint is told with it") {
  const Rig r(tourer());
  SimulatedVan van_(r.design(), r.found, all_on(r));
  std::mt19937_64 random(26);
  // two bad joints; of the second only the voltage behind it is read
  auto read = *van_.read(
      random, {},
      {joint(r, "to left", Pole::outgoing, 0.010, 0), joint(r, "lamp", Pole::return_, 0.1, 0)});
  std::erase_if(read.values,
                [](const Measured& m) { return m.path.text().starts_with("run/lamp/"); });
  const Diagnosis d = diagnosed(r, read);
  REQUIRE(d.together);
  CHECK(names(d, "run/to left/outgoing"));
  CHECK(names(d, "run/lamp/return"));
}

}  // namespace wiring_diagnosis

// SPDX-License-Identifier: Apache-2.0
// Edges of devices, let-through and withstand, and the smallest fault, by hand.
#include "housepower/wiring/clearing.hpp"

#include "housepower/wiring/formulas.hpp"
#include "housepower/wiring/selectivity.hpp"
#include "housepower/wiring/short_circuit.hpp"
#include "rig.hpp"

namespace wiring_clearing {

using namespace rig;

namespace {

// 100 s at twice, 1 s at eight times the rating: a straight line of slope ln(1/100)/ln 4.
const Edge edge{{{2.0, 100.0 * second}, {8.0, 1.0 * second}}, gate_source};
const Current ten = 10.0 * ampere;
const std::string lamp = appliance("Lamp", "current = \"1 A\"");
const std::string slow_strip =
    "[[device]]\nname = \"slow strip\"\nbreaking_capacity = \"20 kA\"\nrated_voltage = \"32 V\"\n"
    "curve = [[2.0, \"100 s\"], [8.0, \"1 s\"]]\n";
std::string fuse(const std::string& rating, const std::string& type = "slow strip") {
  return "insulation_material = \"pvc\"\nprotection = [{ end = \"from\", type = \"" + type +
         "\", rating = \"" + rating + "\", distance = \"0 m\" }]";
}
const std::string tow =
    "[[feed]]\nname = \"tow vehicle\"\nvoltage = { low = \"12.2 V\", high = \"14.7 V\" }\n"
    "resistance = { low = \"8 mΩ\", high = \"20 mΩ\" }\n";

}  // namespace

TEST_CASE("between gates an edge is straight on logarithmic scales, and so is its inverse") {
  // half way between 2 and 8 on a logarithmic scale lies 4, between 100 s and 1 s lies 10 s
  Working working;
  const auto t = time_at(edge, ten, 40.0 * ampere, &working);
  REQUIRE(t);
  CHECK(t->value() == about(10.0));
  adds_up(working);
  CHECK(current_at(edge, ten, 10.0 * second)->value() == about(40.0));
}

TEST_CASE("past the last gate I²t stays, not the time; below the first it need not open") {
  Working working;
  const auto t = time_at(edge, ten, 160.0 * ampere, &working);
  REQUIRE(t);
  CHECK(t->value() == about(1.0 * 80.0 * 80.0 / (160.0 * 160.0)));
  adds_up(working);
  CHECK(current_at(edge, ten, *t)->value() == about(160.0));
  CHECK(time_at(edge, ten, 20.0 * ampere)->value() == about(100.0));
  CHECK_FALSE(time_at(edge, ten, 19.9 * ampere));
  CHECK_FALSE(time_at({}, ten, 1000.0 * ampere));
}

TEST_CASE("at the time of a gate the current is the gate's, to the last digit") {
  // 3.5 · 40 A; a power of it is 139.99999999999997 A with one library, and before the gate
  const Edge gates{{{2.0, 15.0 * second}, {3.5, 5.0 * second}, {6.0, 0.5 * second}}, {}};
  const auto i = current_at(gates, 40.0 * ampere, 5.0 * second);
  REQUIRE(i);
  CHECK(i->value() == 140.0);
  Working working;
  CHECK(time_at(gates, 40.0 * ampere, *i, &working)->value() == about(5.0));
  REQUIRE(working.size() > 1);
  CHECK(working[1].value.si == 5.0);  // of the gate itself, not of the one before
}

TEST_CASE("the most let through lies at an end or at a gate") {
  // 20² · 100 = 40,000 at the first gate; 80² · 1 = 6,400 at the last and beyond
  Working working;
  const auto all = largest_let_through(edge, ten, 20.0 * ampere, 1000.0 * ampere, &working);
  REQUIRE(all);
  CHECK(all->value.value() == about(40'000.0));
  CHECK(all->at.value() == about(20.0));
  adds_up(working);
  CHECK(largest_let_through(edge, ten, 90.0 * ampere, 1000.0 * ampere)->value.value() ==
        about(6'400.0));
  CHECK_FALSE(largest_let_through(edge, ten, 19.0 * ampere, 1000.0 * ampere));
}

TEST_CASE("a maker's curve serves; without a fast edge a tenth of its times does") {
  const Rig r(bank + slow_strip + lamp + run("lamp", "bank", "Lamp", "2 m", "6 mm2", fuse("10 A")));
  const auto curve = time_current_of(r.design()[r.id("lamp")].protection.front());
  CHECK(time_at(curve.slow, ten, 40.0 * ampere)->value() == about(10.0));
  CHECK(time_at(curve.fast, ten, 40.0 * ampere)->value() == about(1.0));
  CHECK(curve.fast.source.kind == SourceKind::from_memory);
}

TEST_CASE("published: 200 A for 0.4 s at k 115 asks for 1.10 mm²") {
  // Basic Electrical Installation Work, p. 251
  const auto heat = let_through(200.0 * ampere, 0.4 * second);
  const Ratio k = 115.0;
  CHECK(heat <= withstand(k, 1.101 * square_millimetre));
  CHECK(withstand(k, 1.099 * square_millimetre) < heat);
}

TEST_CASE("published: 2500 A for 0.1 s in PVC asks for 6.9 mm²; 4 mm² must go up") {
  // an unsigned page
  const auto heat = let_through(2500.0 * ampere, 0.1 * second);
  const Ratio k = 115.0;
  CHECK(heat <= withstand(k, 6.9 * square_millimetre));
  CHECK(withstand(k, 4.0 * square_millimetre) < heat);
}

TEST_CASE("published: what batteries drive into a short circuit") {
  const auto kiloampere = [](double volts, double milliohms) {
    return prospective_current(volts * volt, milliohms * 1e-3 * ohm).value() / 1e3;
  };
  // a circuit-breaker maker's guide to direct current: 110 cells of 0.5 mΩ, 4.37 kA; four of
  // those in parallel 17.5 kA
  CHECK(kiloampere(240.0, 110 * 0.5) == about(4.37, 2e-3));
  CHECK(kiloampere(240.0, 110 * 0.5 / 4) == about(17.5, 4e-3));
  // a public forum thread: cells of 0.75 mΩ, 4667 A bare; four and three straps of 0.25 mΩ, 3733 A
  CHECK(kiloampere(3.5, 0.75) == about(4.667, 1e-4));
  CHECK(kiloampere(14.0, 4 * 0.75 + 3 * 0.25) == about(3.733, 1e-4));
}

TEST_CASE("the smallest fault is of the weakest source by itself, low, through hot conductors") {
  // 16 mm² of class 5 has 1.21 mΩ/m at 20 °C (IEC 60228), at 90 °C (234.5 + 90)/254.5 of it
  const Rig r(bank + tow + lamp + run("tow", "tow vehicle", "bank", "6 m", "16 mm2") +
              run("lamp", "bank", "Lamp", "3 m", "16 mm2"));
  const double hot = 2 * 1.21e-3 * (234.5 + 90.0) / 254.5;
  const auto at = [&](design::resolved::PostId post) {
    const auto& smallest = r.found.faults[post].smallest;
    REQUIRE(smallest);
    Working working;
    CHECK(smallest_fault(*smallest, &working).value() == smallest->value.value());
    adds_up(working);
    CHECK(smallest->source == "\"tow vehicle\"");
    return smallest->value.value();
  };
  CHECK(at(r.design()[r.id("tow")].to) == about(12.2 / (20e-3 + 6.0 * hot), 2e-3));
  CHECK(at(r.design()[r.id("lamp")].to) == about(12.2 / (20e-3 + 9.0 * hot), 2e-3));
}

TEST_CASE("a device protects its own run and what follows until the next device") {
  const Rig r(bank + slow_strip + tow + node("bar") + node("panel") + lamp +
              appliance("Fan", "power = \"10 W\"") +
              run("tow", "tow vehicle", "bar", "6 m", "16 mm2", fuse("40 A")) +
              run("on", "bar", "panel", "2 m", "16 mm2") +
              run("lamp", "panel", "Lamp", "3 m", "6 mm2") +
              run("fan", "panel", "Fan", "3 m", "2.5 mm2", fuse("5 A")));
  std::vector<std::string> names;
  for (const auto& c : r.found.devices.front().conductors)
    if (c.run) names.push_back(r.design()[*c.run].name);
  CHECK(names == std::vector<std::string>{"tow", "on", "lamp"});
  CHECK(r.found.devices.front().smallest->where == "Lamp");
}

TEST_CASE(
    "in a ring a device's smallest fault is its share of one at a post, not one at the bank") {
  // 16 mm² both ways, 2 m and 2 m + 1 m: a fault at b splits by the resistances of the two ways
  const Rig r(bank + slow_strip + node("a") + node("b") + appliance("Lamp", "power = \"6 W\"") +
              run("one", "bank", "a", "2 m", "16 mm2", fuse("40 A")) +
              run("tie", "a", "b", "1 m", "16 mm2") +
              run("two", "bank", "b", "2 m", "16 mm2", fuse("40 A")) +
              run("lamp", "b", "Lamp", "1 m", "2.5 mm2", fuse("5 A")));
  for (const DeviceFacts& device : r.found.devices)
    for (const auto& conductor : device.conductors) CHECK(conductor.smallest.value > 0.0 * ampere);
  const auto& one = r.found.devices.front();
  REQUIRE(one.smallest);
  CHECK(one.smallest->where == "b");
  CHECK(one.smallest->share == about(2.0 / 5.0));
}

TEST_CASE(
    "the bridge of a balanced ring carries nothing of a fault, and withstands that for good") {
  const Rig r(bank + slow_strip + node("a") + node("b") + node("middle") +
              appliance("Lamp", "power = \"6 W\"") + run("left", "bank", "a", "2 m", "16 mm2") +
              run("right", "bank", "b", "2 m", "16 mm2") +
              run("bridge", "a", "b", "1 m", "16 mm2", fuse("40 A")) +
              run("a on", "a", "middle", "2 m", "16 mm2") +
              run("b on", "b", "middle", "2 m", "16 mm2") +
              run("lamp", "middle", "Lamp", "1 m", "2.5 mm2", fuse("5 A")));
  const auto& bridge = r.found.devices.front();
  REQUIRE(bridge.smallest);
  CHECK(bridge.smallest->where == "middle");
  const ProtectedConductor& conductor = bridge.conductors.front();
  SmallestFault nothing = conductor.sources.front();
  nothing.share = 0.0;
  nothing.strongest.reset();
  Working working;
  const FarFault far = far_fault_of(r.design(), r.found, bridge, conductor, nothing, &working);
  CHECK(far.smallest == 0.0 * ampere);
  CHECK_FALSE(far.clears);
  CHECK_FALSE(far.withstood);
  adds_up(working);
}

TEST_CASE("a device opens for sure from the first gate of its curve, or as its kind has it") {
  const auto from = [](const std::string& type) {
    const Rig r(bank + slow_strip + lamp +
                run("lamp", "bank", "Lamp", "2 m", "6 mm2", fuse("100 A", type)));
    Working working;
    const auto opens = opens_for_sure(r.design()[r.id("lamp")].protection.front(), &working);
    adds_up(working);
    CHECK(opens.read == (type == "slow strip" || type == "iso-8820-5-sf51"));
    return opens.value.value();
  };
  CHECK(from("slow strip") == about(200.0));
  CHECK(from("iso-8820-5-sf51") == about(135.0));  // its table
  // from memory: UL 248 types 1.35, gG and NH 1.6, all others 2.0
  CHECK(from("ul-248-class-t") == about(135.0));
  CHECK(from("iec-60269-nh") == about(160.0));
  CHECK(from("strip") == about(200.0));
}

TEST_CASE("a rating between or beyond those that were read has the gates of the next larger, or "
          "the last") {
  const auto latest_at_twice = [](const std::string& type, const std::string& rating) {
    const Rig r(bank + lamp + run("lamp", "bank", "Lamp", "2 m", "6 mm2", fuse(rating, type)));
    const auto& device = r.design()[r.id("lamp")].protection.front();
    const Edge slow = time_current_of(device).slow;
    CHECK(slow.source.kind == SourceKind::from_memory);
    return time_at(slow, device.rating, 2.0 * device.rating)->value();
  };
  // a maker's guide: small cartridges open at 200 % within 2 min up to 30 A, within 4 min from 35 A on
  CHECK(latest_at_twice("ul-248-14", "32 A") == about(240.0));
  CHECK(latest_at_twice("ul-248-14", "100 A") == about(240.0));
  CHECK(latest_at_twice("iso-8820-3-c", "80 A") == about(5.0));
}

TEST_CASE("published: time constant and warming of a conductor by its heat balance") {
  // Common practice, by hand. 6 mm² of PVC, k 115: k²S² = 476,100 A²s. It bears 40 A from 30 to
  // 70 °C: τ = 476,100 / 1,600 · 40 / (160 − 70) = 132.25 s. At 60 A for 132.25 s it warms to
  // 30 + 40 · 2.25 · (1 − 1/e) = 86.89 °C, and in the end to 120 °C.
  const LetThrough w = LetThrough::from_value(476'100.0);
  const Duration tau =
      time_constant(w, 40.0 * ampere, celsius(70.0), celsius(30.0), celsius(160.0));
  CHECK(tau.value() == about(132.25));
  const auto at = [&](double seconds) {
    return in_celsius(warmed_up(celsius(30.0), celsius(70.0), 60.0 * ampere, 40.0 * ampere,
                                seconds * second, tau));
  };
  CHECK(at(132.25) == about(86.890850, 1e-7));
  CHECK(at(1e6) == about(120.0));
  CHECK(at(0.0) == about(30.0));
}

namespace {

/// A lamp's run behind one device: the device and its only conductor.
struct OneRun {
  Rig rig;
  explicit OneRun(const std::string& length, const std::string& size, const std::string& device)
      : rig(bank + slow_strip + quick + lamp + run("lamp", "bank", "Lamp", length, size, device)) {}
  [[nodiscard]] const DeviceFacts& facts() const { return rig.found.devices.front(); }
  [[nodiscard]] const ProtectedConductor& conductor() const { return facts().conductors.front(); }
  [[nodiscard]] FarFault far(Working* working = nullptr) const {
    return far_fault_of(rig.design(), rig.found, facts(), conductor(), conductor().sources.front(),
                        working);
  }
  [[nodiscard]] double bears() const { return rig.ampacity("lamp").value.value(); }

  inline static const std::string quick =
      "[[device]]\nname = \"quick\"\nbreaking_capacity = \"20 kA\"\nrated_voltage = \"32 V\"\n"
      "curve = [[1.35, \"600 s\"], [2.0, \"5 s\"], [6.0, \"0.1 s\"]]\n";
};

}  // namespace

TEST_CASE("a far fault is borne, or the device protects against overload, or it must clear it") {
  // 400 m of 1.5 mm²: at its strongest 14.122 V / (2 mΩ + 800 · 0.017241 / 1.5) is 1.5 A
  const OneRun borne("400 m", "1.5 mm2", fuse("100 A", "quick"));
  CHECK(borne.far().guard == Guard::borne);
  CHECK(borne.conductor().sources.front().strongest->value() ==
        about(4 * 3.5305 / (2e-3 + 800.0 * 0.017241 / 1.5)));
  const OneRun overload("3 m", "6 mm2", fuse("20 A", "quick"));
  REQUIRE(overload.bears() > 20.0);
  CHECK(overload.far().guard == Guard::overload);
  // its first gate at 1.35 lies under 1.45 I_z whenever I_n ≤ I_z; that of the strip at 2.0 only up
  // to I_n = 0.725 I_z
  const auto strip_of = [](double rating) {
    return OneRun("3 m", "6 mm2", fuse(print_plain(rating, 6) + " A")).far().guard;
  };
  CHECK(strip_of(0.72 * overload.bears()) == Guard::overload);
  CHECK(strip_of(0.73 * overload.bears()) == Guard::short_circuit);
  CHECK(OneRun("3 m", "6 mm2", fuse("100 A", "quick")).far().guard == Guard::short_circuit);
}

TEST_CASE("what serves for short circuits only is asked from the ampacity on") {
  // 28 m of 1.5 mm² behind 30 A: 13.7 mΩ/m at 20 °C (IEC 60228, tinned), hot 17: out and back 0.95 Ω, some
  // 13 A; at its strongest 14.122 V / (2 mΩ + 56 · 0.017241 / 1.5) are 21.9 A
  const OneRun thin("28 m", "1.5 mm2", fuse("30 A", "quick"));
  REQUIRE(thin.bears() < 21.9);
  Working working;
  const FarFault far = thin.far(&working);
  adds_up(working);
  REQUIRE(far.guard == Guard::short_circuit);
  CHECK(far.smallest.value() < thin.bears());
  CHECK(far.from.value() == about(thin.bears()));
  CHECK_FALSE(far.clears);
  // 12 m: 12.5 V / 0.42 Ω is more than it bears and less than 1.35 · 30 A
  const OneRun shorter("12 m", "1.5 mm2", fuse("30 A", "quick"));
  const FarFault nearer = shorter.far();
  CHECK(nearer.guard == Guard::short_circuit);
  CHECK(nearer.from == nearer.smallest);
  CHECK(nearer.smallest < 40.5 * ampere);
  CHECK_FALSE(nearer.clears);
}

TEST_CASE(
    "the heat of all faults is asked from 1.45 I_z up, with cooling where it takes over 5 s") {
  const OneRun r("3 m", "6 mm2", fuse("30 A", "quick"));
  Working working;
  const FaultHeat heat =
      fault_heat_of(r.rig.design(), r.rig.found, r.facts(), r.conductor(), &working);
  adds_up(working);
  REQUIRE(heat.withstand);
  CHECK(heat.from.value() == about(1.45 * r.bears()));
  // (k·S)²: PVC 90, k 99.9 by its formula: the rig's insulation is for 90 °C
  CHECK(heat.withstand->value() == about(99.9 * 99.9 * 36.0));
  // from 60 A on it opens within 5 s: 60² · 5 = 18,000; past the gates 180² · 0.1 = 3,240
  const double from = std::max(60.0, 1.45 * r.bears());
  const double t = 5.0 * std::pow(from / 60.0, std::log(0.1 / 5.0) / std::log(3.0));
  REQUIRE(heat.let_through);
  CHECK(heat.let_through->value.value() == about(from * from * t));
}

TEST_CASE("of what takes over 5 s the hottest is found between the gates too") {
  // By brute force over a million currents on the slow edge of the strip: 100 s at 200 A, 1 s at
  // 800 A, on 16 mm² of PVC 90.
  // Of several in parallel each carries its part, and its own copper is what warms.
  for (const int parallel : {1, 2}) {
    CAPTURE(parallel);
    const double n = parallel;
    const OneRun r("3 m", "16 mm2",
                   fuse(std::to_string(100 * parallel) + " A") +
                       "\nparallel = " + std::to_string(parallel));
    Working working;
    const FaultHeat heat =
        fault_heat_of(r.rig.design(), r.rig.found, r.facts(), r.conductor(), &working);
    REQUIRE(heat.warming);
    if (heat.warming_is_worse) adds_up(working);
    const double bears = r.bears() / n, w = 99.9 * 99.9 * 256.0;
    const auto at = r.rig.ampacity("lamp");
    const double ambient = in_celsius(at.ambient_used), limit = in_celsius(at.limit);
    const double tau = w / (bears * bears) * (limit - ambient) / (160.0 - limit);
    const auto temperature = [&](double i, double t) {
      return ambient + (limit - ambient) * i * i / (bears * bears) * (1.0 - std::exp(-t / tau));
    };
    double hottest = 1.45 * bears < 200.0 ? temperature(200.0, 1e9) : 0.0;
    const double slope = std::log(0.01) / std::log(4.0);
    for (int k = 0; k <= 1'000'000; ++k) {
      const double i = std::max(200.0, 1.45 * bears) + k * 6e-4;
      const double t = 100.0 * std::pow(i / 200.0, slope);
      if (t < 5.0) break;
      hottest = std::max(hottest, temperature(i, t));
    }
    CHECK(in_celsius(heat.warming->reached) == about(hottest, 1e-3));
  }
}

TEST_CASE("k is of the insulation's material and size, at its temperature or hotter; of none it is "
          "unknown") {
  // IEC 60364-5-54 as quoted, see tests/published/k_factors.cpp; the smaller of print and formula.
  using design::Insulation;
  const auto k = [](Insulation material, double celsius_, double mm2 = 6.0) {
    tables::Conductor c;
    c.copper = mm2 * square_millimetre;
    const auto* row = withstand_row_of(van::shipped(), material, celsius(celsius_), c);
    return row ? double(row->k) : 0.0;
  };
  CHECK(k(Insulation::pvc, 70.0) == about(115.0));
  CHECK(k(Insulation::pvc, 70.0, 400.0) == about(102.8));
  CHECK(k(Insulation::pvc, 75.0) == about(99.9));
  CHECK(k(Insulation::pvc, 75.0, 400.0) == about(85.6));
  CHECK(k(Insulation::pvc, 110.0) == 0.0);
  CHECK(k(Insulation::xlpe, 90.0) == about(143.0));
  CHECK(k(Insulation::rubber, 60.0) == about(140.9));
  CHECK(k(Insulation::rubber, 70.0) ==
        about(134.0));  // butyl: rubber for 70 °C has no row of its own
  CHECK(k(Insulation::rubber, 90.0) == 0.0);
  CHECK(k(Insulation::silicone, 150.0) == about(132.0));
  CHECK(k(Insulation::silicone, 200.0) == 0.0);
}

TEST_CASE("of devices in a row the nearer opens first where its slow edge lies below") {
  const auto meeting = [](const std::string& upstream) {
    const Rig r(bank + slow_strip + node("panel") + lamp + appliance("Fan", "power = \"10 W\"") +
                run("main", "bank", "panel", "1 m", "35 mm2", fuse(upstream)) +
                run("fan", "panel", "Fan", "1 m", "6 mm2") +
                run("lamp", "panel", "Lamp", "1 m", "6 mm2", fuse("10 A")));
    const auto all = meetings_of(r.design(), r.found);
    REQUIRE(all.size() == 1);
    CHECK(all.front().in_the_dark == "Fan");
    return all.front().selective();
  };
  // past the gates: 80² · 1 s of 10 A against a tenth of (8 · I)² · 1 s upstream
  CHECK_FALSE(meeting("30 A"));  // 0.1 · 240² = 5,760 < 6,400
  CHECK(meeting("40 A"));        // 0.1 · 320² = 10,240
}

}  // namespace wiring_clearing

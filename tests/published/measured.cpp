// SPDX-License-Identifier: Apache-2.0
// What others measured, and the model's answer to the same numbers. docs/MEASURED.md prints both
// and explains the difference; each figure here must stand in the row of its case there.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <fstream>

#include "ampacities.hpp"
#include "housepower/wiring/formulas.hpp"
#include "housepower/wiring/network_of.hpp"

namespace housepower::test::published_measured {
namespace {

using namespace wiring;

ResistancePerLength per_length(Area area, double degrees = 20.0) {
  return resistance_at_temperature(copper_resistance(copper_resistivity, area), celsius(degrees));
}

/// The row of a case on the page, which must hold the printed number.
void stands(std::string_view number, double value, int digits, std::string_view unit) {
  std::ifstream page(HOUSEPOWER_SOURCE_DIR "/docs/MEASURED.md");
  const std::string figure = fmt::format("{:.{}f} {}", value, digits, unit);
  std::string line;
  while (std::getline(page, line))
    if (line.starts_with(fmt::format("| {} |", number))) {
      CHECK_MESSAGE(line.find(figure) != std::string::npos, number << ": " << figure);
      return;
    }
  FAIL("no row " << number);
}

TEST_CASE("measured 1: 8.33 A through a loop of 20 ft of 12 AWG lost 0.330 V") {
  const auto wire = conductor("12 AWG");
  const Length loop = 20.0 * foot;
  const Current i = 8.33 * ampere;
  const Voltage cold = pole_drop(i, conductor_resistance(per_length(wire.copper), loop));
  CHECK(cold / volt == about(0.265, 0.002));  // 17.241/3.309 = 5.21 mΩ/m · 6.096 m · 8.33 A
  stands("1", cold / volt, 3, "V");
  const Voltage joints = pole_drop(i, 4.0 * default_joint(wire));
  CHECK(joints / volt == about(0.017, 0.02));  // 4 · 0.5 mΩ · 8.33 A
  stands("1", (cold + joints) / volt, 3, "V");
  const double missing = (0.330 * volt - cold) / i / milliohm;
  CHECK(missing == about(7.85, 0.02));
  stands("1", missing, 1, "mΩ");
  // all of it by heat: 0.330/0.2646 · 254.5 − 234.5
  const double hot = 0.330 / (cold / volt) * 254.5 - 234.5;
  CHECK(pole_drop(i, conductor_resistance(per_length(wire.copper, hot), loop)) / volt ==
        about(0.330, 1e-9));
  stands("1", hot, 0, "°C");
}

TEST_CASE("measured 2: 975 Ω behind 86.1 Ω on 12 V took 11.32 mA at 11.0 V") {
  const Current i = prospective_current(12.0 * volt, (86.1 + 975.0) * ohm);
  stands("2", i.value() * 1e3, 2, "mA");            // 12/1061.1 = 11.309 mA
  stands("2", (i * (975.0 * ohm)) / volt, 2, "V");  // · 975 Ω = 11.03 V
  CHECK(i.value() * 1e3 == about(11.32, 0.001));
}

TEST_CASE(
    "measured 3: a cell of 1.421 V that sags 2 mV on 460 Ω gave about 4.2 A in short circuit") {
  const auto inner = [](double sag) {
    return sag / ((1.421 - sag) / 460.0) * ohm;  // sag over the current that it goes with
  };
  const auto amperes = [&](Resistance r) { return prospective_current(1.421 * volt, r) / ampere; };
  stands("3", amperes(inner(2e-3)), 1, "A");  // 0.648 Ω: 2.2 A
  stands("3", amperes(inner(1e-3)), 1, "A");
  stands("3", amperes(inner(3e-3)), 1, "A");
  CHECK(amperes(inner(1e-3)) > 4.2);  // the measured lies within the reading of ± 1 mV
  CHECK(amperes(inner(3e-3)) < 4.2);
}

TEST_CASE("measured 4: a battery under about 50 A fell from 12.5 to 11.9, later to 11.5 V") {
  for (const double now : {11.9, 11.5}) {
    const Resistance inner = (12.5 - now) * volt / (50.0 * ampere);
    stands("4", inner / milliohm, 0, "mΩ");
    CHECK(12.5 * volt - pole_drop(50.0 * ampere, inner) == now * volt);
  }
  const Length loop = 20.0 * foot;
  const auto lost = pole_drop(
      50.0 * ampere, conductor_resistance(per_length(gauge_mm2(8) * square_millimetre), loop));
  stands("4", lost / volt, 2, "V");        // 2.06 mΩ/m · 6.096 m · 50 A
  stands("4", 2.0 * lost / volt, 2, "V");  // were it 20 ft each way
}

TEST_CASE("measured 5: good links of 4 AWG showed 8 to 30 mV, a faulty joint 200 mV and more") {
  const auto wire = conductor("4 AWG");
  const Resistance link =
      pole_resistance(per_length(wire.copper), 0.3 * metre, Ratio(1.0), 2.0 * default_joint(wire));
  stands("5", link / milliohm, 2, "mΩ");  // 0.815 mΩ/m · 0.3 m + 2 · 0.083 mΩ (0.1 m as made)
  stands("5", 8e-3 * volt / link / ampere, 0, "A");
  stands("5", 30e-3 * volt / link / ampere, 0, "A");
  stands("5", 0.2 * volt / (30e-3 * volt / link) / milliohm, 1, "mΩ");
}

TEST_CASE("measured 6: 0.01 Ω at 100 A is 1 V, and the limit of 0.2 V a side leaves 2 mΩ") {
  stands("6", pole_drop(100.0 * ampere, 0.01 * ohm) / volt, 1, "V");
  stands("6", 0.2 * volt / (100.0 * ampere) / milliohm, 1, "mΩ");
}

TEST_CASE("measured 7: 6 mm² feeds a compressor fridge over 6 m, a socket's 2 mm² does not") {
  const auto most = [](double mm2, double metres) {  // 12.0 V at the battery, 11.0 V at the end
    return 1.0 * volt /
           (2.0 * conductor_resistance(per_length(mm2 * square_millimetre), metres * metre)) /
           ampere;
  };
  stands("7", most(2.0, 6.0), 1, "A");
  stands("7", most(6.0, 6.0), 1, "A");
  stands("7", most(10.0, 10.0), 1, "A");
  CHECK(most(10.0, 10.0) == about(most(6.0, 6.0), 1e-9));
}

TEST_CASE("measured 9: at 30 A a contact with 14 AWG grew 85 K hotter, with 12 AWG 27.8 K") {
  const auto heat = [](int n) {  // of the wire, in watts per metre
    return 900.0 * per_length(gauge_mm2(n) * square_millimetre).value();
  };
  stands("9", 900.0 * 0.55e-3, 1, "W");
  stands("9", heat(12), 1, "W/m");
  stands("9", heat(14), 1, "W/m");
  stands("9", heat(14) / heat(12), 2, "times");
  stands("9", 85.0 / 27.8, 2, "times");
}

TEST_CASE("measured 10: links of 2 and 4 AWG, 20 A: 0.143, 0.348 and 0.312 mΩ on the plus side") {
  struct Link {
    std::string_view wire;
    double calculated, measured;
  };
  for (const Link& link :
       {Link{"2 AWG", 0.117, 0.143}, Link{"4 AWG", 0.311, 0.348}, Link{"4 AWG", 0.280, 0.312},
        Link{"2 AWG", 0.201, 0.205}, Link{"4 AWG", 0.166, 0.164}, Link{"4 AWG", 0.124, 0.128}}) {
    const double ours = link.calculated + 2.0 * default_joint(conductor(link.wire)) / milliohm;
    stands("10", ours, 3, "mΩ");
    CHECK(ours > link.measured);  // the supplied joint is on the safe side of every one
  }
}

}  // namespace
}  // namespace housepower::test::published_measured

// SPDX-License-Identifier: Apache-2.0
// Inverter losses, ageing and resistance of lithium iron phosphate cells against the published
// models' check values, and practitioners' sums with their answers.
#include <doctest/doctest.h>

#include "housepower/energy/autonomy.hpp"
#include "housepower/energy/demand.hpp"
#include "housepower/parts/ageing.hpp"
#include "housepower/parts/cell.hpp"
#include "housepower/parts/inverter.hpp"
#include "shipped.hpp"

namespace housepower::test::published_battery {
namespace {

double percent(Ratio share) { return 100.0 * double(share); }

struct InverterType {
  double p0, k;
  double at_5, at_10, at_20, at_50, at_100, peak, peak_at;
};
// Notton, Lazarov, Stoyanov, Renewable Energy 35 (2010) 541, types 1 to 3, coefficients read in a
// technical university's research code; shares computed from them. Last: the product's default,
// which lies a little above type 3 and is from memory.
const std::vector<InverterType> inverters = {
    {0.0145, 0.0437, 77.4, 87.0, 92.5, 95.2, 94.5, 95.2, 58},
    {0.0072, 0.0345, 87.3, 93.0, 95.9, 96.9, 96.0, 96.9, 46},
    {0.0088, 0.1149, 84.6, 91.0, 93.7, 93.0, 89.0, 94.0, 28},
    {0.0090, 0.1100, 84.4, 90.8, 93.7, 93.2, 89.4, 94.1, 29}};

TEST_CASE("inverter efficiency by load, three published types") {
  const Power rating = 2000.0 * watt;
  for (const InverterType& type : inverters) {
    CAPTURE(type.p0);
    const auto efficiency = [&](double load_percent) {
      const Power ac = 0.01 * load_percent * rating;
      return percent(ac / parts::inverter_input(ac, type.p0 * rating, type.k, rating));
    };
    CHECK(efficiency(5) == to(type.at_5, 0.1));
    CHECK(efficiency(10) == to(type.at_10, 0.1));
    CHECK(efficiency(20) == to(type.at_20, 0.1));
    CHECK(efficiency(50) == to(type.at_50, 0.1));
    CHECK(efficiency(100) == to(type.at_100, 0.1));
    // Peak at p = √(p0/k), η = 1/(1 + 2 √(p0 k)).
    CHECK(efficiency(type.peak_at) == to(type.peak, 0.1));
    CHECK(100.0 * std::sqrt(type.p0 / type.k) == to(type.peak_at, 1));
    CHECK(efficiency(type.peak_at) > efficiency(type.peak_at - 5));
    CHECK(efficiency(type.peak_at) > efficiency(type.peak_at + 5));
  }
}

TEST_CASE("a 3 kW inverter at full load loses about 330 W by one page, 357 W by the default") {
  const Power rating = 3000.0 * watt;
  const Power lost = parts::inverter_input(rating, 0.009 * rating, 0.11, rating) - rating;
  CHECK(lost / watt == to(357, 1));
  CHECK(lost / watt > 330);
}

TEST_CASE("Naumann 2018: capacity and resistance by standing") {
  // J. Energy Storage 17 (2018) 153; computed from the equations. The resistance with exponent 2;
  // another implementation has 3, which gives 1.226 and 4.910 at 100 %.
  struct Row {
    double days, celsius, charge, loss, resistance;
  };
  for (const Row& row : {Row{365, 25, 0.5, 4.252, 1.683}, Row{365, 25, 1.0, 6.773, 0.769},
                         Row{365, 40, 1.0, 9.430, 3.080}, Row{3650, 25, 0.5, 13.445, 16.83},
                         Row{3650, 15, 0.5, 10.579, 6.156}}) {
    CAPTURE(row.days);
    CAPTURE(row.celsius);
    CAPTURE(row.charge);
    const Temperature t = celsius(row.celsius);
    CHECK(percent(parts::naumann_calendar_loss(t, row.charge, row.days * day)) ==
          to(row.loss, 0.001));
    CHECK(percent(parts::naumann_calendar_resistance(t, row.charge, row.days * day)) ==
          to(row.resistance, row.resistance < 10 ? 0.001 : 0.01));
  }
}

TEST_CASE("Naumann 2020: capacity and resistance by cycling") {
  // J. Power Sources 451 (2020) 227666; computed from the equations.
  struct Row {
    double cycles, rate, depth, loss, resistance;
  };
  for (const Row& row : {Row{1000, 0.2, 0.8, 3.901, 1.875}, Row{1000, 0.5, 0.8, 4.573, 1.213},
                         Row{1000, 1.0, 1.0, 6.834, 0.177}, Row{3000, 0.2, 0.8, 6.757, 5.626},
                         Row{3000, 0.2, 0.5, 6.539, 4.683}, Row{5000, 0.5, 0.8, 10.226, 6.067}}) {
    CAPTURE(row.cycles);
    CAPTURE(row.rate);
    CHECK(percent(parts::naumann_cycle_loss(row.rate, row.depth, row.cycles)) ==
          to(row.loss, 0.001));
    CHECK(percent(parts::naumann_cycle_resistance(row.rate, row.depth, row.cycles)) ==
          to(row.resistance, 0.001));
  }
  // Above 1.05C the printed line turns negative; a bank does not get better by cycling.
  CHECK(parts::naumann_cycle_resistance(2.0, 1.0, 1000.0) == 0.0);
}

TEST_CASE("large prismatic cells: anode potential") {
  // Safari & Delacourt, J. Electrochem. Soc. 158 (2011) A562, read in a national laboratory's code.
  struct Row {
    double charge, volts;
  };
  for (const Row& row :
       {Row{0, 0.6844}, Row{0.2, 0.1805}, Row{0.5, 0.1233}, Row{0.8, 0.0943}, Row{1, 0.0864}}) {
    CAPTURE(row.charge);
    CHECK(parts::anode_potential(row.charge) / volt == to(row.volts, 0.0001));
  }
}

TEST_CASE("large prismatic cells: capacity by standing and by cycling") {
  // doi 10.1016/j.est.2023.109042, coefficients read in a national laboratory's code; computed.
  struct Standing {
    double celsius, charge, days;
    Printed percent;
  };
  for (const Standing& row :
       {Standing{25, 0.5, 365, to(1.10, 0.01)}, Standing{25, 0.5, 3650, to(3.70, 0.01)},
        Standing{25, 0.9, 3650, to(5.63, 0.01)}, Standing{15, 0.5, 3650, to(1.92, 0.01)},
        Standing{45, 0.9, 3650, to(18.0, 0.1)}}) {
    CAPTURE(row.celsius);
    CAPTURE(row.charge);
    CHECK(percent(parts::prismatic_calendar_loss(celsius(row.celsius),
                                                 parts::anode_potential(row.charge),
                                                 row.days * day)) == row.percent);
  }
  struct Cycling {
    double celsius, depth, rate, cycles;
    Printed percent;
  };
  for (const Cycling& row :
       {Cycling{25, 0.8, 0.2, 1000, to(4.24, 0.01)}, Cycling{25, 1, 0.5, 3000, to(16.8, 0.1)},
        Cycling{25, 1, 0.5, 6000, to(29.8, 0.1)}, Cycling{45, 0.8, 0.2, 1000, to(2.67, 0.01)}}) {
    CAPTURE(row.celsius);
    CAPTURE(row.cycles);
    CHECK(percent(parts::prismatic_cycle_loss(celsius(row.celsius), row.depth, row.rate,
                                              row.cycles)) == row.percent);
  }
}

TEST_CASE("the two ageing models differ 3.6 times on standing and agree on cycling") {
  const Ratio small = parts::naumann_calendar_loss(celsius(25), 0.5, 3650.0 * day);
  const Ratio large =
      parts::prismatic_calendar_loss(celsius(25), parts::anode_potential(0.5), 3650.0 * day);
  CHECK(double(small / large) == to(3.64, 0.01));
  const double cycled = parts::prismatic_cycle_loss(celsius(25), 0.8, 0.2, 1000.0) /
                        parts::naumann_cycle_loss(0.2, 0.8, 1000.0);
  CHECK(cycled == to(1.087, 0.001));
}

TEST_CASE("resistance by temperature: 1.45 at 10 °C, 0.80 at 40 °C") {
  // The 3 Ah cell of the thesis (TU Munich 2018), discharge at 50 %: 69.4, 47.8, 38.4 mΩ at 10, 25
  // and 40 °C. Against the stated resistance, so 1 at 25 °C.
  const auto at = [](double t, double charge) {
    return double(parts::resistance_factor(celsius(t), charge));
  };
  CHECK(at(10, 0.5) == to(69.4 / 47.8, 0.01));
  CHECK(at(25, 0.5) == to(1.0, 0.01));
  CHECK(at(40, 0.5) == to(38.4 / 47.8, 0.01));
  CHECK(69.4 / 47.8 == to(1.45, 0.01));
  CHECK(38.4 / 47.8 == to(0.80, 0.01));
  CHECK(at(0, 0.5) > at(10, 0.5));    // below 10 °C it goes on rising
  CHECK(at(60, 0.5) == at(40, 0.5));  // the 60 °C column repeats 40 °C
  CHECK(parts::resistance_factor_source.kind == SourceKind::from_memory);  // extended by judgement
}

TEST_CASE("resistance of an empty, cold cell: four times that of a warm one at half charge") {
  // Same cell, 0 to 10 % charge: 195, 61.7, 44.1 mΩ at 10, 25, 40 °C.
  const auto at = [](double t) { return double(parts::resistance_factor(celsius(t), 0.0)); };
  CHECK(at(10) == about(195 / 47.8, 0.01));  // 4.1
  CHECK(at(25) == about(61.7 / 47.8, 0.01));
  CHECK(at(40) == about(44.1 / 47.8, 0.01));
}

// ---- practitioners' sums ------------------------------------------------------------------

TEST_CASE("a microwave oven of 1600 W input for 15 min takes just under 40 Ah at 12 V") {
  // A public forum thread; 85 % inverter. At 12.8 V it would be 36.8 Ah: 12 V is the safe reading.
  const Energy ac = energy::appliance_energy(1.0, 1600.0 * watt, 0.25 * hour, 7.0);
  const Energy dc = energy::inverter_flat(ac, 0.85);
  CHECK(dc / (12.0 * volt) / ampere_hour == to(39.2, 0.1));
  CHECK(dc / (12.8 * volt) / ampere_hour == to(36.8, 0.1));
}

TEST_CASE("a 1000 W microwave oven for 5 min takes 8.3 Ah, counted as 100 A") {
  // A trade news page, 2007: 83 % at 12 V.
  const Energy ac = energy::appliance_energy(1.0, 1000.0 * watt, hour / 12.0, 7.0);
  CHECK(energy::inverter_flat(ac, 1000.0 / 1200.0) / (12.0 * volt) / ampere_hour == to(8.3, 0.1));
}

TEST_CASE("an air conditioner on a bank of 1200 Wh runs 2.4 h at a net 500 W") {
  // A trade magazine, issue 93 p. 48; to a 10 % cut-off it says 2 h, which is 2.16 h cut off.
  const auto hours = [](double watt_hours) {
    return energy::days_of_autonomy(watt_hours * watt_hour, 500.0 * watt * day) / hour;
  };
  CHECK(hours(1200) == to(2.4, 0.1));
  CHECK(std::floor(hours(0.9 * 1200)) == 2.0);
}

TEST_CASE("a fridge of 60 W at half duty lives 20 h on 600 Wh") {
  // A help page, 2023: 100 Ah of lead, half usable.
  const Duration on = energy::running_time(day, 0.5);
  const Energy load = energy::appliance_energy(1.0, 60.0 * watt, on, 7.0);
  CHECK(energy::days_of_autonomy(600.0 * watt_hour, load) / hour == to(20, 1));
}

TEST_CASE("a breathing machine: 600 Wh is three nights at 25 W and one at 76 W") {
  // A blog, 2022; nights of 8 h.
  const auto nights = [](double watts) {
    return energy::days_of_autonomy(600.0 * watt_hour,
                                    energy::appliance_energy(1.0, watts * watt, 8.0 * hour, 7.0)) /
           day;
  };
  CHECK(nights(25) == to(3, 1));
  CHECK(nights(76) == to(1, 0.1));
}

TEST_CASE(
    "what draws all day: 1.2 A is 29 Ah, a cooler 96 to 120 Ah, a gas detector 1.5 to 2.4 Ah") {
  // A coach owner's energy audit; a travel diary; the detector's current is from memory.
  const auto ampere_hours = [](double amperes) {
    const Voltage u = 12.8 * volt;
    return energy::standing_energy(energy::current_power(1.0, u, amperes * ampere)) / u /
           ampere_hour;
  };
  CHECK(ampere_hours(1.2) == to(29, 1));
  CHECK(ampere_hours(4) == to(96, 1));
  CHECK(ampere_hours(5) == to(120, 1));
  CHECK(ampere_hours(0.060) == Printed{1.5, 0.06});  // 1.44, rounded up
  CHECK(ampere_hours(0.100) == to(2.4, 0.1));
}

TEST_CASE("a 48 V telecom module's manual: 100 Ah at 0.5C is 50 A of charge") {
  CHECK(parts::charging_current(0.5, 100.0 * ampere_hour) / ampere == exactly(50));
  CHECK(parts::charging_current(0.1, 300.0 * ampere_hour) / ampere == exactly(30));
}

// ---- the size of a bank, by others' sums ------------------------------------------------------

/// Days without charging of a bank by our formulas.
double days(double amp_hours, double volts, Ratio cold, Ratio depth, Energy a_day) {
  const Charge usable =
      parts::usable_charge(amp_hours * ampere * hour, 1.0, cold, 1.0, 1.0 - double(depth));
  return energy::days_of_autonomy(energy::usable_energy(usable, volts * volt), a_day) / day;
}
constexpr Energy watt_hour = Energy::from_value(3600.0);

TEST_CASE(
    "a public page's short rule: 1000 Wh a day at 12 V, half discharged, 416.66 Ah for 2.5 d") {
  // The page cuts 416.666…
  CHECK(days(416.66, 12, 1.0, 0.5, 1000.0 * watt_hour) == Printed{2.5, 0.0001});
}

TEST_CASE("the same page's simplified list: at 4.4 °C the factor 1.30 asks for 6500 Wh") {
  // 2500 → 5000 → 6500 Wh; over 12 V 541.7 Ah (the page's own figure is cut off after its 5). The
  // factor is one of lead-acid batteries.
  CHECK(days(6500.0 / 12.0, 12, 1.0 / 1.30, 0.5, 1000.0 * watt_hour) == about(2.5, 1e-9));
  CHECK(days(541.7, 12, 1.0 / 1.30, 0.5, 1000.0 * watt_hour) == Printed{2.5, 0.0003});
}

TEST_CASE(
    "from memory, Masters, Renewable and Efficient Electric Power Systems: 2083 Ah at -20 °C") {
  // 500 Ah a day at 12 V, 2 d, depth 60 % for fear of freezing, capacity factor 0.80: 1667, 2083 Ah.
  CHECK(days(1667, 12, 1.0, 0.6, 500.0 * 12.0 * watt_hour) == Printed{2, 0.001});
  CHECK(days(2083, 12, 0.80, 0.6, 500.0 * 12.0 * watt_hour) == Printed{2, 0.001});
}

TEST_CASE("from memory, Masters, a cabin in Salem: 3000 Wh a day a.c. at 24 V take 871 Ah") {
  // Inverter 85 %: 3529 Wh, 147 Ah a day; 4.6 d: 676 Ah; depth 80 %, factor 0.97: 871 Ah. All cut,
  // not rounded: 871.7.
  const Energy a_day = parts::inverter_input_flat(3000.0 * watt, 0.85) * (1.0 * hour);
  CHECK(a_day / watt_hour == to(3529, 1));
  CHECK(a_day / (24.0 * volt) / (1.0 * ampere * hour) == to(147, 1));
  CHECK(days(676, 24, 1.0, 1.0, a_day) == Printed{4.6, 0.005});
  CHECK(days(871.7, 24, 0.97, 0.8, a_day) == Printed{4.6, 0.0005});
}

}  // namespace
}  // namespace housepower::test::published_battery

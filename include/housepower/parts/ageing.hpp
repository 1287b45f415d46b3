// SPDX-License-Identifier: Apache-2.0
// What years of storage and cycling take from a bank. Two published models that differ by a factor
// of three and a half on storage; a promise rests on the larger loss. No date of death is given.
#pragma once

#include <algorithm>
#include <cmath>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::parts {

inline constexpr Source naumann_calendar_source{
    SourceKind::published, "Naumann et al., J. Energy Storage 17 (2018) 153",
    "coefficients read in research codes of a university and of a national laboratory"};
inline constexpr Source naumann_cycle_source{
    SourceKind::published, "Naumann et al., J. Power Sources 451 (2020) 227666",
    "coefficients read in research codes of a university and of a national laboratory"};
inline constexpr Source prismatic_source{
    SourceKind::published, "large prismatic LFP cells over 250 Ah, doi 10.1016/j.est.2023.109042",
    "coefficients read in a research code of a national laboratory"};

/// Share of capacity lost by standing.  0–60 °C.
inline constexpr Formula naumann_calendar_loss{
    "Q_cal",
    "capacity lost by standing, small cells",
    "0.000012571 · exp(-17126 / 8.3144598 · (1 / (T + 273.15) - 1 / 298.15)) · "
    "(2.8575 · (s - 0.5)³ + 0.60225) · √(t)",
    {{"T", "storage temperature, °C"}, {"s", "state of charge in storage"}, {"t", "time, s"}},
    naumann_calendar_source,
    [](Temperature t, Ratio charge, Duration time) -> Ratio {
      const double heat = std::exp(-17126.0 / 8.3144598 * (1.0 / t.value() - 1.0 / 298.15));
      const double middle = double(charge) - 0.5;
      return 1.2571e-5 * heat * (2.8575 * middle * middle * middle + 0.60225) *
             std::sqrt(time.value());
    },
    "0 to 60 °C"};

/// Relative rise of resistance by standing. Two readings of the paper give the exponent 2 and 3;
/// 2 is used.
inline constexpr Formula naumann_calendar_resistance{
    "r_cal",
    "resistance gained by standing",
    "0.00000000034194 · exp(-71827 / 8.3144598 · (1 / (T + 273.15) - 1 / 298.15)) · "
    "(1.5604 - 3.3903 · (s - 0.5)²) · t",
    {{"T", "storage temperature, °C"}, {"s", "state of charge in storage"}, {"t", "time, s"}},
    naumann_calendar_source,
    [](Temperature t, Ratio charge, Duration time) -> Ratio {
      const double heat = std::exp(-71827.0 / 8.3144598 * (1.0 / t.value() - 1.0 / 298.15));
      const double middle = double(charge) - 0.5;
      return 3.4194e-10 * heat * (1.5604 - 3.3903 * middle * middle) * time.value();
    },
    "0 to 60 °C"};

/// Share of capacity lost by cycling.
inline constexpr Formula naumann_cycle_loss{
    "Q_cyc",
    "capacity lost by cycling, small cells",
    "(0.0630 · C + 0.0971) · (4.0253 · (D - 0.6)³ + 1.0923) · √(N) / 100",
    {{"C", "C-rate, per hour"}, {"D", "depth of a cycle"}, {"N", "full equivalent cycles"}},
    naumann_cycle_source,
    [](Ratio rate, Ratio depth, Ratio cycles) -> Ratio {
      const double d = double(depth) - 0.6;
      return (0.0630 * double(rate) + 0.0971) * (4.0253 * d * d * d + 1.0923) *
             std::sqrt(double(cycles)) / 100.0;
    },
    "25 and 40 °C; no cold cycling was tested"};

/// Relative rise of resistance by cycling, never negative.
inline constexpr Formula naumann_cycle_resistance{
    "r_cyc",
    "resistance gained by cycling",
    "max(0, 0.0021 - 0.0020 · C) · (6.8477 · (D - 0.5)³ + 0.9182) · N / 100",
    {{"C", "C-rate, per hour"}, {"D", "depth of a cycle"}, {"N", "full equivalent cycles"}},
    naumann_cycle_source,
    [](Ratio rate, Ratio depth, Ratio cycles) -> Ratio {
      const double d = double(depth) - 0.5;
      return std::max(0.0, 0.0021 - 0.0020 * double(rate)) * (6.8477 * d * d * d + 0.9182) *
             double(cycles) / 100.0;
    },
    "25 and 40 °C; no cold cycling was tested"};

/// Potential of the graphite anode by state of charge, V.
inline constexpr Formula anode_potential{
    "U_a",
    "anode potential",
    "0.6379 + 0.5416 · exp(-305.5309 · (0.0085 + 0.7715 · s)) + "
    "0.044 · tanh(-(0.0085 + 0.7715 · s - 0.1958) / 0.1088) - "
    "0.1978 · tanh((0.0085 + 0.7715 · s - 1.0571) / 0.0854) - "
    "0.6875 · tanh((0.0085 + 0.7715 · s + 0.0117) / 0.0529) - "
    "0.0175 · tanh((0.0085 + 0.7715 · s - 0.5692) / 0.0875)",
    {{"s", "state of charge"}},
    Source{SourceKind::published, "Safari & Delacourt, J. Electrochem. Soc. 158 (2011) A562",
           "read in a research code of a national laboratory"},
    [](Ratio charge) -> Voltage {
      const double x = 0.0085 + 0.7715 * double(charge);
      return volt * (0.6379 + 0.5416 * std::exp(-305.5309 * x) +
                     0.044 * std::tanh(-(x - 0.1958) / 0.1088) -
                     0.1978 * std::tanh((x - 1.0571) / 0.0854) -
                     0.6875 * std::tanh((x + 0.0117) / 0.0529) -
                     0.0175 * std::tanh((x - 0.5692) / 0.0875));
    }};

/// Share of capacity lost by standing, large prismatic cells.  10–45 °C.
inline constexpr Formula prismatic_calendar_loss{
    "Q_cal",
    "capacity lost by standing, large prismatic cells",
    "83700 · exp(-5210 / (T + 273.15)) · exp(-3560 · U_a / (T + 273.15)) · (t / 86400)^0.526",
    {{"T", "storage temperature, °C"}, {"U_a", "anode potential"}, {"t", "time, s"}},
    prismatic_source,
    [](Temperature t, Voltage anode, Duration time) -> Ratio {
      return 8.37e4 * std::exp(-5210.0 / t.value()) *
             std::exp(-3560.0 * anode.value() / t.value()) * std::pow(double(time / day), 0.526);
    },
    "10 to 45 °C"};

/// Share of capacity lost by cycling, large prismatic cells.
inline constexpr Formula prismatic_cycle_loss{
    "Q_cyc",
    "capacity lost by cycling, large prismatic cells",
    "(0.0000000438 + 0.0000000155 · D + 0.000000168 · C) · "
    "(exp(2190 / (T + 273.15)) + exp(-155000 / (T + 273.15))) · N^0.828",
    {{"T", "cell temperature, °C"},
     {"D", "depth of a cycle"},
     {"C", "C-rate, per hour"},
     {"N", "full equivalent cycles"}},
    prismatic_source,
    [](Temperature t, Ratio depth, Ratio rate, Ratio cycles) -> Ratio {
      return (4.38e-8 + 1.55e-8 * double(depth) + 1.68e-7 * double(rate)) *
             (std::exp(2190.0 / t.value()) + std::exp(-1.55e5 / t.value())) *
             std::pow(double(cycles), 0.828);
    },
    "10 to 45 °C, depth 80 to 100 %"};

inline constexpr Formula full_equivalent_cycles{
    "N",
    "full equivalent cycles",
    "n · t / 31536000 · D",
    {{"n", "cycles a year"}, {"t", "age, s"}, {"D", "depth of a cycle"}},
    Source{SourceKind::common_practice, "cycles counted by their charge", ""},
    [](Ratio a_year, Duration age, Ratio depth) -> Ratio {
      return double(a_year) * double(age / year) * double(depth);
    }};

inline constexpr Formula share_left{
    "f_age",
    "share of capacity left",
    "max(0, 1 - Q_lost)",
    {{"Q_lost", "share lost: the larger of two models, standing and cycling together"}},
    Source{SourceKind::common_practice, "the larger loss of two published models", ""},
    [](Ratio lost) -> Ratio { return std::max(0.0, 1.0 - double(lost)); }};

inline constexpr Formula resistance_aged{
    "f_old",
    "factor of age on resistance",
    "1 + r_cal + r_cyc",
    {{"r_cal", "gained by standing"}, {"r_cyc", "gained by cycling"}},
    naumann_calendar_source,
    [](Ratio standing, Ratio cycling) -> Ratio {
      return 1.0 + double(standing) + double(cycling);
    }};

/// Cycling is counted at 0.2C, the usual current of a house bank (judgement).
inline constexpr Ratio usual_c_rate = 0.2;

/// Share of the rated capacity that is left at an age, from the bank's storage and cycles.
[[nodiscard]] Ratio age_factor(const design::resolved::Bank&, Duration age, Working* = nullptr);

/// The same by each of the two models: the smaller is the one that counts.
struct AgeRange {
  Ratio small_cells = 1.0, large_cells = 1.0;
};
[[nodiscard]] AgeRange age_range(const design::resolved::Bank&, Duration age, Working* = nullptr);

/// Factor of age on the bank's resistance.
[[nodiscard]] Ratio resistance_age_factor(const design::resolved::Bank&, Duration age,
                                          Working* = nullptr);

}  // namespace housepower::parts

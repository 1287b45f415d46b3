// SPDX-License-Identifier: Apache-2.0
// The bank at its terminals, from the tables of one cell.
#include "housepower/parts/cell.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace housepower::parts {
namespace {

/// A straight line between points, constant beyond them.
template <std::size_t N>
double between(const std::array<double, N>& x, const std::array<double, N>& y, double at) {
  if (at <= x.front()) return y.front();
  for (std::size_t i = 1; i < N; ++i)
    if (at <= x[i]) return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
  return y.back();
}

/// Resistance of the measured cell by charge at 25 °C, against 47.8 mΩ at 50 %.
double by_charge(double charge) {
  constexpr std::array<double, 7> x{0.10, 0.20, 0.40, 0.50, 0.60, 0.80, 1.00};
  constexpr std::array<double, 7> milliohms{61.7, 50.4, 51.8, 47.8, 44.3, 46.6, 42.5};
  return between(x, milliohms, charge) / 47.8;
}

/// Resistance by temperature against 25 °C. `at_10` and `at_40` are its measured ratios. Below
/// 10 °C an Arrhenius law with the activation of an empty cell, 10 to 25 °C (53.8 kJ/mol).
double by_temperature(double celsius_degrees, double at_10, double at_40) {
  const double warm =
      between(std::array{10.0, 25.0, 40.0}, std::array{at_10, 1.0, at_40}, celsius_degrees);
  if (celsius_degrees >= 10.0) return warm;
  return warm * std::exp(53.8e3 / 8.3144598 * (1.0 / (celsius_degrees + 273.15) - 1.0 / 283.15));
}

/// The row of a table in steps that holds at `x`: the last one at or below it. Nothing before it.
std::optional<double> step_at(const tables::Curve& curve, double x) {
  const auto above = std::upper_bound(curve.x.begin(), curve.x.end(), x);
  if (above == curve.x.begin()) return std::nullopt;
  return curve.y[std::size_t(above - curve.x.begin() - 1)];
}

}  // namespace

Ratio cells_in_series(const design::resolved::Bank& bank) {
  return std::max(1.0, std::round(bank.voltage().value() / 3.2));
}

Voltage bank_open_circuit(const tables::CellCurves& cells, const design::resolved::Bank& bank,
                          Ratio charge, Working* working) {
  const Voltage cell =
      given(working, "U_cell", "open-circuit voltage of one cell at that charge",
            cells.open_circuit.at(double(charge)) * volt, cells.open_circuit.source);
  return step(working, string_of_cells, cells_in_series(bank), cell);
}

Ratio rests_at(const tables::CellCurves& cells, const design::resolved::Bank& bank,
               Voltage voltage) {
  double below = 0.0, above = 1.0;
  if (voltage <= bank_open_circuit(cells, bank, below)) return 0.0;
  if (voltage >= bank_open_circuit(cells, bank, above)) return 1.0;
  while (above - below > 1e-6) {
    const double middle = (below + above) / 2.0;
    (bank_open_circuit(cells, bank, middle) < voltage ? below : above) = middle;
  }
  return below;
}

Ratio resistance_factor(Temperature temperature, Ratio charge) {
  const double t = in_celsius(temperature);
  const double empty = std::clamp((0.20 - double(charge)) / 0.10, 0.0, 1.0);
  const double cold = (1.0 - empty) * by_temperature(t, 69.4 / 47.8, 38.4 / 47.8) +
                      empty * by_temperature(t, 195.0 / 61.7, 44.1 / 61.7);
  return by_charge(double(charge)) * cold;
}

Ratio capacity_factor(const tables::CellCurves& cells, Temperature t) {
  const double at = in_celsius(t);
  return at < cells.capacity.x.front() ? 0.0 : std::min(1.0, cells.capacity.at(at));
}

Current charge_limit(const tables::CellCurves& cells, const design::resolved::Bank& bank,
                     Temperature t, Working* working) {
  const bool cut_off = (bank.charge_cut_off_below && t < *bank.charge_cut_off_below) ||
                       (bank.charge_cut_off_above && t > *bank.charge_cut_off_above);
  if (cut_off)
    return given(working, "I_max", "charging is cut off at that temperature", 0.0 * ampere,
                 Source{SourceKind::supplier, "the design's bank", "charge cut-off"});
  const double c = in_celsius(t);
  const double before = step_at(cells.charge_limit, std::nextafter(c, -300.0)).value_or(0.0);
  const double rate = std::min(step_at(cells.charge_limit, c).value_or(0.0), before);
  const Current by_cells = step(working, charging_current,
                                given(working, "c", "C-rate allowed at that temperature",
                                      Ratio(rate), cells.charge_limit.source),
                                bank.rated());
  if (!bank.charge_limit) return by_cells;
  return smallest<Current>(
      working, "I_max", "largest charging current",
      {{"cells", by_cells}, {"batteries", *bank.charge_limit * double(bank.parallel)}});
}

}  // namespace housepower::parts

// SPDX-License-Identifier: Apache-2.0
// Curves of the cells, by the name of their table.
#include <algorithm>
#include <array>

#include "loaders.hpp"

namespace housepower::tables {
namespace {

struct CurveTable {
  std::string_view table, x, y;
  bool in_celsius;
  Curve CellCurves::*curve;
};

}  // namespace

double Curve::at(double where) const {
  if (x.empty()) return 0.0;
  const auto after = std::upper_bound(x.begin(), x.end(), where);
  if (after == x.begin()) return y.front();
  if (after == x.end()) return y.back();
  const auto i = static_cast<std::size_t>(after - x.begin());
  return y[i - 1] + (y[i] - y[i - 1]) * (where - x[i - 1]) / (x[i] - x[i - 1]);
}

void add_cell_curve(const File& file, Tables& tables, Diagnostics& diagnostics) {
  static constexpr std::array<CurveTable, 4> curves{{
      {"open-circuit-voltage", "charge", "voltage", false, &CellCurves::open_circuit},
      {"hysteresis", "charge", "gap", false, &CellCurves::hysteresis},
      {"capacity-by-temperature", "temperature", "capacity", true, &CellCurves::capacity},
      {"charge-limit-by-temperature", "from", "standard", true, &CellCurves::charge_limit},
  }};
  for (const auto& known : curves) {
    if (known.table != file.text.name) continue;
    Block block(file, "rows", diagnostics);
    const auto x = block.needed(known.x, known.in_celsius ? kind_of<Temperature> : kind_of<Ratio>);
    const auto y = block.needed(known.y);
    if (!x || !y) return;
    Curve& curve = tables.cells.*known.curve;
    curve = Curve{{}, {}, file.source};
    for (std::size_t row = 0; row < block.rows(); ++row) {
      const double at = block.stated(row, *x);
      curve.x.push_back(known.in_celsius ? at - 273.15 : at);
      curve.y.push_back(block.stated(row, *y));
    }
    if (!std::is_sorted(curve.x.begin(), curve.x.end()))
      block.error(0, *x, "does not rise from row to row");
  }
}

}  // namespace housepower::tables

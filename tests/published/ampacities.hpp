// SPDX-License-Identifier: Apache-2.0
// Looks into ampacity tables as data: a cell, its ambient factor, its grouping factor. Tests of
// published values only; the engine's own look-up is wiring's.
#pragma once

#include <algorithm>
#include <optional>

#include "shipped.hpp"

namespace housepower::test {

struct AmpacityRow {
  std::string_view size;
  std::vector<double> amperes;  // one for each column asked for; none where the table has a dash
};
constexpr double none = 0.0;

inline const tables::AmpacityTable& ampacity_table(std::string_view name) {
  const tables::AmpacityTable* found = shipped().ampacity(name);
  REQUIRE_MESSAGE(found, "no ampacity table " << name);
  return *found;
}

inline std::size_t column_of(const tables::AmpacityTable& table, double insulation) {
  for (std::size_t i = 0; i < table.insulation.size(); ++i)
    if (std::abs(in_celsius(table.insulation[i]) - insulation) < 1e-6) return i;
  FAIL(table.name << " has no column for " << insulation << " °C");
  return 0;
}

inline const tables::AmpacityTable::Row& row_of(const tables::AmpacityTable& table,
                                                std::string_view size) {
  for (const auto& row : table.rows) {
    const std::string_view printed = row.size;
    if (printed == size || (printed.starts_with(size) && printed[size.size()] == ' ')) return row;
  }
  FAIL(table.name << " has no row " << size);
  return table.rows.front();
}

/// Amperes of a cell; `none` where the table holds nothing.
inline double listed(std::string_view table, std::string_view size, double insulation) {
  const tables::AmpacityTable& t = ampacity_table(table);
  const auto& cell = row_of(t, size).columns.at(column_of(t, insulation));
  return cell ? cell->value() : none;
}

inline Source source_of(std::string_view table, std::string_view size, double insulation) {
  const tables::AmpacityTable& t = ampacity_table(table);
  return row_of(t, size).sources.at(column_of(t, insulation));
}

/// Every cell as printed, with that word of provenance, and no row that the source does not print.
inline void check_cells(std::string_view name, const std::vector<double>& insulation,
                        const std::vector<AmpacityRow>& rows, std::string_view kind = published) {
  CAPTURE(name);
  const tables::AmpacityTable& table = ampacity_table(name);
  CHECK(table.insulation.size() == insulation.size());
  CHECK(table.rows.size() == rows.size());
  CHECK(word_of(table.source.kind) == kind);
  CHECK(std::is_sorted(table.rows.begin(), table.rows.end(),
                       [](const auto& a, const auto& b) { return a.area < b.area; }));
  for (const AmpacityRow& row : rows) {
    REQUIRE(row.amperes.size() == insulation.size());
    for (std::size_t i = 0; i < insulation.size(); ++i) {
      CAPTURE(row.size);
      CAPTURE(insulation[i]);
      CHECK(listed(name, row.size, insulation[i]) == exactly(row.amperes[i]));
      if (row.amperes[i] != none)
        CHECK(word_of(source_of(name, row.size, insulation[i]).kind) == kind);
    }
  }
}

/// The row stands for its own area: mm² as printed, or the gauge.
inline void check_areas_are_gauges(std::string_view name) {
  struct Gauge {
    std::string_view size;
    int n;
  };
  const Gauge gauges[] = {{"20", 20}, {"18", 18},  {"16", 16},  {"14", 14}, {"12", 12}, {"10", 10},
                          {"8", 8},   {"6", 6},    {"4", 4},    {"3", 3},   {"2", 2},   {"1", 1},
                          {"1/0", 0}, {"2/0", -1}, {"3/0", -2}, {"4/0", -3}};
  CAPTURE(name);
  for (const auto& row : ampacity_table(name).rows) {
    CAPTURE(row.size);
    const std::string_view size = std::string_view(row.size).substr(0, row.size.find(' '));
    const auto* gauge = std::find_if(std::begin(gauges), std::end(gauges),
                                     [&](const Gauge& g) { return g.size == size; });
    const double area =
        gauge == std::end(gauges) ? 250000 * mm2_of_circular_mil : gauge_mm2(gauge->n);
    CHECK(mm2(row.area) == about(area, 0.003));
    CHECK((gauge != std::end(gauges) || size == "250"));
  }
}
inline void check_areas_are_square_millimetres(std::string_view name) {
  CAPTURE(name);
  for (const auto& row : ampacity_table(name).rows) {
    CAPTURE(row.size);
    CHECK(mm2(row.area) == exactly(std::stod(row.size)));
  }
}

inline double base_celsius(std::string_view table) {
  const auto& base = ampacity_table(table).base_ambient;
  REQUIRE_MESSAGE(base.has_value(), table << " states an ambient where it was read");
  return in_celsius(*base);
}

/// The factor that a table's own data give at an ambient: the next hotter band, or the square root
/// of the rise that is left; nothing beyond the last band.
inline std::optional<double> ambient_factor(std::string_view name, double insulation,
                                            double ambient) {
  const tables::AmpacityTable& table = ampacity_table(name);
  if (table.ambient.shape == tables::AmbientFactors::Shape::square_root) {
    const double rise = (insulation - ambient) / (insulation - base_celsius(name));
    return rise > 0.0 ? std::optional(std::min(1.0, std::sqrt(rise))) : std::nullopt;
  }
  for (const auto& band : table.ambient.bands)
    if (ambient <= in_celsius(band.up_to) + 1e-9) {
      const auto& factor = band.factors.at(column_of(table, insulation));
      return factor ? std::optional(double(*factor)) : std::nullopt;
    }
  return std::nullopt;
}

/// The factor of the next larger group; nothing beyond the last.
inline std::optional<double> grouping_factor(std::string_view name, int together) {
  for (const auto& group : ampacity_table(name).grouping.groups)
    if (together <= group.up_to) return double(group.factor);
  return std::nullopt;
}

}  // namespace housepower::test

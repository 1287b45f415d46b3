// SPDX-License-Identifier: Apache-2.0
// What the tests of published values share: the tables built into the program, looked up the way a
// user names them, and numbers as a source prints them, with their rounding.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "housepower/tables/tables.hpp"
#include "housepower/units/quantity.hpp"

namespace housepower::test {

/// A number as it is printed, and how far its last digit leaves it open.
struct Printed {
  double value, within;
  friend bool operator==(double ours, const Printed& printed) {
    return std::abs(ours - printed.value) <= printed.within * (1.0 + 1e-9) + 1e-12;
  }
  friend bool operator!=(double ours, const Printed& printed) { return !(ours == printed); }
};
inline doctest::String toString(const Printed& printed) {
  return doctest::toString(printed.value) + " ± " + doctest::toString(printed.within);
}
/// Exactly as printed.
inline Printed exactly(double value) { return {value, 1e-9 * std::abs(value)}; }
/// Printed with that step of the last digit: `to(0.524, 0.001)` leaves half of it open.
inline Printed to(double value, double last_digit) { return {value, 0.5 * last_digit}; }
/// With a tolerance that the remark beside it gives a reason for.
inline Printed about(double value, double share) { return {value, share * std::abs(value)}; }

constexpr std::string_view published = "published", from_memory = "from memory";

inline const tables::Tables& shipped() {
  static const tables::Tables all = [] {
    Diagnostics problems;
    auto read = tables::read_tables(tables::embedded_tables(), {true, true}, problems);
    for (const Diagnostic& d : problems.all)
      FAIL_CHECK(d.place.file << ": " << d.key << ": " << d.message);
    REQUIRE(read.has_value());
    return *std::move(read);
  }();
  return all;
}

inline tables::Conductor conductor(std::string_view written) {
  auto found = tables::conductor_named(shipped(), written);
  const auto* problem = std::get_if<tables::SizeProblem>(&found);
  REQUIRE_MESSAGE(!problem, written << ": " << (problem ? problem->message : std::string{}));
  return std::get<tables::Conductor>(std::move(found));
}

/// The plain member of a series, or else the tinned one, whose name begins with that size: "2/0"
/// finds "2/0 awg".
inline const tables::Conductor& in_series(std::string_view series, std::string_view size) {
  for (const auto& list : shipped().conductors)
    for (const tables::Conductor& c : list) {
      const std::string_view name = c.name;
      if (c.series == series && name.starts_with(size) &&
          (name.size() == size.size() || name[size.size()] == ' '))
        return c;
    }
  FAIL("no size " << size << " in " << series);
  static const tables::Conductor none;
  return none;
}

inline double ohm_per_km(const tables::Conductor& c) {
  return c.resistance_at_20 / ohm_per_kilometre;
}
inline double mm2(Area area) { return area / square_millimetre; }

/// A table as `housepower tables` prints it.
inline const tables::View& view(std::string_view name) {
  for (const tables::View& v : shipped().views)
    if (v.name == name) return v;
  FAIL("no table " << name);
  static const tables::View none;
  return none;
}
inline std::size_t column_in(const tables::View& table, std::string_view key) {
  for (std::size_t i = 0; i < table.columns.size(); ++i)
    if (table.columns[i].key == key) return i;
  FAIL("no column " << key << " in " << table.name);
  return 0;
}

/// A printed value by the first cell of its row and the key of its column.
inline double printed(std::string_view name, std::string_view row, std::string_view key) {
  const tables::View& table = view(name);
  const std::size_t column = column_in(table, key);
  for (const auto& cells : table.rows)
    if (cells.front().text == row && cells[column].value) return *cells[column].value;
  FAIL("no value in " << name << ", row " << row << ", column " << key);
  return 0.0;
}

/// Area in mm² of a wire gauge: d = 0.127 mm · 92^((36 − n)/39), n = 0, −1, −2, −3 for 1/0 to 4/0.
/// ASTM B258, as given in two public articles.
inline double gauge_mm2(int n) {
  const double d = 0.127 * std::pow(92.0, (36.0 - n) / 39.0);
  return 0.25 * 3.14159265358979323846 * d * d;
}
/// A circular mil is π/4 · (25.4 µm)².
constexpr double mm2_of_circular_mil = 0.25 * 3.14159265358979323846 * 0.0254 * 0.0254;

}  // namespace housepower::test

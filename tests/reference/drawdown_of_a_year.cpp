// SPDX-License-Identifier: Apache-2.0
// The sequent-peak method on a year of hours against a simulation of the same year that was written
// apart from this project, in another language: level plane, the array sized to give CA times the
// day's load in the worst month, the load even over the hours, no losses, the year run twice. It
// found how much load stays unmet by the size of the store; none is unmet from the largest drawdown
// on.
#include <doctest/doctest.h>

#include "hourly_files.hpp"
#include "housepower/energy/drawdown.hpp"

namespace reference_drawdown_of_a_year {

using namespace housepower;
using namespace housepower::energy;
using namespace housepower::energy::test;
using energy::test::Place;

namespace {

TEST_CASE("Golden, hour by hour: no load is unmet from the largest drawdown on" *
          doctest::skip(!hourly_data())) {
  const Place& golden = places().front();
  double year = 0, december = 0;  // kWh/m²
  for (std::size_t i = 0; i < golden.hours.size(); ++i) {
    year += 1e-3 * golden.hours[i].global;
    if (i >= 334 * 24) december += 1e-3 * golden.hours[i].global / 31.0;
  }
  CHECK(std::abs(year - 1619.9) < 0.05);
  CHECK(std::abs(december - 1.7010) < 0.00005);
  struct Row {
    double array;   // CA
    double store;   // CS, too small, in days of load
    double unmet;   // share of the year's load that this store leaves unmet
    double enough;  // the smallest store tried that leaves none
  };
  const double none_tried = 1e9, last_digit = 5e-6;
  for (const Row& row : {Row{0.8, 8, 0.00016, none_tried}, Row{1.0, 2, 0.00261, 3},
                         Row{1.2, 1, 0.00786, 2}, Row{1.5, 1, 0.00132, 2}}) {
    CAPTURE(row.array);
    std::vector<Energy> gained, used;
    for (const WeatherHour& h : golden.hours) {
      gained.push_back(Energy::from_value(row.array * 1e-3 * h.global / 1.7010));
      used.push_back(Energy::from_value(1.0 / 24.0));
    }
    const Drawdown found = largest_drawdown(gained, used);
    MESSAGE("array " << row.array << ": " << found.largest.value() << " days of load, from day "
                     << found.begins / 24 + 1 << " to day " << found.ends / 24 + 1);
    CHECK(found.gains_enough);
    CHECK(found.largest.value() > row.store);
    CHECK(found.largest.value() <= row.store + 365.0 * (row.unmet + last_digit));
    CHECK(found.largest.value() <= row.enough);
    if (row.array == 0.8)  // three hours one after another: the unmet load is what the store lacks
      CHECK(found.largest.value() >= row.store + 365.0 * (row.unmet - last_digit));
  }
}

}  // namespace

}  // namespace reference_drawdown_of_a_year

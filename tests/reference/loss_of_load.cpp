// SPDX-License-Identifier: Apache-2.0
// The hourly kernel against a table of loss of load: an independent computation, not a published
// table. It was made apart from this project, in another language, of Golden's typical year: level
// plane; each hour gives CA times its light over the mean day of the worst month, in loads of a
// day; the load is even, the store holds CS days of it and loses nothing. The year is run twice and
// the second one counts: share of the load that is unmet, and hours that lack more than 1e-12.
// The hours at CS 0.5 are left out: the night empties that store exactly, rounding decides.
#include <doctest/doctest.h>

#include <cmath>
#include <optional>
#include <vector>

#include "hourly_files.hpp"
#include "housepower/energy/kernel.hpp"

namespace reference_loss_of_load {

using namespace housepower::energy;
using namespace housepower::energy::test;
using housepower::energy::test::Place;

namespace {

struct Year {
  std::vector<double> sun, load, air, others;
  [[nodiscard]] kernel::Hours hours() const {
    kernel::Hours h{sun, air, {}, 1, others};
    h.load_W[0] = load;
    return h;
  }
};

/// Energy in loads of a day.
Year golden(double array) {
  const Place& place = places().front();
  double december = 0.0;
  for (std::size_t i = 334 * 24; i < place.hours.size(); ++i)
    december += place.hours[i].global / 31.0;
  Year year;
  for (const WeatherHour& h : place.hours) year.sun.push_back(array * h.global / december);
  year.load.assign(year.sun.size(), 1.0 / 24.0);
  year.air.assign(year.sun.size(), 20.0);
  year.others.assign(year.sun.size(), 0.0);
  return year;
}

kernel::Plant ideal(double store) {
  kernel::Plant p;
  p.capacity_Wh = store;
  p.accepts_W.fill(1e30);
  return p;
}

struct Lost {
  double share = 0.0;
  int hours = 0;
};
/// Twice as a whole for the share, then hour by hour for the count.
Lost second_year(const Year& year, kernel::Plant plant) {
  const int all = int(year.sun.size());
  kernel::Outcome first, second, one;
  kernel::run(year.hours(), 0, all, {&plant, 1}, {&first, 1});
  plant.arrive = first.charge_Wh / plant.capacity_Wh;
  kernel::run(year.hours(), 0, all, {&plant, 1}, {&second, 1});
  Lost lost{second.unserved / second.asked, 0};
  for (int h = 0; h < all; ++h) {
    kernel::run(year.hours(), h, 1, {&plant, 1}, {&one, 1});
    lost.hours += one.unserved > 1e-12;
    plant.arrive = one.charge_Wh / plant.capacity_Wh;
  }
  CHECK(plant.arrive == doctest::Approx(second.charge_Wh / plant.capacity_Wh).epsilon(1e-12));
  return lost;
}

TEST_CASE("Golden: loss of load by array and store, as it was computed apart from this kernel" *
          doctest::skip(!hourly_data())) {
  constexpr double stores[] = {0.5, 1.0, 2.0, 3.0, 5.0, 8.0};
  struct Row {
    double array;
    Lost by_store[6];
  };
  constexpr Row rows[] = {
      {0.8,
       {{0.09672, 0}, {0.03382, 338}, {0.01884, 188}, {0.01386, 140}, {0.00838, 85}, {0.00016, 3}}},
      {1.0, {{0.07881, 0}, {0.01496, 156}, {0.00261, 27}}},
      {1.2, {{0.06833, 0}, {0.00786, 82}}},
      {1.5, {{0.05895, 0}, {0.00132, 17}}}};
  for (const Row& row : rows) {
    const Year year = golden(row.array);
    for (std::size_t i = 0; i < 6; ++i) {
      CAPTURE(row.array);
      CAPTURE(stores[i]);
      const Lost lost = second_year(year, ideal(stores[i]));
      CHECK(std::abs(lost.share - row.by_store[i].share) <= 0.5e-5 * (1.0 + 1e-9));
      if (stores[i] >= 1.0) CHECK(lost.hours == row.by_store[i].hours);
      if (row.by_store[i].share == 0.0) CHECK(lost.share == 0.0);
    }
  }
}

}  // namespace

}  // namespace reference_loss_of_load

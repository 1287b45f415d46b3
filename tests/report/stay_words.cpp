// SPDX-License-Identifier: Apache-2.0
// Phrases of a stay, each as it is said.
#include <doctest/doctest.h>

#include "housepower/report/stay.hpp"

namespace report_stay_words {
namespace {

using namespace housepower;
using namespace housepower::report;

energy::Told told_of(double days_, double point, std::array<double, 2> could_be) {
  energy::Told t;
  t.length = days_ * day, t.point = point * day;
  t.could_be = {could_be[0] * day, could_be[1] * day};
  t.nights = energy::nights(t.length, 16);
  return t;
}

}  // namespace

TEST_CASE("days are said as people say them") {
  CHECK(stay_in_days(2.5 * day, false) == "2.5 days");
  CHECK(stay_in_days(1.0 * day, false) == "1 day");
  CHECK(stay_in_days(0.5 * day, false) == "half a day");
  CHECK(stay_in_days(0.0 * day, false) == "less than half a day");
  CHECK(stay_in_days(30.0 * day, true) == "30 days or more");
  CHECK(stay_in_days(2.99 * day, 30.0 * day) == "2.5 days");
}

TEST_CASE("a told length names its nights, what it was rounded from and how far it may be off") {
  const auto t = told_of(2.5, 2.9, {2.0, 3.5});
  CHECK(stay_told(t, false) == "2.5 days (3 nights)");
  CHECK(stay_doubt(t) == "2.9 rounded down; could be 2 to 3.5");
  CHECK(stay_doubt(told_of(2.5, 2.5, {2.0, 3.5})) == "could be 2 to 3.5");
  CHECK(stay_doubt(told_of(2.0, 2.0, {2.0, 2.0})).empty());
  CHECK(stay_told(t, true) == "unlimited");
}

TEST_CASE("a change is told by itself, and never on the wrong side of what is told without it") {
  const auto now = told_of(2.5, 2.9, {2.0, 3.5});
  CHECK(stay_changed(now, 4.5 * day, true) / day == 4.5);
  CHECK(stay_changed(now, 2.0 * day, true) / day == 2.5);
  CHECK(stay_changed(now, 1.5 * day, false) / day == 1.5);
  CHECK(stay_changed(now, 3.0 * day, false) / day == 2.5);
}

TEST_CASE("the worst in a hundred is told, and no chance of too few years") {
  energy::StayAnswer a;
  a.years = 100, a.longest = 30.0 * day;
  energy::Told t;
  t.first_percentile = 1.5 * day;
  CHECK(stay_worst(t, a) == "1 in 100 ends after 1.5 days");
  CHECK(stay_among(a) == "9 of 10 stays");
  a.chance = 0.95;
  CHECK(stay_among(a) == "95 of 100 stays");
  t.first_percentile = 30.0 * day;
  CHECK(stay_worst(t, a) == "99 of 100 last that long");
  a.years = 1, a.chance = 0.9;
  CHECK(stay_among(a) == "9 of 10 stays (too few years for a chance)");
  t.first_percentile = 1.5 * day;
  CHECK(stay_worst(t, a) == "the shortest ends after 1.5 days");
}

}  // namespace report_stay_words

// SPDX-License-Identifier: Apache-2.0
// Months against each other.
#include "housepower/energy/months.hpp"
#include "camp.hpp"
#include "housepower/energy/outlook.hpp"

namespace energy_months {
namespace {

using namespace camp;
using namespace housepower::energy;

Months months_of(double parked, double met) {
  Months months;
  for (auto& m : months) m = {parked * day, met * day, 0.5};
  return months;
}

TEST_CASE("of months alike with travel the one shorter parked is the shortest, then the emptiest") {
  Months months = months_of(20.0, 30.0);
  months[2].lowest = 0.4;
  CHECK(shortest(months) == 2);
  months[7].parked = 19.0 * day;
  CHECK(shortest(months) == 7);
  months[4].met = 29.0 * day;
  CHECK(shortest(months) == 4);
}

TEST_CASE("near the shortest month are those within 30 % or two days, whichever is more") {
  Months months = months_of(20.0, 29.0);
  months[4].met = 4.0 * day, months[5].met = 5.9 * day, months[6].met = 6.1 * day;
  CHECK(near_shortest(months, 30.0 * day) == std::vector{4, 5});  // two days
  months[4].met = 20.0 * day, months[5].met = 25.9 * day, months[6].met = 26.1 * day;
  CHECK(near_shortest(months, 30.0 * day) == std::vector{4, 5});  // 30 %: 6 d
  Months outlasting = months_of(20.0, 30.0);
  outlasting[8].parked = 10.0 * day, outlasting[9].parked = 12.9 * day;
  CHECK(near_shortest(outlasting, 30.0 * day) == std::vector{8, 9});  // by what they last parked
}

TEST_CASE("of months that all outlast the horizon those where fewest stays do are near, then the "
          "emptiest") {
  Months months = months_of(30.0, 30.0);
  for (auto& m : months) m.outlast = 1.0;
  months[0].outlast = 0.91, months[11].outlast = 0.955, months[11].lowest = 0.3;
  CHECK(shortest(months) == 0);  // not December, where the bank gets emptier
  // Also those in which all do as far as was seen, where the bank gets as empty.
  CHECK(near_shortest(months, 30.0 * day).size() == 12);
  for (auto& m : months) m.lowest = 0.8;
  months[4].lowest = 0.5, months[5].lowest = 0.55, months[6].lowest = 0.61;
  months[0].outlast = months[11].outlast = 1.0;
  CHECK(near_shortest(months, 30.0 * day) == std::vector{4, 5});
  months[0].outlast = 0.85;
  CHECK(near_shortest(months, 30.0 * day) == std::vector{0});
}

TEST_CASE("a promise is judged in the month in which it is kept least, told or not") {
  const auto van_ = [](const std::string& month, const std::string& promised) {
    return van::with(bank, "own_draw", "charge_limit = \"60 A\"\nown_draw") + panel +
           van::with(roof, "modules = 2", "modules = 1") + at("darwin", month) +
           appliance("Fridge", "power = \"50 W\"\nduty = \"60 %\"\nduty_per_kelvin = "
                               "\"2 %\"\nduty_at = \"25 °C\"\non = \"panel\"") +
           "[promise]\nstay = \"" + promised + "\"\n";
  };
  for (const char* promised : {"4 d", "7 d", "11 d"}) {
    CAPTURE(promised);
    const auto judged = *stay_that_counts(Camp(van_("", promised)).design(), {}, 1);
    for (int m = 0; m < 12; ++m) {
      const std::string month = "month = \"" + std::string(month_name(m)) + "\"";
      const auto of_month = *stay_that_counts(Camp(van_(month, promised)).design(), {}, 1);
      CAPTURE(m);
      // Below the promised chance the length decides; from there on the share.
      if (judged.promise->value >= Ratio(0.9))
        CHECK(sure(*judged.promise) <= sure(*of_month.promise));
      if (judged.promise->value >= Ratio(0.9)) CHECK(of_month.promise->value >= Ratio(0.9));
    }
  }
}

TEST_CASE("of twelve months that is found in which fewest starts have no end") {
  const auto van_ = [](const std::string& month) {
    return bank + panel + van::with(roof, "modules = 2", "modules = 1") + at("darwin", month) +
           appliance("Fridge", "power = \"50 W\"\nduty = \"40 %\"\non = \"panel\"") +
           "[promise]\nunlimited = true\n";
  };
  const auto least = *without_end(Camp(van_("")).design(), {});
  CHECK(least.outlast_with_less < Ratio(1.0));  // or this asks little
  for (int m = 0; m < 12; ++m) {
    const std::string month = "month = \"" + std::string(month_name(m)) + "\"";
    const auto of_month = *without_end(Camp(van_(month)).design(), {});
    CHECK(least.outlast_with_less <= of_month.outlast_with_less);
  }
}

TEST_CASE("lengths alone are those of the stay, and are told alike") {
  const Camp c(bank + panel + roof + at("hobart") +
               appliance("Fridge", "power = \"45 W\"\nduty = \"40 %\"\non = \"panel\"") +
               "[travel]\ndriving = \"1 h\"\nevery = \"2 d\"\n[[charger]]\nname = \"drive\"\n"
               "kind = \"dc-dc\"\ncurrent = \"20 A\"\n");
  const auto weather = weather_of(c.design(), 12, 1);
  REQUIRE(weather.has_value());
  const Surroundings around(c.design(), *weather);
  StayQuestion q;
  q.month = 5, q.longest_days = 12;
  const auto whole = stay(c.design(), around, q);
  REQUIRE(whole.has_value());
  const auto alone = lengths(c.design(), around, q);
  CHECK(alone.travels);
  CHECK(alone.met == whole->met);
  CHECK(alone.parked.met == whole->parked.met);
  CHECK(alone.met > alone.parked.met);
  CHECK(told(alone).parked.length == told(*whole).parked.length);
  CHECK(told(alone).travelled.length == told(*whole).travelled.length);
  const Months coarse = month_by_month(c.design(), around, q);
  const auto least = hardest(c.design(), near_shortest(coarse, 12.0 * day), around, q);
  for (q.month = 0; q.month < 12; ++q.month)
    CHECK_FALSE(harder(lengths(c.design(), around, q), least));
}

/// Of stays that are simulated to the end.
void check_as_to_the_end(const Camp& c, const Weather& weather, StayQuestion q) {
  const Surroundings around(c.design(), weather);
  const auto& promise = c.design()->promise;
  std::vector plants{*plant_of(c.design(), promise.bank_age),
                     *plant_of(c.design(), promise.bank_age)};
  plants.front().others_factor = 0.0;
  const Stays s = simulate(around, q, plants);
  const auto alone = lengths(c.design(), around, q);
  const auto whole = *stay(c.design(), around, q);
  for (const StayAnswer& a : {alone, whole}) {
    CHECK(a.parked.met == reached(s, 0, promise.chance));
    CHECK(a.parked.sampling == reached_interval(s, 0, promise.chance));
    CHECK(a.parked.first_percentile == reached(s, 0, 0.99));
    CHECK(a.met == reached(s, 1, promise.chance));
    CHECK(a.sampling == reached_interval(s, 1, promise.chance));
    REQUIRE(a.promise.has_value());
    CHECK(a.promise->value == lasting(s, 1, *promise.stay).value);
    CHECK(a.promise->interval == lasting(s, 1, *promise.stay).interval);
    CHECK(a.promise_parked == lasting(s, 0, *promise.stay).value);
  }
  CHECK(whole.parked.all_outlast ==
        std::none_of(s.all.begin(), s.all.end(), [](const auto& o) { return o.ended; }));
}

TEST_CASE("stays that are left once what is asked is known are told as if simulated to the end") {
  const std::string chargers =
      "[travel]\ndriving = \"1 h\"\nevery = \"3 d\"\n[[charger]]\nname = \"drive\"\n"
      "kind = \"dc-dc\"\ncurrent = \"20 A\"\n";
  struct Tried {
    const char *power, *promised;
  };
  // Outlasting, long, short and shorter; promised for less and for more than they last.
  for (const auto& [power, promised] :
       {Tried{"5 W", "11 d"}, {"25 W", "2 d"}, {"45 W", "11 d"}, {"90 W", "2 d"}}) {
    const Camp c(bank + panel + roof + at("hobart") +
                 appliance("Fridge", "power = \"" + std::string(power) +
                                         "\"\nduty = \"60 %\"\non = \"panel\"") +
                 chargers + "[promise]\nstay = \"" + promised + "\"\n");
    const auto weather = weather_of(c.design(), 20, 3);
    REQUIRE(weather.has_value());
    StayQuestion q;
    for (const int month : {0, 5}) {
      q.month = month;
      check_as_to_the_end(c, *weather, q);
    }
  }
}

TEST_CASE("a coarse look at months meets what stays simulated to the end do") {
  const Camp c(bank + panel + roof + at("hobart") +
               appliance("Fridge", "power = \"45 W\"\nduty = \"60 %\"\non = \"panel\""));
  const auto weather = weather_of(c.design(), 20, 3);
  REQUIRE(weather.has_value());
  const Surroundings around(c.design(), *weather);
  StayQuestion q;
  q.every = 5;
  const Months months = month_by_month(c.design(), around, q);
  const std::array plants{*plant_of(c.design(), c.design()->promise.bank_age)};
  for (q.month = 0; q.month < 12; ++q.month)
    CHECK(months[std::size_t(q.month)].met ==
          reached(simulate(around, q, plants), 0, c.design()->promise.chance));
}

TEST_CASE("months near the shortest are the same, however far stays are followed to find them") {
  const std::string chargers =
      "[travel]\ndriving = \"1 h\"\nevery = \"3 d\"\n[[charger]]\nname = \"drive\"\n"
      "kind = \"dc-dc\"\ncurrent = \"20 A\"\n";
  std::size_t found_short = 0;
  for (const std::string power : {"5 W", "30 W", "60 W", "90 W", "150 W"}) {
    for (const std::string& travel : {std::string(), chargers}) {
      CAPTURE(power);
      const Camp c(
          bank + panel + roof + at("hobart") +
          appliance("Fridge", "power = \"" + power + "\"\nduty = \"60 %\"\non = \"panel\"") +
          travel);
      const auto weather = weather_of(c.design(), 20, 3);
      REQUIRE(weather.has_value());
      const Surroundings around(c.design(), *weather);
      StayQuestion q;
      q.every = 5;
      const Months months = month_by_month(c.design(), around, q);
      CHECK(near_shortest(c.design(), around, q) == near_shortest(months, 30.0 * day));
      found_short += months[std::size_t(shortest(months))].met < 4.0 * day;
    }
  }
  CHECK(found_short > 1);  // or no short look was made
}

TEST_CASE("the easiest month is that of all near the longest, also where travel makes many alike") {
  const std::string often =
      "[travel]\ndriving = \"3 h\"\nevery = \"2 d\"\n[[charger]]\nname = \"drive\"\n"
      "kind = \"dc-dc\"\ncurrent = \"30 A\"\n";
  for (const std::string& travel : {std::string(), often}) {
    const Camp c(bank + panel + roof + at("hobart") +
                 appliance("Fridge", "power = \"60 W\"\nduty = \"60 %\"\non = \"panel\"") + travel);
    const auto weather = weather_of(c.design(), 20, 3);
    REQUIRE(weather.has_value());
    const Surroundings around(c.design(), *weather);
    StayQuestion q;
    const Months months = month_by_month(c.design(), around, q);
    const auto most = easiest(c.design(), months, around, q);
    Duration longest_met{};
    for (const MonthMet& one : months) longest_met = std::max(longest_met, one.met);
    for (q.month = 0; q.month < 12; ++q.month) {
      CAPTURE(q.month);
      const auto one = lengths(c.design(), around, q);
      if (one.met < 0.85 * longest_met) continue;  // of those near the longest
      // Of those that are told alike at the horizon the first one.
      const auto longest = told(most), other = told(one);
      CHECK(other.travelled.length <= longest.travelled.length);
      if (other.travelled.length == longest.travelled.length)
        CHECK(other.parked.length <= longest.parked.length);
    }
    CHECK(most.travels == !travel.empty());
  }
}

}  // namespace

}  // namespace energy_months

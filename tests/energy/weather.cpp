// SPDX-License-Identifier: Apache-2.0
// Made-up weather: the chains of clear and dull days against their stationary statistics, what the
// years keep of a town's means, and what every hour keeps of a day.
#include <algorithm>
#include <cmath>
#include <vector>

#include "camp.hpp"
#include "housepower/energy/draws.hpp"
#include "housepower/energy/weather.hpp"

namespace energy_weather {
namespace {

using namespace camp;
using namespace housepower::energy;

std::span<const tables::ClearnessChain> chains() { return van::shipped().clearness; }
Weather made_up(std::string_view town, int years, std::uint64_t seed = 1) {
  const tables::Town* found = van::shipped().town(town);
  REQUIRE(found);
  return Weather(*found, chains(), years, seed);
}

struct Statistics {
  double mean = 0.0, sd = 0.0, lag_1 = 0.0;
};
Statistics of(const std::vector<double>& x) {
  Statistics s;
  const auto n = double(x.size());
  for (const double each : x) s.mean += each / n;
  double squares = 0.0, products = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    squares += (x[i] - s.mean) * (x[i] - s.mean);
    if (i > 0) products += (x[i] - s.mean) * (x[i - 1] - s.mean);
  }
  s.sd = std::sqrt(squares / n);
  s.lag_1 = products / squares;
  return s;
}

/// What a chain tends to, with clearness spread evenly inside each state.
Statistics stationary(const tables::ClearnessChain& chain) {
  std::array<double, 10> share{};
  share.fill(0.1);
  for (int step = 0; step < 2000; ++step) {
    std::array<double, 10> next{};
    for (std::size_t i = 0; i < 10; ++i)
      for (std::size_t j = 0; j < 10; ++j) next[j] += share[i] * double(chain.chances[i][j]);
    share = next;
  }
  const double width = double(chain.most - chain.least) / 10.0;
  const auto middle = [&](std::size_t i) {
    return double(chain.least) + (double(i) + 0.5) * width;
  };
  Statistics s;
  double products = 0.0, squares = 0.0;
  for (std::size_t i = 0; i < 10; ++i) {
    s.mean += share[i] * middle(i);
    squares += share[i] * (middle(i) * middle(i) + width * width / 12.0);
    for (std::size_t j = 0; j < 10; ++j)
      products += share[i] * double(chain.chances[i][j]) * middle(i) * middle(j);
  }
  const double variance = squares - s.mean * s.mean;
  s.sd = std::sqrt(variance);
  s.lag_1 = (products - s.mean * s.mean) / variance;
  return s;
}

/// Computed from the ten matrices of Aguiar, Collares-Pereira & Conde 1988 with a program written
/// apart from this one, by 200,000 days of each.
constexpr std::array<Statistics, 10> computed_apart{{{0.242, 0.156, 0.38},
                                                     {0.334, 0.167, 0.03},
                                                     {0.374, 0.166, 0.28},
                                                     {0.430, 0.167, 0.31},
                                                     {0.476, 0.167, 0.32},
                                                     {0.526, 0.157, 0.31},
                                                     {0.574, 0.154, 0.23},
                                                     {0.620, 0.137, 0.24},
                                                     {0.668, 0.119, 0.19},
                                                     {0.728, 0.073, 0.26}}};

TEST_CASE("the ten chains of clearness tend to what was computed apart from them") {
  REQUIRE(chains().size() == 10);
  for (std::size_t i = 0; i < 10; ++i) {
    CAPTURE(i);
    const Statistics s = stationary(chains()[i]);
    CHECK(std::abs(s.mean - computed_apart[i].mean) <= 0.003);
    CHECK(std::abs(s.sd - computed_apart[i].sd) <= 0.003);
    CHECK(std::abs(s.lag_1 - computed_apart[i].lag_1) <= 0.01);
  }
}

constexpr Spells none{1.0, 0.0};

TEST_CASE("without spells a long month drawn from each chain has its spread and its memory") {
  // 200,000 days: by chance the deviation strays by 0.0004 and the lag by 0.0022. The mean is met
  // by what `clearness_of_days` adds, and so says nothing; it is given as the chain's own.
  for (std::size_t i = 0; i < 10; ++i) {
    CAPTURE(i);
    Draws draws(7, i);
    std::vector<Ratio> days(200000);
    const Statistics expected = stationary(chains()[i]);
    Sky sky{expected.mean, 0.5};
    clearness_of_days(chains(), expected.mean, draws, sky, days, none);
    CHECK(double(sky.yesterday) == double(days.back()));
    const Statistics s = of(std::vector<double>(days.begin(), days.end()));
    CHECK(std::abs(s.mean - expected.mean) <= 1e-6);
    CHECK(std::abs(s.sd - expected.sd) <= 0.003);
    CHECK(std::abs(s.lag_1 - expected.lag_1) <= 0.01);
  }
}

struct Months {
  double worst_five = 0.0, lag_1 = 0.0, off = 0.0;  // mean of all; off: the largest
};
Months months_of(double mean, const Spells& spells) {
  constexpr int months = 2000;
  Draws draws(3, 5);
  Sky sky{mean, 0.5};
  std::vector<Ratio> days(31);
  Months all;
  for (int m = 0; m < months; ++m) {
    clearness_of_days(chains(), mean, draws, sky, days, spells);
    const std::vector<double> k(days.begin(), days.end());
    const Statistics s = of(k);
    double worst = 1.0;
    for (std::size_t d = 0; d + 5 <= k.size(); ++d)
      worst = std::min(worst, (k[d] + k[d + 1] + k[d + 2] + k[d + 3] + k[d + 4]) / 5.0);
    all.worst_five += worst / months, all.lag_1 += s.lag_1 / months;
    all.off = std::max(all.off, std::abs(s.mean - mean));
  }
  return all;
}

TEST_CASE("spells of weather make the worst five days duller, and keep the month's mean") {
  for (const double mean : {0.2, 0.3, 0.4, 0.5, 0.6, 0.68}) {
    CAPTURE(mean);
    const Months without = months_of(mean, none), with = months_of(mean, {});
    CHECK(without.off <= 0.01);
    CHECK(with.off <= 0.01);
    // 2000 months leave about 0.0015 of the difference to chance, and 0.005 of that of the lag.
    CHECK(with.worst_five < without.worst_five - 0.006);
    CHECK(with.lag_1 > without.lag_1 + 0.1);
  }
}

TEST_CASE("a spell that rules every day and never ends settles, one that ends each day is none") {
  // Ruling draws that are fresh each day are as good as fresh ones.
  const Months fresh = months_of(0.4, {0.0, 1.0}), without = months_of(0.4, none);
  CHECK(std::abs(fresh.worst_five - without.worst_five) < 0.005);
  CHECK(std::abs(fresh.lag_1 - without.lag_1) < 0.02);
  const Months settled = months_of(0.4, {1.0, 1.0});
  CHECK(settled.off <= 0.01);
}

TEST_CASE("quantiles of the normal distribution as they are tabulated") {
  // From memory, as any table of it has them.
  struct Quantile {
    double share, value;
  };
  for (const Quantile& q :
       {Quantile{0.5, 0.0}, Quantile{0.84134475, 1.0}, Quantile{0.95, 1.644854},
        Quantile{0.975, 1.959964}, Quantile{0.99, 2.326348}, Quantile{0.999, 3.090232}}) {
    CAPTURE(q.share);
    CHECK(std::abs(double(normal_quantile(q.share)) - q.value) <= 6e-7);
    CHECK(std::abs(double(normal_quantile(1.0 - q.share)) + q.value) <= 6e-7);
  }
}

TEST_CASE("draws are spread evenly, and another stream is another sequence") {
  Draws draws(1, 2), other(1, 3), again(1, 2);
  std::vector<double> x, y;
  for (int i = 0; i < 100000; ++i) {
    x.push_back(double(draws.uniform()));
    y.push_back(double(other.uniform()));
    REQUIRE(x.back() == double(again.uniform()));
  }
  const Statistics s = of(x);  // by chance: mean 0.0009, deviation 0.0004, correlation 0.0032
  CHECK(std::abs(s.mean - 0.5) < 0.004);
  CHECK(std::abs(s.sd - std::sqrt(1.0 / 12.0)) < 0.002);
  CHECK(std::abs(s.lag_1) < 0.012);
  double together = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) together += 12.0 * (x[i] - 0.5) * (y[i] - 0.5) / 1e5;
  CHECK(std::abs(together) < 0.012);
}

bool same(const Spell& a, const Spell& b) {
  return a.level == b.level && a.diffuse == b.diffuse && a.air == b.air;
}
Spell spell_of(const Weather& w, int year, int first_day, int days) {
  Spell s;
  w.spell(year, first_day, days, s);
  return s;
}

TEST_CASE("the same seed gives the same years, another one others, in any order") {
  const Weather one = made_up("hobart", 6), again = made_up("hobart", 6),
                longer = made_up("hobart", 9), other = made_up("hobart", 6, 2);
  for (const int year : {3, 0, 5, 3, 1}) {
    CHECK(same(spell_of(one, year, 0, 365), spell_of(again, year, 0, 365)));
    CHECK(same(spell_of(one, year, 0, 365), spell_of(longer, year, 0, 365)));
    CHECK_FALSE(same(spell_of(one, year, 0, 365), spell_of(other, year, 0, 365)));
    CHECK_FALSE(same(spell_of(one, year, 0, 365), spell_of(one, (year + 1) % 6, 0, 365)));
  }
}

TEST_CASE("a spell past December goes on with January, after the last year with the first") {
  const Weather w = made_up("hobart", 2);
  for (const int year : {0, 1}) {
    const Spell over = spell_of(w, year, 360, 10), january = spell_of(w, 1 - year, 0, 5);
    REQUIRE(over.level.size() == 240);
    CHECK(std::equal(january.level.begin(), january.level.end(), over.level.begin() + 120));
    CHECK(std::equal(january.air.begin(), january.air.end(), over.air.begin() + 120));
  }
}

TEST_CASE("the first of many years are those that so few are by themselves, to their end") {
  const Weather few = made_up("hobart", 6), first = made_up("hobart", 9).first(6);
  CHECK(first.years() == 6);
  for (int year = 0; year < 6; ++year)
    CHECK(same(spell_of(first, year, 300, 100), spell_of(few, year, 300, 100)));
  CHECK(few.first(9).years() == 6);
}

/// A value a day of one month, in many years.
template <class F> std::vector<std::vector<double>> by_year(const Weather& w, int month, F value) {
  std::vector<std::vector<double>> years;
  const int first = month_begins[std::size_t(month)],
            days = month_begins[std::size_t(month) + 1] - first;
  Spell s;
  for (int y = 0; y < w.years(); ++y) {
    w.spell(y, first, days, s);
    auto& values = years.emplace_back();
    for (int d = 0; d < days; ++d) values.push_back(value(s, first + d, std::size_t(d) * 24));
  }
  return years;
}
double sun_of_day(const Spell& s, std::size_t from) {  // Wh/m²
  double sum = 0.0;
  for (std::size_t h = from; h < from + 24; ++h) sum += s.level[h].value();
  return sum;
}
double air_of_day(const Spell& s, std::size_t from) {  // °C
  double sum = 0.0;
  for (std::size_t h = from; h < from + 24; ++h) sum += in_celsius(s.air[h]) / 24.0;
  return sum;
}

TEST_CASE("a month's sun over 2000 years is the town's, its mean differs from year to year") {
  // 0.07 between 2000 years leave 0.0016 of the mean to chance: 0.4 % of a mean of 0.4, 0.7 % of a
  // dull one. Held to 1 %, and to three times that chance where it is more.
  constexpr int years = 2000;
  for (const std::string town : {"hobart", "vienna", "brisbane"}) {
    const Weather w = made_up(town, years, 2);
    CHECK(w.kind() == WeatherKind::synthetic);
    for (int month = 0; month < 12; ++month) {
      CAPTURE(town);
      CAPTURE(month);
      double sun = 0.0;
      std::vector<double> means;
      const auto outside = [&](int d) { return w.almanac().days[std::size_t(d)].outside.value(); };
      for (const auto& days : by_year(w, month, [&](const Spell&s, int d, std::size_t from) {
             sun += sun_of_day(s, from);
             return sun_of_day(s, from) * 3600.0 / outside(d);
           }))
        means.push_back(of(days).mean);
      const Statistics between = of(means);
      const double days = month_begins[std::size_t(month) + 1] - month_begins[std::size_t(month)];
      const double spread = std::min(0.07, between.mean / 3.0);  // the dullest stay above none
      const double within = std::max(0.01, 3.0 * spread / between.mean / std::sqrt(years));
      const Irradiation expected = mean_day(*van::shipped().town(town), month).level;
      CHECK(sun / years / days == doctest::Approx(expected.value() / 3600.0).epsilon(within));
      CHECK(double(w.months()[std::size_t(month)].clearness) ==
            doctest::Approx(between.mean).epsilon(within));
      CHECK(between.sd == doctest::Approx(spread).epsilon(0.15));
    }
  }
}

TEST_CASE("no hour has more diffuse than all of its light, and none has light at night") {
  for (const std::string town : {"hobart", "whitehorse", "darwin"}) {
    const Weather w = made_up(town, 3);
    const Almanac& almanac = w.almanac();
    int lit = 0, dark = 0;
    for (int year = 0; year < 3; ++year) {
      const Spell s = spell_of(w, year, 0, 365);
      for (std::size_t i = 0; i < s.level.size(); ++i) {
        CHECK(s.diffuse[i].value() >= 0.0);
        CHECK(s.diffuse[i].value() <= s.level[i].value());
        const auto& sun = almanac.days[i / 24];
        const double middle = sun.hour_angle[i % 24].value(), half = 7.5 * degree.value();
        const auto up = [&](double angle) {
          return sun_altitude(almanac.latitude, sun.declination, Angle::from_value(angle)).value();
        };
        if (std::max({up(middle - half), up(middle), up(middle + half)}) < 0.0) {
          CHECK(s.level[i].value() == 0.0);
          ++dark;
        }
        lit += s.level[i].value() > 0.0;
      }
    }
    // Half the year is day, give or take the hours at its ends.
    CHECK(lit > 3 * 4200);
    CHECK(lit < 3 * 4600);
    CHECK(dark > 3 * 3800);
  }
}

TEST_CASE("the hours of a day add up to its clearness") {
  const Weather w = made_up("vienna", 1);
  const Spell s = spell_of(w, 0, 0, 365);
  for (std::size_t d = 0; d < 365; ++d) {
    const double clearness = sun_of_day(s, 24 * d) * 3600.0 / w.almanac().days[d].outside.value();
    CHECK(clearness >= 0.01 - 1e-12);
    CHECK(clearness <= 0.87 + 1e-12);
  }
}

TEST_CASE(
    "made-up air is no colder than was ever recorded, and no warmer for a record stated too warm") {
  // A stated record that is warmer than the town's cannot take its cold nights away; 3 K below the
  // record of one station is the coldest to expect (common practice, no source).
  const auto coldest = [](const std::string& stated) {
    const Camp at_sydney(bank + at("sydney", stated));
    const auto w = weather_of(at_sydney.design(), 200, 1);
    REQUIRE(w);
    const Spell s = spell_of(*w, 0, 0, 365 * 200);
    return in_celsius(*std::min_element(s.air.begin(), s.air.end()));
  };
  const tables::Town& sydney = *van::shipped().town("sydney");
  const double record = in_celsius(*sydney.record_low) - 3.0;
  const double unbounded = [&] {
    const Spell s = spell_of(made_up("sydney", 200), 0, 0, 365 * 200);
    return in_celsius(*std::min_element(s.air.begin(), s.air.end()));
  }();
  REQUIRE(unbounded < record);
  CHECK(coldest("") == record);
  CHECK(coldest("record_low = \"8 °C\"") == coldest(""));
  CHECK(coldest("record_low = \"-60 °C\"") == unbounded);
}

TEST_CASE("air swings by the town's daily range, and whole days are warmer or colder") {
  // The cosine is read at half hours: 7.5° beside its top and bottom, so 0.9914 of the range. Day
  // means spread by 3 K and keep 0.7 from day to day; 12,400 days with that memory are worth
  // 2,200 independent ones: their mean is left to chance by 0.06 K.
  const Weather w = made_up("hobart", 400);
  const tables::Town& town = *van::shipped().town("hobart");
  for (const int month : {0, 6}) {
    const auto m = std::size_t(month);
    const double low = in_celsius(town.lowest[m]), high = in_celsius(town.highest[m]);
    const double range = (high - low) * std::cos(7.5 * degree.value());
    std::vector<double> means;
    double products = 0.0, squares = 0.0;
    for (const auto& days : by_year(w, month, [&](const Spell&s, int, std::size_t from) {
           const auto [coldest, warmest] =
               std::minmax_element(s.air.begin() + long(from), s.air.begin() + long(from) + 24);
           CHECK((*warmest - *coldest).value() == doctest::Approx(range).epsilon(1e-9));
           CHECK(warmest - s.air.begin() - long(from) >= 14);
           CHECK(warmest - s.air.begin() - long(from) <= 15);
           return air_of_day(s, from);
         })) {
      const double middle = (high + low) / 2.0;
      for (std::size_t d = 0; d < days.size(); ++d) {
        means.push_back(days[d]);
        if (d == 0) continue;
        products += (days[d] - middle) * (days[d - 1] - middle);
        squares += (days[d] - middle) * (days[d] - middle);
      }
    }
    CHECK(std::abs(of(means).mean - (high + low) / 2.0) < 0.25);
    CHECK(std::abs(of(means).sd - air_between_days.value()) < 0.2);
    CHECK(std::abs(products / squares - 0.7) < 0.03);
  }
}

TEST_CASE("days of a year belong to their months") {
  CHECK(month_of_day(0) == 0);
  CHECK(month_of_day(30) == 0);
  CHECK(month_of_day(31) == 1);
  CHECK(month_of_day(58) == 1);
  CHECK(month_of_day(59) == 2);
  CHECK(month_of_day(364) == 11);
}

}  // namespace

}  // namespace energy_weather

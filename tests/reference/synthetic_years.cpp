// SPDX-License-Identifier: Apache-2.0
// Made-up years against the typical year whose monthly means they are made from: clear and dull
// days, air, and how long a bank lasts in both. A typical year is put together from months that
// were chosen for being usual: it says nothing of how years differ, and one year is no ground for
// "nine times of ten". So its stays are shown beside, and held only to lie where the years do.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>
#include <vector>

#include "hourly_data.hpp"
#include "plain_stays.hpp"

namespace reference_synthetic_years {

using namespace housepower;
using namespace housepower::energy;
using namespace housepower::energy::test;

namespace {

constexpr int years = 300;

struct Town {
  std::string name;
  std::shared_ptr<const tables::WeatherFile> file;  // which `typical` views
  Weather typical, made_up;
};
Town town(const std::string& name, const std::string& file_name) {
  const auto path = *hourly_data() / file_name;
  std::ifstream in(path, std::ios::binary);
  const std::string text(std::istreambuf_iterator<char>(in), {});
  Diagnostics problems;
  const auto read = tables::read_weather(file_name, text, problems);
  REQUIRE(read);
  const auto all = tables::read_tables(tables::embedded_tables(), {}, problems);
  REQUIRE(all);
  const auto file = std::make_shared<const tables::WeatherFile>(*read);
  return {name, file, Weather(*file), Weather(tables::town_of(*file), all->clearness, years, 1)};
}

struct Moments {
  double n = 0.0, sum = 0.0, squares = 0.0;
  void add(double x) { n += 1.0, sum += x, squares += x * x; }
  [[nodiscard]] double mean() const { return sum / n; }
  [[nodiscard]] double sd() const {
    return std::sqrt(std::max(0.0, squares - sum * sum / n) / (n - 1.0));
  }
};

struct Month {
  double clearness = 0.0, clearness_sd = 0.0, dull = 0.0;  // dull: share of days below 0.3
  double air = 0.0, air_sd = 0.0;                          // daily means, °C
};
constexpr std::array of_month{&Month::clearness, &Month::clearness_sd, &Month::dull, &Month::air,
                              &Month::air_sd};
struct OneYear {
  std::array<Month, 12> months{};
  double lag_1 = 0.0;  // of clearness in its month's own mean and deviation, within months
};

OneYear look_at(const Weather& w, int year) {
  OneYear result;
  Spell s;
  double products = 0.0, squares = 0.0;
  for (std::size_t m = 0; m < 12; ++m) {
    const int first = month_begins[m], days = month_begins[m + 1] - first;
    w.spell(year, first, days, s);
    Moments clear, air;
    std::vector<double> of_days;
    Month& month = result.months[m];
    for (int d = 0; d < days; ++d) {
      double sun = 0.0, warmth = 0.0;
      for (std::size_t h = std::size_t(d) * 24; h < std::size_t(d) * 24 + 24; ++h) {
        sun += s.level[h].value() * 3600.0;
        warmth += in_celsius(s.air[h]) / 24.0;
      }
      of_days.push_back(sun / w.almanac().days[std::size_t(first + d)].outside.value());
      clear.add(of_days.back()), air.add(warmth);
      month.dull += (of_days.back() < 0.3) / double(days);
    }
    month.clearness = clear.mean(), month.clearness_sd = clear.sd();
    month.air = air.mean(), month.air_sd = air.sd();
    for (std::size_t d = 1; d < of_days.size(); ++d) {
      const double one = (of_days[d] - clear.mean()) / clear.sd();
      products += one * (of_days[d - 1] - clear.mean()) / clear.sd();
      squares += one * one;
    }
  }
  result.lag_1 = products / squares;
  return result;
}

OneYear mean_of_years(const Weather& w) {
  OneYear all;
  for (int y = 0; y < w.years(); ++y) {
    const OneYear one = look_at(w, y);
    all.lag_1 += one.lag_1 / w.years();
    for (std::size_t m = 0; m < 12; ++m)
      for (const auto each :
           {&Month::clearness, &Month::clearness_sd, &Month::dull, &Month::air, &Month::air_sd})
        all.months[m].*each += one.months[m].*each / w.years();
  }
  return all;
}

Month year_of(const OneYear& y) {
  Month mean;
  for (const Month& m : y.months)
    for (const auto each : of_month) mean.*each += m.*each / 12.0;
  return mean;
}

std::string line(const std::string& head, const Month& f, const Month& o) {
  return fmt::format(
      "{:>5}  {:.3f} | {:.3f}  {:.3f} | {:.3f}  {:5.2f} | {:5.2f}   {:5.1f} | {:5.1f}"
      "   {:4.1f} | {:4.1f}\n",
      head, f.clearness, o.clearness, f.clearness_sd, o.clearness_sd, f.dull, o.dull, f.air, o.air,
      f.air_sd, o.air_sd);
}

void compare(const Town& town) {
  const OneYear file = look_at(town.typical, 0), ours = mean_of_years(town.made_up);
  std::string table = town.name + ": typical year | mean of " + std::to_string(years) +
                      " made-up years\nmonth  clearness      deviation      days below 0.3  air, "
                      "°C        deviation, K\n";
  CAPTURE(town.name);
  for (std::size_t m = 0; m < 12; ++m) {
    CAPTURE(m);
    const Month &f = file.months[m], &o = ours.months[m];
    table += line(std::to_string(m + 1), f, o);
    // 0.07 between 300 years leave 0.004 to chance: four times that.
    CHECK(std::abs(o.clearness - f.clearness) <= 0.016);
    // A deviation of 31 days that know each other is uncertain by about 0.02: four times that.
    CHECK(std::abs(o.clearness_sd - f.clearness_sd) <= 0.08);
    // The mean of all hours is not the middle of highest and lowest: up to about a kelvin.
    CHECK(std::abs(o.air - f.air) <= 1.2);
    // 4 K less what a month's own mean takes of it: 31 days that keep 0.7 leave sqrt(16 - 2.67). The
    // real deviation depends on the place; it is printed, not held.
    CHECK(std::abs(o.air_sd - 3.65) <= 0.13);
  }
  const Month f = year_of(file), o = year_of(ours);
  table += line("year", f, o);
  table += fmt::format("lag-1 of clearness {:.2f} | {:.2f}", file.lag_1, ours.lag_1);
  MESSAGE(table);
  // Two published models of the spread differ by 0.03 at a mean of 0.5.
  CHECK(std::abs(o.clearness_sd - f.clearness_sd) <= 0.03);
  // 365 days of which a tenth are dull, in runs of some: uncertain by 0.02.
  CHECK(std::abs(o.dull - f.dull) <= 0.05);
  // Spells last longer than in a typical year, the safe side (dull_spells.cpp); 353 pairs leave 0.053
  // to chance.
  CHECK(ours.lag_1 >= file.lag_1 - 0.05);
  CHECK(ours.lag_1 <= file.lag_1 + 0.35);
}

TEST_CASE("made-up years of Albuquerque and Golden against their typical years" *
          doctest::skip(!hourly_data())) {
  compare(town("Golden", "USA_CO_Golden-NREL.724666_TMY3.epw"));
  compare(town("Albuquerque", "USA_NM_Albuquerque.Intl.AP.723650_TMY3.epw"));
}

// ---- Stays ----

std::vector<double> together(const std::vector<std::vector<double>>& by_year) {
  std::vector<double> all;
  for (const auto& one : by_year) all.insert(all.end(), one.begin(), one.end());
  return all;
}

void compare_stays(const Town& town) {
  const double december = mean_sun(town.typical, 0, 11);
  std::string table =
      town.name + ", December: days that 9 of 10 stays reach (and half of them), " +
      "typical year | made-up years; share of these whose own 9 of 10 is shorter\n" +
      "  array  store\n";
  for (const double array : {0.5, 0.8, 1.0})
    for (const double store : {1.0, 2.0, 3.0, 5.0}) {
      CAPTURE(town.name);
      CAPTURE(array);
      CAPTURE(store);
      const auto file = lengths(town.typical, 11, {array, december, store}).front();
      const auto by_year = lengths(town.made_up, 11, {array, december, store});
      const auto all = together(by_year);
      const double nine = reached(file, 0.9);
      std::vector<double> of_years;
      for (const auto& one : by_year) of_years.push_back(reached(one, 0.9));
      const auto shorter =
          std::count_if(of_years.begin(), of_years.end(), [&](double d) { return d < nine; });
      table += fmt::format("  {:4.1f}  {:5.1f}  {:5.1f} ({:4.1f}) | {:5.1f} ({:4.1f})  {:.2f}\n",
                           array, store, nine, reached(file, 0.5), reached(all, 0.9),
                           reached(all, 0.5), double(shorter) / years);
      CHECK(nine >= *std::min_element(of_years.begin(), of_years.end()));
      CHECK(nine <= *std::max_element(of_years.begin(), of_years.end()));
      // A store of some days feels dull Decembers, of which one usual December has none.
      if (store >= 2.0) CHECK(reached(all, 0.9) <= nine);
    }
  MESSAGE(table);
}

TEST_CASE("stays in December in the typical years and in the made-up ones" *
          doctest::skip(!hourly_data())) {
  compare_stays(town("Golden", "USA_CO_Golden-NREL.724666_TMY3.epw"));
  compare_stays(town("Albuquerque", "USA_NM_Albuquerque.Intl.AP.723650_TMY3.epw"));
}

}  // namespace

}  // namespace reference_synthetic_years

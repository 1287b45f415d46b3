// SPDX-License-Identifier: Apache-2.0
// Are made-up winters kinder than real ones? Every hourly file of the folder is held against made-up
// years of the same monthly means: the spread of daily clearness, how one day follows the other, the
// worst five days, and how long a plain bank lasts. Any file may be judged so:
//   HOUSEPOWER_HOURLY_DATA=FOLDER ./dev test reference -tc="*winters*"
// docs/WEATHER.md shows the files at hand; UPDATE_WEATHER=1 writes it anew.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>

#include "hourly_data.hpp"
#include "plain_stays.hpp"

namespace reference_dull_spells {

using namespace housepower;
using namespace housepower::energy;
using namespace housepower::energy::test;

namespace {

constexpr int years = 400;
constexpr std::array stores{2.0, 4.0, 8.0};            // days of load
constexpr std::array arrays{0.7, 0.85, 1.0};           // of the load, in the month's mean sun
constexpr std::array north{11, 0, 1}, south{5, 6, 7};  // winter

std::string content(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::string text(std::istreambuf_iterator<char>(in), {});
  // This table came without the lines of its place, which a full download has.
  if (text.starts_with("time(UTC)") && path.filename() == "pvgis_tmy_test.csv")
    text.insert(0, "Latitude (decimal degrees): 45.0\nLongitude (decimal degrees): 8.0\n");
  return text;
}

struct File {
  std::shared_ptr<const tables::WeatherFile> file;
  Weather real, made_up;
};
/// In the order of their names; what is no hourly year is passed over.
std::vector<File> files() {
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(*hourly_data()))
    paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  Diagnostics problems;
  const auto all = tables::read_tables(tables::embedded_tables(), {}, problems);
  REQUIRE(all);
  std::vector<File> read;
  for (const auto& path : paths) {
    const auto file = tables::read_weather(path.filename().string(), content(path), problems);
    if (!file) {
      MESSAGE(path.filename().string() << " is no hourly year");
      continue;
    }
    const auto kept = std::make_shared<const tables::WeatherFile>(*file);
    read.push_back(
        {kept, Weather(*kept), Weather(tables::town_of(*kept), all->clearness, years, 1, 0.0)});
  }
  return read;
}

struct Days {
  double mean = 0.0, sd = 0.0, lag_1 = 0.0, worst_five = 1.0;  // clearness
};
Days days_of(const Weather& w, int year, int month) {
  const int first = month_begins[std::size_t(month)],
            count = month_begins[std::size_t(month) + 1] - first;
  Spell s;
  w.spell(year, first, count, s);
  std::vector<double> k(std::size_t(count), 0.0);
  Days r;
  for (std::size_t d = 0; d < k.size(); ++d) {
    for (std::size_t h = d * 24; h < d * 24 + 24; ++h) k[d] += s.level[h].value() * 3600.0;
    k[d] /= w.almanac().days[std::size_t(first) + d].outside.value();
    r.mean += k[d] / count;
  }
  double squares = 0.0, products = 0.0;
  for (std::size_t d = 0; d < k.size(); ++d) {
    squares += (k[d] - r.mean) * (k[d] - r.mean);
    if (d > 0) products += (k[d] - r.mean) * (k[d - 1] - r.mean);
    if (d + 5 <= k.size())
      r.worst_five =
          std::min(r.worst_five, (k[d] + k[d + 1] + k[d + 2] + k[d + 3] + k[d + 4]) / 5.0);
  }
  r.sd = std::sqrt(squares / count);
  r.lag_1 = products / squares;
  return r;
}

/// The mean of many months, of the worst five days their median.
Days usual(const Weather& w, int month) {
  Days all;
  std::vector<double> worst;
  for (int y = 0; y < w.years(); ++y) {
    const Days one = days_of(w, y, month);
    all.mean += one.mean / w.years(), all.sd += one.sd / w.years();
    all.lag_1 += one.lag_1 / w.years();
    worst.push_back(one.worst_five);
  }
  all.worst_five = reached(worst, 0.5);
  return all;
}

/// What nine in ten stays of the file's month reach, and of each made-up month.
struct NineInTen {
  double real = 0.0;
  std::vector<double> made_up;
  [[nodiscard]] double quantile(double share) const {
    return energy::test::reached(made_up, 1.0 - share);
  }
};
NineInTen nine_in_ten(const File& f, int month, double array, double store) {
  // The file's own mean counts for both: made-up months meet it but for a hundredth of clearness.
  const double sun = mean_sun(f.real, 0, month);
  NineInTen n;
  n.real = energy::test::reached(lengths(f.real, month, {array, sun, store}).front(), 0.9);
  for (const auto& of_year : lengths(f.made_up, month, {array, sun, store}))
    n.made_up.push_back(energy::test::reached(of_year, 0.9));
  return n;
}

struct Case {
  double array = 0.0, store = 0.0;
  int months = 0, below_tenth = 0, below_hundredth = 0;
};

constexpr std::array names{"January", "February", "March",     "April",   "May",      "June",
                           "July",    "August",   "September", "October", "November", "December"};

std::string row_of(const File& f, int month, std::vector<Case>& cases) {
  const Days real = days_of(f.real, 0, month), made_up = usual(f.made_up, month);
  CHECK(std::abs(made_up.mean - real.mean) <= 0.01);
  std::string row =
      fmt::format("| {}, {} | {:.2f} | {:.2f} / {:.2f} | {:.2f} / {:.2f} | {:.2f} / {:.2f} |",
                  f.file->title, names[std::size_t(month)], real.mean, real.sd, made_up.sd,
                  real.lag_1, made_up.lag_1, real.worst_five, made_up.worst_five);
  std::size_t i = 0;
  for (const double array : arrays)
    for (const double store : stores) {
      const NineInTen n = nine_in_ten(f, month, array, store);
      Case& c = cases[i++];
      c = {array, store, c.months + 1, c.below_tenth + (n.real < n.quantile(0.10) - 1e-9),
           c.below_hundredth + (n.real < n.quantile(0.01) - 1e-9)};
      if (array == arrays[1])
        row +=
            fmt::format(" {:.1f} / {:.1f}, {:.1f} |", n.real, n.quantile(0.10), n.quantile(0.50));
    }
  return row + "\n";
}

const std::string page = HOUSEPOWER_SOURCE_DIR "/docs/WEATHER.md";
const std::string begin = "<!-- by tests/reference/dull_spells.cpp -->\n";

TEST_CASE("made-up winters are not kinder than those of any hourly file" *
          doctest::skip(!hourly_data())) {
  const auto all = files();
  REQUIRE_FALSE(all.empty());
  std::vector<Case> cases(arrays.size() * stores.size());
  std::string table =
      "| place, month | clearness | its spread | lag-1 | worst five days | stay, 2 days' store | 4 "
      "days' | 8 days' |\n|---|---|---|---|---|---|---|---|\n";
  for (const File& f : all)
    for (const int month : f.file->latitude.value() < 0.0 ? south : north)
      table += row_of(f, month, cases);
  table += "\n| array, of the load | store, days | months | below the tenth | below the hundredth "
           "|\n|---|---|---|---|---|\n";
  for (const Case& c : cases) {
    table += fmt::format("| {} | {} | {} | {} | {} |\n", c.array, c.store, c.months, c.below_tenth,
                         c.below_hundredth);
    CAPTURE(c.array);
    CAPTURE(c.store);
    // A tenth of months lie below it by chance; two of twelve may, as rarely more do.
    CHECK(c.below_tenth * 6 <= c.months);
    CHECK(c.below_hundredth == 0);
  }
  MESSAGE(table);
  std::ifstream in(page, std::ios::binary);
  const std::string text(std::istreambuf_iterator<char>(in), {});
  const auto at = text.find(begin);
  REQUIRE(at != text.npos);
  if (std::getenv("UPDATE_WEATHER") != nullptr)
    std::ofstream(page, std::ios::binary) << text.substr(0, at + begin.size()) + table;
  else if (std::getenv("HOUSEPOWER_HOURLY_DATA") == nullptr)
    CHECK(text.substr(at + begin.size()) == table);
}

}  // namespace

}  // namespace reference_dull_spells

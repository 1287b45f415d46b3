// SPDX-License-Identifier: Apache-2.0
// Hourly weather: made-up files of each format, and real ones where they stand beside the project.
#include <fstream>
#include <numeric>
#include <sstream>

#include "../hourly_data.hpp"
#include "../published/collection.hpp"
#include "made_up_weather.hpp"

namespace housepower::tables::tables_weather_file {
namespace {

using namespace test;

TEST_CASE("a year of the open layout: its place, its hours, where it comes from") {
  const WeatherFile file = good(text_of(plain()));
  CHECK(file.file == "w.csv");
  CHECK(file.title == "Old Camp, CO, USA");
  CHECK(file.latitude / degree == doctest::Approx(40.0));
  CHECK(file.longitude / degree == doctest::Approx(-105.0));
  CHECK(file.zone / hour == doctest::Approx(-7.0));
  CHECK(file.elevation / metre == doctest::Approx(1800.0));
  CHECK(file.years == 1);
  CHECK(file.kind == WeatherFile::Kind::typical_year);
  CHECK(file.filled == 0);
  CHECK(file.global.size() == 8760);
  CHECK(file.beam.size() == 8760);
  CHECK(file.diffuse.size() == 8760);
  CHECK(file.air.size() == 8760);
  // The row stamped 12 covers 11 h to 12 h: 800 · sin(82.5°) = 793 W/m², a beam 1.25
  // times that, and the air of 11 h.
  CHECK(watts(file.global[11]) == 793.0);
  CHECK(watts(file.beam[11]) == 991.0);
  CHECK(in_celsius(file.air[11]) == doctest::Approx(11.0));
  CHECK(file.source.kind == SourceKind::supplier);
  CHECK(file.source.title == "w.csv");
  CHECK(file.source.where == "EPW, made up, invented, all of it");
}

TEST_CASE("texts of a source outlive the file that was read, its copies and its moves") {
  std::optional<WeatherFile> kept;
  {
    WeatherFile first = good(text_of(plain()));
    const WeatherFile copy = first;
    first = WeatherFile{};
    kept = copy;
  }
  CHECK(kept->source.title == "w.csv");
}

TEST_CASE("noon stands where the longitude has it: stamps at the end and at the beginning") {
  // Local noon by the sun is 12 h + zone − longitude/15: at 105° W in zone −7 it is 12 h, so the
  // hours before and after 12 h are alike; at 90° W in zone −7 it is 11 h.
  const auto alike_around = [](const WeatherFile& file, std::size_t clock) {
    for (std::size_t k = 0; k < 6; ++k) {
      CAPTURE(k);
      CHECK(watts(file.global[24 + clock + k]) == watts(file.global[24 + clock - 1 - k]));
    }
    CHECK(watts(file.global[24 + clock]) > watts(file.global[24 + clock + 1]));
  };
  alike_around(good(text_of(plain())), 12);
  alike_around(good(text_of(epw(-7.0, -90.0))), 11);
  alike_around(good(text_of(tmy3())), 12);
  // In universal time: 30° E is zone +2, noon at 10 h UTC and so at 12 h there; 37° E is zone
  // round(2.47) = +2 too, 150° W is −10, the year taken as a ring.
  alike_around(good(text_of(pvgis(30.0))), 12);
  alike_around(good(text_of(pvgis(-150.0))), 12);
  CHECK(good(text_of(pvgis(37.0))).zone / hour == doctest::Approx(2.0));
  CHECK(good(text_of(pvgis(-150.0))).zone / hour == doctest::Approx(-10.0));
}

TEST_CASE("a table in universal time is turned as a ring") {
  // Air as 100·day + hour cannot be; so one warm hour marks the place: 31 December, 23 h UTC.
  Lines lines = pvgis(30.0);
  put(lines[5 + 8759], 1, "33.0");
  const WeatherFile east = good(text_of(lines));
  CHECK(in_celsius(east.air[1]) == doctest::Approx(33.0));  // 1 h of "1 January", zone +2
  lines = pvgis(-30.0);
  put(lines[5], 1, "33.0");
  const WeatherFile west = good(text_of(lines));
  CHECK(in_celsius(west.air[8758]) == doctest::Approx(33.0));  // 0 h UTC is 22 h the day before
}

TEST_CASE("the place of a table in universal time, written above it") {
  const WeatherFile file = good(text_of(pvgis(-30.0)));
  CHECK(file.title == "45.50° N, 30.00° W");
  CHECK(file.latitude / degree == doctest::Approx(45.5));
  CHECK(file.elevation / metre == doctest::Approx(250.0));
  CHECK(std::signbit(watts(file.beam[0])) == false);  // "-0.0"
}

TEST_CASE("a typical year of the other layout: months of different years, a name in quotes") {
  const WeatherFile file = good(text_of(tmy3()));
  CHECK(file.title == "OLD CAMP, EAST, CO");
  CHECK(file.kind == WeatherFile::Kind::typical_year);
  CHECK(file.longitude / degree == doctest::Approx(-105.0));
  CHECK(file.zone / hour == doctest::Approx(-7.0));
  CHECK(watts(file.diffuse[12]) == 198.0);  // a quarter of 793, rounded
}

// ---- What the stamps mean for the sun ---------------------------------------------------------

/// The plain year with its radiation put off by so many hours, and a remark in its head.
Lines put_off(double late_h, const std::string& remark = "", double zone = -7.0) {
  Lines lines = plain();
  std::size_t line = epw_heads;
  each_hour([&](int m, int d, int h) { lines[line++] = epw_row(2001, m, d, h, late_h); });
  put(lines[0], 8, fmt::format("{:.1f}", zone));
  if (!remark.empty()) lines[6] = "COMMENTS 2," + remark;
  return lines;
}
double shift_of(const WeatherFile& file) { return file.sun_shift / hour; }

TEST_CASE("radiation of moments: an offset of the head is read as the clear days have it") {
  // A satellite that looks 0.8239 h before the stamp, the hour's end, does so 0.3239 h before the
  // middle of the hour: there the light of the middle stands that much too late.
  const double shift = 0.5 - 0.8239;
  const auto read = [](double late_h, const std::string& remark) {
    return good(text_of(put_off(late_h, remark)));
  };
  const WeatherFile plainly = read(-shift, "Irradiance Time Offset (h): -0.8239");
  CHECK(shift_of(plainly) == doctest::Approx(shift));
  CHECK(plainly.source.where.find("by the offset in its heading") != std::string::npos);
  CHECK(plainly.source.where.find("turned") == std::string::npos);
  const WeatherFile turned = read(-shift, "Irradiance Time Offset (h): +0.8239");
  CHECK(shift_of(turned) == doctest::Approx(shift));
  CHECK(turned.source.where.find("its sign turned") != std::string::npos);
  CHECK(shift_of(read(-shift, "Irradiance Time Offset (h): 0.1761")) == doctest::Approx(shift));
  // Whatever the head says, means of the hour are means of the hour.
  const WeatherFile means = read(0.0, "Irradiance Time Offset (h): -0.8239");
  CHECK(shift_of(means) == 0.0);
  CHECK(means.global == good(text_of(plain())).global);
}

TEST_CASE("stamps without a word on them: moments, the other end of the hour, universal time") {
  CHECK(shift_of(good(text_of(plain()))) == 0.0);
  CHECK(shift_of(good(text_of(put_off(0.1)))) == 0.0);  // 6 min are as good as none
  CHECK(shift_of(good(text_of(put_off(-0.5)))) == doctest::Approx(0.5));
  CHECK(shift_of(good(text_of(put_off(0.5)))) == doctest::Approx(-0.5));
  CHECK(shift_of(good(text_of(put_off(-1.0)))) == doctest::Approx(1.0));
  // Noon at 19 h: the rows count in universal time, and so does their air.
  const WeatherFile universal = good(text_of(put_off(7.0)));
  CHECK(shift_of(universal) == 0.0);
  CHECK(universal.global == good(text_of(plain())).global);
  CHECK(in_celsius(universal.air[12 - 7]) == doctest::Approx(12.0));
  CHECK(universal.source.where.find("universal time") != std::string::npos);
}

TEST_CASE("where no reading centres the clear days on noon that is told, and the file is used") {
  Diagnostics problems;
  const auto file = read_weather("w.csv", text_of(put_off(0.25)), problems);
  REQUIRE(file.has_value());
  REQUIRE(problems.all.size() == 1);
  CHECK(problems.all[0].severity == Severity::warning);
  CHECK(problems.all[0].message.find("15 min after") != std::string::npos);
  CHECK(problems.all[0].place.line == 1);
  CHECK(std::abs(shift_of(*file) + 0.25) < 0.01);  // lit as if they did
  CHECK(file->global.size() == 8760);
}

TEST_CASE("the table in universal time tells no moment: any within its hour is one") {
  CHECK(std::abs(shift_of(good(text_of(pvgis(30.0))))) < 0.01);
  // 37° E is 7° from the middle of its zone, and the made-up light is even to the sun's noon there.
  CHECK(std::abs(shift_of(good(text_of(pvgis(37.0))))) < 0.01);
}

TEST_CASE("wind is taken where it is told for every hour, and hinders nothing where it is not") {
  CHECK(good(text_of(plain())).wind.empty());  // 0 throughout says nothing
  Lines lines = plain();
  for (std::size_t i = epw_heads; i < lines.size(); ++i) put(lines[i], 21, "3.5");
  put(lines[noon], 21, "6.0");
  const WeatherFile windy = good(text_of(lines));
  REQUIRE(windy.wind.size() == 8760);
  CHECK(windy.wind[12] / (metre / second) == doctest::Approx(6.0));
  CHECK(windy.wind[13] / (metre / second) == doctest::Approx(3.5));
  put(lines[noon], 21, "999");  // missing; so is what cannot be: filled on a straight line
  put(lines[noon + 1], 21, "x");
  const WeatherFile filled = good(text_of(lines));
  REQUIRE(filled.wind.size() == 8760);
  CHECK(filled.wind[12] / (metre / second) == doctest::Approx(3.5));
  CHECK(filled.filled == 0);
  for (std::size_t i = 0; i < 5; ++i) put(lines[noon + i], 21, "999");
  CHECK(good(text_of(lines)).wind.empty());
}

TEST_CASE("what a file states of its own uncertainty is kept, weighted by its light") {
  CHECK_FALSE(good(text_of(plain())).uncertainty);
  CHECK_FALSE(good(text_of(tmy3())).uncertainty);
  Lines lines = tmy3();
  lines[1] += ",GHI uncert (%)";
  for (std::size_t i = 2; i < lines.size(); ++i) {
    // 8 % before noon and 12 % after it, where the light is the same; in the night nonsense.
    const auto h = (i - 2) % 24;
    lines[i] += h < 6 || h >= 18 ? ",99" : h < 12 ? ",8" : ",12";
  }
  CHECK(double(good(text_of(lines)).uncertainty.value()) == doctest::Approx(0.10));
}

TEST_CASE("line ends of two characters and a byte-order mark change nothing") {
  const WeatherFile file = good("\xEF\xBB\xBF" + text_of(plain(), "\r\n"));
  CHECK(file.global == good(text_of(plain())).global);
  Diagnostics problems;
  CHECK_FALSE(read_weather("w.csv", "\xEF\xBB\xBF" + text_of(with(0, 6, "x"), "\r\n"), problems));
  REQUIRE(problems.all.size() == 1);
  CHECK(problems.all[0].place.column == column_of(6, plain()[0]));
}

TEST_CASE("29 February is left out, in typical years and in measured ones") {
  Lines lines = plain();
  Lines leap;
  for (int h = 0; h < 24; ++h) leap.push_back(epw_row(2001, 2, 29, h));
  for (auto& row : leap) put(row, 6, "40.0");
  lines.insert(lines.begin() + epw_heads + 59 * 24, leap.begin(), leap.end());
  const WeatherFile file = good(text_of(lines));
  CHECK(file.air == good(text_of(plain())).air);
}

TEST_CASE("several whole years in a row are measured ones") {
  const WeatherFile file = good(text_of(epw(-7.0, -105.0, 2003, 2)));
  CHECK(file.kind == WeatherFile::Kind::measured);
  CHECK(file.years == 2);
  CHECK(file.global.size() == 2 * 8760);

  Lines lines = epw(-7.0, -105.0, 2003, 2);
  for (std::size_t i = epw_heads + 8760; i < lines.size(); ++i) put(lines[i], 0, "2003");
  const auto again = bad_at(epw_heads + 8760 + 1, 1, lines);
  CHECK(again.message == "wants the year 2004, got 2003");
}

TEST_CASE("gaps of up to three hours are filled on a straight line, and counted") {
  Lines lines = plain();  // rows of 11, 12 and 13 h of 1 January: values of 8 h … 14 h known
  for (std::size_t i = 10; i < 13; ++i) {
    put(lines[epw_heads + i], 13, "9999");
    put(lines[epw_heads + i], 6, "99.9");
  }
  put(lines[noon], 15, "");  // an empty field is missing too
  const WeatherFile file = good(text_of(lines));
  const WeatherFile whole = good(text_of(plain()));
  CHECK(file.filled == 3);
  const double before = watts(whole.global[9]), after = watts(whole.global[13]);
  for (std::size_t k = 1; k <= 3; ++k)
    CHECK(watts(file.global[9 + k]) ==
          doctest::Approx(before + (after - before) * double(k) / 4.0));
  CHECK(in_celsius(file.air[11]) == doctest::Approx((9.0 + 11.0) / 2.0));
  CHECK(watts(file.diffuse[12]) ==
        doctest::Approx((watts(whole.diffuse[11]) + watts(whole.diffuse[13])) / 2.0));
  CHECK(file.global[14] == whole.global[14]);
}

TEST_CASE("a gap over the end of the year lies between its last hours and its first") {
  Lines lines = with(epw_heads, 6, "99.9");
  put(lines.back(), 6, "99.9");
  const WeatherFile file = good(text_of(lines));  // 22 h: 2 °C, then two missing, then 1 h: 1 °C
  CHECK(file.filled == 2);
  CHECK(in_celsius(file.air[8759]) == doctest::Approx(5.0 / 3.0));
  CHECK(in_celsius(file.air[0]) == doctest::Approx(4.0 / 3.0));
}

TEST_CASE("what is filled in never has more diffuse light than light") {
  Lines lines = plain();
  const std::size_t evening = 18;  // global is 0 from 18 h on; 17 h has 104 and 26 of diffuse
  put(lines[epw_heads + evening], 15, "9999");
  const WeatherFile file = good(text_of(lines));
  CHECK(watts(file.diffuse[evening]) == 0.0);  // half of 26 otherwise
}

TEST_CASE("the beam may be missing: then there is none at all") {
  Lines lines = plain();
  for (std::size_t i = 10; i < 14; ++i) put(lines[epw_heads + i], 14, "9999");
  put(lines[epw_heads + 100], 14, "9999");
  const WeatherFile file = good(text_of(lines));
  CHECK(file.beam.empty());
  CHECK(file.filled == 0);
  CHECK(file.global.size() == 8760);

  lines = pvgis(30.0);
  lines[4] = "time(UTC),T2m,RH,G(h),other,Gd(h),IR(h)";
  CHECK(good(text_of(lines)).beam.empty());
}

TEST_CASE("its months as a town: what the climate table would say") {
  Lines lines = plain();
  for (std::size_t h = 0; h < 24; ++h) put(lines[epw_heads + 31 * 24 + h], 6, "-8.0");  // 1 Feb.
  const WeatherFile file = good(text_of(lines));
  const Town town = town_of(file);
  CHECK(town.name == "w.csv");
  CHECK(town.title == file.title);
  CHECK(town.latitude == file.latitude);
  CHECK(town.longitude == file.longitude);
  CHECK(town.zone == file.zone);
  CHECK(town.elevation == file.elevation);
  CHECK(town.only_measured);
  CHECK(town.source == file.source);
  REQUIRE(town.measured.has_value());
  double day = 0.0;  // Wh/m²
  for (int h = 0; h < 24; ++h) day += light(h + 0.5);
  for (std::size_t m = 0; m < 12; ++m) {
    CHECK(town.sunshine[m].value() == 0.0);
    CHECK((*town.measured)[m].value() == doctest::Approx(day * 3600.0));
    // The air runs from 0 °C at 0 h to 12 °C at 12 h, but for one of the 28 days of February.
    CHECK(in_celsius(town.highest[m]) ==
          doctest::Approx(m == 1 ? (27.0 * 12.0 - 8.0) / 28.0 : 12.0));
    CHECK(in_celsius(town.lowest[m]) == doctest::Approx(m == 1 ? -8.0 / 28.0 : 0.0).epsilon(1e-9));
  }
  CHECK(in_celsius(*town.record_low) == doctest::Approx(-8.0));
}

// Real files.

std::string content(const std::string& name) {
  std::ostringstream text;
  text << std::ifstream(*hourly_data() / name, std::ios::binary).rdbuf();
  return text.str();
}

/// By how much the light of the clearest day within 3 days of `day_of_year` comes after solar noon,
/// in hours. About 15 April the equation of time is 0, so noon is 12 h + zone − longitude/15.
double late(const WeatherFile& file, std::size_t day_of_year) {
  const auto beam_of = [&](std::size_t d) {
    return std::accumulate(file.beam.begin() + std::ptrdiff_t(24 * d),
                           file.beam.begin() + std::ptrdiff_t(24 * d + 24), Irradiance{});
  };
  std::size_t clearest = day_of_year - 3;
  for (std::size_t d = clearest; d <= day_of_year + 3; ++d)
    if (beam_of(d) > beam_of(clearest)) clearest = d;
  double sum = 0.0, moment = 0.0;
  for (std::size_t h = 0; h < 24; ++h) {
    const double light_then = watts(file.global[24 * clearest + h]);
    sum += light_then;
    moment += light_then * (double(h) + 0.5);
  }
  return moment / sum - (12.0 + file.zone / hour - file.longitude / degree / 15.0);
}
constexpr std::size_t mid_april = 104;  // 15 April, from 0

TEST_CASE("typical years of Golden and Albuquerque: place, months, noon" *
          doctest::skip(!hourly_data())) {
  const auto means = housepower::test::collection("monthly_means_us.csv");
  for (const std::string name :
       {"USA_CO_Golden-NREL.724666_TMY3.epw", "USA_NM_Albuquerque.Intl.AP.723650_TMY3.epw"}) {
    CAPTURE(name);
    const WeatherFile file = good(content(name));
    CHECK(file.global.size() == 8760);
    CHECK(file.kind == WeatherFile::Kind::typical_year);
    CHECK(file.filled == 0);
    CHECK(std::abs(late(file, mid_april)) < 0.1);  // an hour's mistake would be 1
    CHECK(shift_of(file) == 0.0);
    CHECK(file.wind.size() == 8760);
    const Town town = town_of(file);
    std::size_t month = 0;
    double lowest = 100.0;
    for (const auto& row : means) {
      if (row.at("file") != name) continue;
      const auto value = [&](const char* head) { return std::stod(row.at(head)); };
      CHECK(file.latitude / degree == doctest::Approx(value("lat_deg")));
      CHECK(file.longitude / degree == doctest::Approx(value("lon_deg")));
      CHECK(file.zone / hour == doctest::Approx(value("tz_h")));
      CHECK(file.elevation / metre == doctest::Approx(value("elev_m")));
      CHECK(std::abs((*town.measured)[month].value() / 3.6e6 - value("ghi_kWh_m2_day")) < 5.01e-4);
      CHECK(std::abs(in_celsius(town.highest[month]) - value("t_daily_max_mean_C")) < 5.01e-3);
      CHECK(std::abs(in_celsius(town.lowest[month]) - value("t_daily_min_mean_C")) < 5.01e-3);
      lowest = std::min(lowest, value("t_lowest_C"));
      ++month;
    }
    if (means.empty()) continue;
    CHECK(month == 12);
    CHECK(in_celsius(*town.record_low) == doctest::Approx(lowest));
  }
}

TEST_CASE("a typical year of Greensboro, in the other layout" * doctest::skip(!hourly_data())) {
  const WeatherFile file = good(content("723170TYA.CSV"));
  CHECK(file.global.size() == 8760);
  CHECK(file.title == "GREENSBORO PIEDMONT TRIAD INT, NC");
  CHECK(file.latitude / degree == doctest::Approx(36.1));
  CHECK(file.longitude / degree == doctest::Approx(-79.95));
  CHECK(file.zone / hour == doctest::Approx(-5.0));
  CHECK(file.kind == WeatherFile::Kind::typical_year);
  CHECK(std::abs(late(file, mid_april)) < 0.1);
  CHECK(shift_of(file) == 0.0);
  CHECK(file.wind.size() == 8760);
  // Of its light 8 to 13 % are stated; 25 % of little.
  CHECK(double(file.uncertainty.value()) > 0.09);
  CHECK(double(file.uncertainty.value()) < 0.12);
  // Its tenth row, stamped 10:00 on 1 January: 79 W/m², diffuse 78, 10.6 °C.
  CHECK(watts(file.global[9]) == 79.0);
  CHECK(watts(file.diffuse[9]) == 78.0);
  CHECK(in_celsius(file.air[9]) == doctest::Approx(10.6));
}

TEST_CASE("a typical year in universal time: 45° N, 8° E" * doctest::skip(!hourly_data())) {
  const std::string table = content("pvgis_tmy_test.csv");
  Diagnostics problems;
  CHECK_FALSE(read_weather("w.csv", table, problems).has_value());
  REQUIRE(problems.all.size() == 2);  // the file does not say where it is
  CHECK(problems.all[0].place.line == 1);
  CHECK(problems.all[1].key == "longitude");

  const WeatherFile file =
      good("Latitude (decimal degrees): 45.0\nLongitude (decimal degrees): 8.0\n" + table);
  CHECK(file.global.size() == 8760);
  CHECK(file.zone / hour == doctest::Approx(1.0));         // 8/15 rounded
  CHECK(watts(file.global[9 + 1]) == 149.0);               // "20180101:0900"
  CHECK(in_celsius(file.air[0]) == doctest::Approx(2.1));  // "20161231:2300"
  // Its radiation is that of a moment: were that the beginning of the hour this would be 0.5.
  CHECK(late(file, mid_april) == doctest::Approx(0.32).epsilon(0.1));
  // In files of that origin the satellite looks 0.1761 h after the beginning of the hour.
  CHECK(std::abs(shift_of(file) - (0.1761 - 0.5)) < 0.03);
  CHECK(file.wind.size() == 8760);
}

}  // namespace
}  // namespace housepower::tables::tables_weather_file

// SPDX-License-Identifier: Apache-2.0
// Made-up weather files of each format, a whole year each, and what reading them gives.
#pragma once

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <functional>

#include "housepower/tables/weather_file.hpp"

namespace housepower::tables::test {

using Lines = std::vector<std::string>;
inline constexpr std::array<int, 12> days_of{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
inline constexpr std::size_t epw_heads = 8;

/// A made-up day: light from 6 h to 18 h of solar time, brightest at noon.
inline double light(double at) {
  const double solar_hour = std::fmod(at + 48.0, 24.0);
  return solar_hour <= 6.0 || solar_hour >= 18.0
             ? 0.0
             : std::round(800.0 * std::sin((solar_hour - 6.0) / 12.0 * 3.14159265358979));
}
inline double warmth(double clock) { return clock < 12.0 ? clock : 24.0 - clock; }

/// Calls for every hour of a year without 29 February: month, day, hour from 0.
inline void each_hour(const std::function<void(int, int, int)>& call) {
  for (int m = 1; m <= 12; ++m)
    for (int d = 1; d <= days_of[std::size_t(m - 1)]; ++d)
      for (int h = 0; h < 24; ++h) call(m, d, h);
}

inline std::string epw_row(int in_year, int m, int d, int h, double solar_late = 0.0) {
  const double global = light(h + 0.5 - solar_late);
  return fmt::format("{},{},{},{},0,?9?9,{:.1f},1.0,50,80000,0,0,250,{:.0f},{:.0f},{:.0f},0,0,0,0,"
                     "0,0.0,9,8,16.1,3300,9,999999999,89,0.0310,0,88,0.330,999.0,99.0",
                     in_year, m, d, h + 1, warmth(h), global, 1.25 * global, 0.25 * global);
}

/// The place as the head of a file states it; noon stands at 12 h + zone − longitude/15.
inline Lines epw(double zone = -7.0, double longitude = -105.0, int first_year = 2001,
                 int years = 1) {
  Lines lines{
      fmt::format("LOCATION,Old  Camp,CO,USA,made up,1,40.0,{:.1f},{:.1f},1800.0", longitude, zone),
      "DESIGN CONDITIONS,0",
      "TYPICAL/EXTREME PERIODS,0",
      "GROUND TEMPERATURES,0",
      "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
      "COMMENTS 1,invented, all of it",
      "COMMENTS 2,",
      "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31"};
  for (int y = 0; y < years; ++y)
    each_hour([&](int m, int d, int h) {
      lines.push_back(epw_row(first_year + y, m, d, h, zone - longitude / 15.0));
    });
  return lines;
}
inline const Lines& plain() {
  static const Lines lines = epw();
  return lines;
}

inline Lines tmy3() {
  Lines lines{"1,\"OLD CAMP, EAST\",CO,-7.0,40.0,-105.0,1800",
              "Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),Dry-bulb (C)"};
  each_hour([&](int m, int d, int h) {
    const double global = light(h + 0.5);
    lines.push_back(fmt::format("{:02}/{:02}/{},{:02}:00,{:.0f},{:.0f},{:.0f},{:.1f}", m, d,
                                1990 + m, h + 1, global, 1.25 * global, 0.25 * global, warmth(h)));
  });
  return lines;
}

/// Stamps begin the hour, in universal time; `late` is by how much noon is after 12 h of it.
inline Lines pvgis(double longitude) {
  Lines lines{"Latitude (decimal degrees): 45.5",
              fmt::format("Longitude (decimal degrees):\t{:.1f}", longitude), "Elevation (m): 250",
              "", "time(UTC),T2m,RH,G(h),Gb(n),Gd(h),IR(h)"};
  each_hour([&](int m, int d, int h) {
    const double solar = std::fmod(h + 0.5 + longitude / 15.0 + 24.0, 24.0);
    const double global = light(solar);
    lines.push_back(fmt::format("{}{:02}{:02}:{:02}00,{:.2f},90.0,{:.1f},-0.0,{:.2f},280.1",
                                2000 + m, m, d, h, warmth(h), global, 0.25 * global));
  });
  lines.insert(lines.end(), {"", "T2m: 2-m air temperature", "made up, all of it"});
  return lines;
}

inline std::string text_of(const Lines& lines, std::string_view end = "\n") {
  std::string text;
  for (const auto& line : lines) text.append(line).append(end);
  return text;
}

inline WeatherFile good(const std::string& text) {
  Diagnostics problems;
  auto file = read_weather("w.csv", text, problems);
  CAPTURE(render(problems, {}));
  REQUIRE(problems.all.empty());
  REQUIRE(file.has_value());
  return *std::move(file);
}

inline std::vector<Diagnostic> bad(const Lines& lines) {
  Diagnostics problems;
  CHECK_FALSE(read_weather("w.csv", text_of(lines), problems).has_value());
  for (const auto& d : problems.all) {
    CHECK(d.severity == Severity::error);
    CHECK(d.place.file == "w.csv");
    CHECK_FALSE(d.hint.empty());
  }
  return problems.all;
}

/// The one problem of a file, at that line and column.
inline Diagnostic bad_at(int line, int column, const Lines& lines) {
  const auto all = bad(lines);
  REQUIRE(all.size() == 1);
  CAPTURE(all[0].message);
  CHECK(all[0].place.line == line);
  CHECK(all[0].place.column == column);
  return all[0];
}

/// Replaces a field, counted from 0, of a line.
inline void put(std::string& line, std::size_t field, std::string_view value) {
  std::size_t from = 0;
  for (; field > 0; --field) from = line.find(',', from) + 1;
  line.replace(from, line.find(',', from) - from, value);
}
inline Lines with(std::size_t line, std::size_t field, std::string_view value,
                  Lines lines = plain()) {
  put(lines[line], field, value);
  return lines;
}
/// Of an EPW file: column of a field in its row for the noon hour of 1 January; line 8 + 12 from 0.
inline constexpr std::size_t noon = epw_heads + 12;
inline int column_of(std::size_t field, const std::string& line) {
  std::size_t from = 0;
  for (; field > 0; --field) from = line.find(',', from) + 1;
  return int(from) + 1;
}

inline double watts(Irradiance i) { return i.value(); }

}  // namespace housepower::tables::test

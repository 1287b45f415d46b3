// SPDX-License-Identifier: Apache-2.0
// Hourly weather files of three forms, read simply: their radiation, and the hour it belongs to.
// What the stamps mean: EPW and TMY3 stamp the end of the hour in standard time, and the sun of the
// middle of the hour stands for it; PVGIS stamps its beginning in UTC, but gives the moment at which
// the satellite looked: in files of that origin "Irradiance Time Offset" -0.8239 h from the hour's
// end, so 0.1761 h after the stamp.
#pragma once

#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

#include "hourly_data.hpp"
#include "housepower/energy/sun.hpp"

namespace housepower::energy::test {

struct WeatherHour {
  Duration moment{};                         // of its sun, since noon UT on 1 January 2000
  double day_number = 0;                     // of the year, whole
  double global = 0, beam = 0, diffuse = 0;  // W/m²; beam: normal to the sun
  double outside =
      std::numeric_limits<double>::quiet_NaN();  // level, no air; where the file has it
};
struct Place {
  std::string name;
  Angle latitude{}, longitude{};
  Length elevation{};
  std::vector<WeatherHour> hours;  // 365 days of 24
};

inline std::vector<std::string> fields(const std::string& line) {
  std::vector<std::string> all;
  std::istringstream in(line);
  for (std::string one; std::getline(in, one, ',');) all.push_back(one);
  return all;
}

/// The sun's moment in hours of the day, by a clock that is `zone` hours ahead of UTC.
inline WeatherHour weather_hour(int year, int month, int day_of_month, double at, double zone) {
  WeatherHour h;
  const Duration noon = since_2000(year, month, day_of_month, 12.0 * hour);
  h.moment = noon + hour * (at - 12.0 - zone);
  h.day_number = 1.0 + std::floor((noon - since_2000(year, 1, 1, 0.0 * hour)) / day);
  return h;
}

inline Place read_epw(const std::filesystem::path& file, const std::string& name) {
  std::ifstream in(file);
  std::string line;
  std::getline(in, line);
  const auto head = fields(line);
  Place place{name,
              std::stod(head.at(6)) * degree,
              std::stod(head.at(7)) * degree,
              std::stod(head.at(9)) * metre,
              {}};
  for (int i = 1; i < 8; ++i) std::getline(in, line);
  while (std::getline(in, line)) {
    const auto f = fields(line);
    WeatherHour h = weather_hour(std::stoi(f.at(0)), std::stoi(f.at(1)), std::stoi(f.at(2)),
                                 std::stod(f.at(3)) - 0.5, std::stod(head.at(8)));
    h.outside = std::stod(f.at(10));
    h.global = std::stod(f.at(13)), h.beam = std::stod(f.at(14)), h.diffuse = std::stod(f.at(15));
    place.hours.push_back(h);
  }
  return place;
}

inline Place read_tmy3(const std::filesystem::path& file, const std::string& name) {
  std::ifstream in(file);
  std::string line;
  std::getline(in, line);
  const auto head = fields(line);
  Place place{name,
              std::stod(head.at(4)) * degree,
              std::stod(head.at(5)) * degree,
              std::stod(head.at(6)) * metre,
              {}};
  std::getline(in, line);
  while (std::getline(in, line)) {
    const auto f = fields(line);
    const std::string& date = f.at(0);  // MM/DD/YYYY
    WeatherHour h =
        weather_hour(std::stoi(date.substr(6)), std::stoi(date), std::stoi(date.substr(3)),
                     std::stod(f.at(1)) - 0.5, std::stod(head.at(3)));
    h.outside = std::stod(f.at(2));
    h.global = std::stod(f.at(4)), h.beam = std::stod(f.at(7)), h.diffuse = std::stod(f.at(10));
    place.hours.push_back(h);
  }
  return place;
}

/// The files of this form say nothing of the place; its height is left at 0.
inline Place read_pvgis(const std::filesystem::path& file, const std::string& name, Angle latitude,
                        Angle longitude) {
  std::ifstream in(file);
  std::string line;
  std::getline(in, line);
  Place place{name, latitude, longitude, {}, {}};
  while (std::getline(in, line)) {
    const auto f = fields(line);
    const std::string& t = f.at(0);  // YYYYMMDD:HHMM
    WeatherHour h =
        weather_hour(std::stoi(t.substr(0, 4)), std::stoi(t.substr(4, 2)),
                     std::stoi(t.substr(6, 2)), std::stod(t.substr(9, 2)) + 0.1761, 0.0);
    h.global = std::stod(f.at(3)), h.beam = std::stod(f.at(4)), h.diffuse = std::stod(f.at(5));
    place.hours.push_back(h);
  }
  return place;
}

/// All four, or none. All lie north of the equator.
inline const std::vector<Place>& places() {
  static const std::vector<Place> all = [] {
    std::vector<Place> read;
    if (const auto folder = hourly_data()) {
      read.push_back(read_epw(*folder / "USA_CO_Golden-NREL.724666_TMY3.epw", "Golden"));
      read.push_back(
          read_epw(*folder / "USA_NM_Albuquerque.Intl.AP.723650_TMY3.epw", "Albuquerque"));
      read.push_back(read_tmy3(*folder / "723170TYA.CSV", "Greensboro"));
      read.push_back(
          read_pvgis(*folder / "pvgis_tmy_test.csv", "45 N 8 E", 45.0 * degree, 8.0 * degree));
    }
    return read;
  }();
  return all;
}

}  // namespace housepower::energy::test

// SPDX-License-Identifier: Apache-2.0
// A year of hourly weather for the tests of this room, and a design in it.
#pragma once

#include "camp.hpp"
#include "housepower/tables/weather_file.hpp"

namespace camp {

/// A made-up year: sun from 6 to 18 h at 105° W, brightest at noon, wind where it is given.
inline tables::WeatherFile made_up_file(double wind_m_s) {
  tables::WeatherFile file;
  file.latitude = 40.0 * degree;
  file.longitude = -105.0 * degree;
  file.zone = -7.0 * hour;
  for (std::size_t i = 0; i < 8760; ++i) {
    const double sun = std::max(0.0, std::sin((double(i % 24) + 0.5 - 6.0) / 12.0 * 3.14159265));
    file.global.push_back(Irradiance::from_value(800.0 * sun));
    file.diffuse.push_back(Irradiance::from_value(200.0 * sun));
    file.air.push_back(celsius(15.0));
    if (wind_m_s >= 0.0) file.wind.push_back(wind_m_s * metre / second);
  }
  return file;
}

/// A design whose place is a weather file, "w.epw". Keeps what it views into.
class CampInWeather {
public:
  CampInWeather(const std::string& text, tables::WeatherFile file) {
    const auto kept = std::make_shared<const tables::WeatherFile>(std::move(file));
    tables_.towns.push_back(tables::town_of(*kept));
    tables_.towns.back().name = "w.epw";
    tables_.weather.emplace_back("w.epw", kept);
    const FileReader reader = [&](std::string_view) {
      return std::optional(text + "[place]\nweather = \"w.epw\"\n");
    };
    Diagnostics problems;
    opened_ = design::open_design("van.toml", reader, {}, tables_, Defaults::ordinary, problems);
    REQUIRE_MESSAGE(opened_, render(problems, {}));
  }
  [[nodiscard]] const design::Design& design() const { return opened_->design; }

private:
  tables::Tables tables_ = van::shipped();
  std::optional<design::Opened> opened_;
};

}  // namespace camp

// SPDX-License-Identifier: Apache-2.0
// Hourly weather of a place, from a file of the user's own: EPW, TMY3 csv or PVGIS TMY csv, known by
// what stands in it and not by its name.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/tables/tables.hpp"

namespace housepower::tables {

/// Whole years of hourly weather at one place. Hour i covers the clock hour [i, i + 1) of local
/// standard time, counted from 1 January 0 h; 8760 hours a year (29 February is left out).
///
/// EPW and TMY3 stamp an hour at its end, PVGIS at its beginning and in universal time: its hours
/// are moved to the zone of the longitude, the year taken as a ring. Radiation may be that of a
/// moment (of a satellite's look), and heads state it with either sign, so every reading is held
/// against the file's clear days: they centre on the sun's noon. `sun_shift` says what came of it;
/// the values stay in their hours.
struct WeatherFile {
  /// Typical: months of different years, or one year, which cannot be told from a made-up one.
  enum class Kind { typical_year, measured };
  std::string file, title;
  Angle latitude{}, longitude{};  // north and east positive
  Length elevation{};             // 0 where the file does not say
  Duration zone{};                // standard time less UTC
  Kind kind = Kind::typical_year;
  int years = 1;
  std::vector<Irradiance> global, diffuse;  // on the level, mean of the hour
  std::vector<Irradiance> beam;             // across its rays; empty where hours of it are missing
  std::vector<Temperature> air;
  std::vector<Quotient<Length, Duration>> wind;  // empty where it is not told for every hour
  Duration sun_shift{};  // from the middle of an hour to that of what its radiation is of
  std::optional<Ratio> uncertainty;  // of the global radiation, its mean, where the file states it
  int filled = 0;                    // hours in which something was filled in over a gap
  Source source{};                   // views into `kept`
  std::shared_ptr<const void> kept;  // moves and copies share it
};

/// Missing values over up to three hours are filled on a straight line; over more they are errors,
/// of beam and wind alone excepted. At most twenty errors, each with its line and column; nothing
/// where there is one. A warning where no reading of its stamps centres its clear days on noon.
[[nodiscard]] std::optional<WeatherFile> read_weather(std::string_view file, std::string_view text,
                                                      Diagnostics&);

/// Its months as a row of the climate table would give them: mean daily maximum and minimum,
/// irradiation of the level a day (`only_measured`), the lowest hour as record low. Its source
/// views the texts of the weather file, which must outlive it.
[[nodiscard]] Town town_of(const WeatherFile&);

}  // namespace housepower::tables

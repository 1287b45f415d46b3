// SPDX-License-Identifier: Apache-2.0
// Hours of weather at a place, over many years: from an hourly file, or made up from a town's
// monthly means. What is made up, or one typical year, always says so.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <memory>
#include <span>
#include <utility>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/energy/mean_day.hpp"
#include "housepower/parts/module.hpp"
#include "housepower/tables/weather_file.hpp"

namespace housepower::energy {

enum class WeatherKind { measured, typical_year, synthetic };
[[nodiscard]] std::string_view word_of(WeatherKind);  // "measured", "typical year", "synthetic"

inline constexpr int days_of_year = 365;
inline constexpr std::array<int, 13> month_begins{0,   31,  59,  90,  120, 151, 181,
                                                  212, 243, 273, 304, 334, 365};  // day, from 0
[[nodiscard]] int month_of_day(int day_of_year);

/// Whole days of weather, an entry an hour of standard time: on level ground, mean of the hour.
struct Spell {
  int first_day = 0, days = 0;  // of the year, from 0
  std::vector<Irradiance> level, diffuse;
  std::vector<Temperature> air;
  std::vector<parts::Speed> wind;  // empty where it is not known
};

/// The sun's geometry at a place, for each day and hour of a year.
struct Almanac {
  struct Day {
    Angle declination{}, sunset{};
    Irradiation outside{};                                  // extraterrestrial, of the level
    std::array<Angle, 24> hour_angle{};                     // middle of the hour
    std::array<Ratio, 24> sine{};                           // of the sun's altitude then
    std::array<Ratio, 24> global_share{}, diffuse_share{};  // of the day's sum; each adds up to 1
  };
  Angle latitude{};
  std::vector<Day> days;
};
/// `shift`: from the middle of a clock hour to the moment that its light is of.
[[nodiscard]] Almanac almanac_of(Angle latitude, Angle longitude, Duration zone,
                                 Duration shift = 0.0 * hour);

/// Clearness of a month's mean day, and how far its mean lies between years.
struct MonthSky {
  Ratio clearness = 0.0;
  Ratio between_years = 0.0;  // standard deviation of the month's mean
};
/// Standard deviation of a month's mean clearness between years, where several real years do not
/// say otherwise: 0.03 to 0.07 were seen.
inline constexpr Ratio clearness_between_years = 0.07;
inline constexpr Source between_years_source{
    SourceKind::from_memory, "multi-year daily records",
    "a month's mean clearness varies between years by 0.03 to 0.07; the upper end"};
/// Daily mean air against the month's: standard deviation and the share that the next day keeps.
inline constexpr TemperatureDifference air_between_days = TemperatureDifference::from_value(4.0);
inline constexpr Ratio air_kept = 0.7;
inline constexpr Source air_between_days_source{
    SourceKind::from_memory, "weather of days",
    "standard deviation 4 K, correlation 0.7; typical-year files of two inland "
    "towns have 2.9 and 4.8 K"};

/// Dull and clear weather lasts longer than the chains have it. A spell of weather has a draw of its
/// own; it goes on from day to day with the chance `lasts`, and on the share `rules` of its days its
/// draw counts, not a fresh one. `rules` of none leaves the chains as they were published.
struct Spells {
  Ratio lasts = 0.75, rules = 0.65;
};
inline constexpr Source spells_source{
    SourceKind::from_memory, "spells of weather",
    "judgement: four days on the mean, two days of three; so that no winter month of an hourly "
    "file "
    "shortens stays more than made-up months of the same mean do (docs/WEATHER.md)"};

/// What one day keeps for the next.
struct Sky {
  Ratio yesterday = 0.5;  // clearness
  Ratio spell = 0.5;      // the draw of the spell of weather, 0 to 1
};

/// Clearness of the days of one month by its chain (Aguiar et al. 1988) in spells: `mean` is met to
/// 0.02 by drawing again, what then is left is added to each day. `sky` is carried on.
void clearness_of_days(std::span<const tables::ClearnessChain>, Ratio mean, class Draws&, Sky& sky,
                       std::span<Ratio> days, const Spells& = {});

/// The weather of a place over years; each year by itself, so that years can be asked for in any
/// order and by several at once.
class Weather {
public:
  /// Made up, from a town's means. Sunshine counts with its factor for the safe side.
  Weather(const tables::Town&, std::span<const tables::ClearnessChain>, int years,
          std::uint64_t seed, Ratio between_years = clearness_between_years);
  /// The file's own years. It must outlive this.
  explicit Weather(const tables::WeatherFile&);

  [[nodiscard]] WeatherKind kind() const { return kind_; }
  [[nodiscard]] int years() const { return years_; }
  /// Its first years: of made-up ones those that so few would have been. A file keeps its own.
  [[nodiscard]] Weather first(int years) const;
  [[nodiscard]] const Almanac& almanac() const { return *almanac_; }
  [[nodiscard]] std::span<const MonthSky> months() const { return months_; }
  /// The days from `first_day` (from 0) on of a year; past December it goes on with January of the
  /// next year, after the last year with the first one.
  void spell(int year, int first_day, int days, Spell&) const;
  /// Made-up air is never colder: what was recorded bounds it. A file's hours stay as they are.
  void no_colder_than(Temperature record_low) { no_colder_ = record_low; }

private:
  void made_up(std::size_t day, int day_of_year, Spell&) const;
  WeatherKind kind_;
  int years_;
  std::shared_ptr<const Almanac> almanac_;
  std::vector<MonthSky> months_;
  std::array<std::array<Temperature, 24>, 12> air_{};  // of the mean day
  struct Days {                                        // every day of all years
    std::vector<Ratio> clearness;
    std::vector<TemperatureDifference> warmer;  // than the mean day
  };
  std::shared_ptr<const Days> made_{};
  Temperature no_colder_{};  // 0 K: not bounded
  const tables::WeatherFile* file_ = nullptr;
};

/// The weather that a design is judged in: its file, or its town's made-up years. Nothing without
/// a place.
[[nodiscard]] std::optional<Weather> weather_of(const design::Design&, int years,
                                                std::uint64_t seed);

/// The weather of one place, of each number of years made once. Whoever asks, asks of designs at
/// that place; not by several at once.
class Skies {
public:
  [[nodiscard]] std::optional<Weather> of(const design::Design&, int years, std::uint64_t seed);

private:
  std::map<std::pair<int, std::uint64_t>, std::optional<Weather>> made_{};
};
/// By itself where nobody keeps any.
[[nodiscard]] std::optional<Weather> weather_of(const design::Design&, int years,
                                                std::uint64_t seed, Skies*);

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// From a design to what the hourly simulation asks: its bank as a plant at an age, and what sun,
// appliances and chargers do in each hour of a spell of weather.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "housepower/energy/demand.hpp"
#include "housepower/energy/kernel.hpp"
#include "housepower/energy/weather.hpp"

namespace housepower::energy {

/// Published, the safer of two limits that do not agree: at most 3 % a month.
inline constexpr Ratio self_discharge_a_month = 0.03;
inline constexpr Source self_discharge_source{
    SourceKind::published, "a 12.8 V 50 Ah battery data sheet", "at most 3 % a month"};
/// Charge acceptance falls from 97 % to 0.05C at full.
inline constexpr Source tail_source{
    SourceKind::from_memory, "the end of a charge",
    "tail current 0.05C, as two cell sellers' pages have it; where it begins, 97 %, from memory"};
/// Below 13.8 V for four cells a bank ends its charge at 95 to 98 %: the lower counts.
inline constexpr Source low_voltage_source{SourceKind::from_memory, "charging below 13.8 V",
                                           "ends 95 to 98 % full"};

/// Of the radiation of the climate table (judgement from a comparison with typical-year files).
inline constexpr Ratio input_doubt = 0.08;
/// Of a weather file that does not state it.
inline constexpr Ratio file_doubt = 0.085;
inline constexpr Source file_doubt_source{SourceKind::from_memory, "a comparison of weather files",
                                          "two makers' typical years for one town differ by up to "
                                          "17 % in a month: half of it either way"};
/// Of a place made of the towns around it: each town of the table that has others within 300 km, made
/// so of those, came out 17 % off in its three winter months (root mean square; docs/MEASURED.md).
inline constexpr Ratio doubt_between_towns = 0.17;
/// How far the radiation that a design is judged by is doubted, by its source: sunshine hours and
/// places between towns as above, a weather file as it states itself, else `file_doubt`.
[[nodiscard]] Ratio input_doubt_of(const design::Design&);

/// Snow may lie where the month's mean minimum is below this, from memory.
inline constexpr Temperature snow_below = celsius(2.0);
/// A month so cold, and an array of which nothing is said of what covers it then: the answers of
/// that month say so.
[[nodiscard]] bool snow_not_counted(const design::Design&, int month);

/// How far sun and load are doubted, beside what the design says.
struct Doubt {
  Ratio sun = 1.0, load = 1.0;
};
/// Of the load: people are not alike. Of the sun: see Assessment::input_doubt.
inline constexpr Ratio load_doubt = 0.10;
inline constexpr Source load_doubt_source{SourceKind::from_memory, "judgement",
                                          "use differs from its plan by 10 %"};

/// Less sun and more use, as far as they are doubted.
[[nodiscard]] Doubt at_the_lower_end(const design::Design&);

/// The design's bank at an age; a design without a bank has none. The sun of `Surroundings` is that
/// of modules as old as the promise has it: at another age `sun_factor` makes up for it.
[[nodiscard]] std::optional<kernel::Plant> plant_of(const design::Design&, Duration age,
                                                    const Doubt& = {});

/// Whether what ends at a voltage gives anything to a bank with more than the reserve in it, or to
/// loads beside it: to what rests at that voltage or higher it does not.
[[nodiscard]] bool reaches_above_reserve(const design::Design&, Voltage);
/// What the chargers bring stops, of several, at the lowest of their voltages.
void limit_by(const design::Design&, const design::resolved::Charger&, kernel::Plant&);

/// Hours of charging a day beside the sun, on top of or instead of what [travel] says.
struct Charging {
  Duration driving{};    // a driving day
  Duration every{};      // from one driving day to the next; 0: none
  Duration generator{};  // a day
  Duration mains{};      // a night, evening on
  int mains_nights = 0;  // of seven
};
[[nodiscard]] Charging charging_of(const design::resolved::Travelling&);

/// What a charger brings to the bank. Of one that charges from a feed it is what the line lets
/// through, which `checks` asks of the wiring (delivered.hpp): this room knows no cables.
struct Delivered {
  int charger = 0;    // of the design's list
  std::string what;   // its name
  Current current{};  // at its output
  std::string why;    // in words, where that is not simply its name plate
};
using DeliveredList = std::vector<Delivered>;
/// Of one of the design's chargers: nothing where it ends below the voltage of the bank.
[[nodiscard]] Current current_from(const design::Design&, std::size_t charger,
                                   std::span<const Delivered>);
/// Current of all chargers of a kind, by their name plates where the list has them not; the mains
/// chargers where a generator has none of its own.
[[nodiscard]] Current charging_current(const design::Design&, design::ChargerKind,
                                       std::span<const Delivered>);
/// What chargers give in each hour of a stay that begins at an hour of the day, W; days count from
/// that of arrival, which is day 0: driving every 3 d is first on day 3. The bank cannot be on the
/// road, at a hook-up and beside a generator at once: of several the larger counts.
struct OtherPowers {
  double drive_W = 0.0, mains_W = 0.0, generator_W = 0.0;
};
[[nodiscard]] std::vector<double> others_in(const Charging&, const OtherPowers&, int days,
                                            int arrives);

/// Hour of the day at which stays begin, 0 to 23: of a time within an hour the later one, and none
/// after 23.
[[nodiscard]] int arrival_hour(const design::Design&);

/// The hours of one spell, ready for the kernel; buffers are used again.
struct Buffers {
  Spell spell;
  std::vector<double> sun_W, air_C;
  std::array<std::vector<double>, 7> load_W;
  [[nodiscard]] kernel::Hours hours(std::span<const double> others_W, int patterns) const;
};

/// What of a design does not depend on the hour: made once, asked for each spell. Holds the design
/// by reference.
class Surroundings {
public:
  /// Chargers that the list has not give their name plates.
  Surroundings(const design::Design&, const Weather&, const Habit& = {}, DeliveredList = {});
  /// Without sun no light falls on roof or box. Where it is known with which pattern of loads the
  /// first day passes, the others are left as they are.
  void fill(int year, int first_day, int days, Buffers&, bool without_sun = false,
            std::optional<int> first_pattern = {}) const;
  [[nodiscard]] int patterns() const { return patterns_; }
  [[nodiscard]] const Weather& weather() const { return weather_; }
  /// What [travel] says.
  [[nodiscard]] Charging charging() const { return charging_of(design_->travel); }
  [[nodiscard]] int arrives() const { return arrival_hour(design_); }
  [[nodiscard]] Current current_of(design::ChargerKind kind) const {
    return charging_current(design_, kind, delivered_);
  }
  /// The plant with the voltages of those chargers alone that bring anything where one charges so.
  [[nodiscard]] kernel::Plant charged_here(kernel::Plant, const Charging&) const;
  /// What the chargers give in each hour of a stay: `others_in`.
  [[nodiscard]] std::vector<double> others(const Charging&, int days, int arrives) const;

private:
  struct Panel {  // an array behind its controller, in plain numbers
    std::size_t controller = 0;
    double power_W = 0.0, coefficient = 0.0, ross = 0.0;  // all modules, their losses in it
    double window_V = 0.0, window_coefficient = 0.0;      // of best power; 0: not known
    double amperes = 0.0;
    double sky_share = 1.0, ground_share = 0.0;
    std::array<double, 24> light{};  // left by shade, pitch and dirt
    // By hour of the year, of a tilted plane; empty: level.
    std::vector<double> facing, sine, left;
    std::vector<bool> covered;  // by day of all years; empty: never
  };
  [[nodiscard]] double sun_at(const Spell&, std::size_t hour, std::size_t hour_of_year,
                              std::size_t day_of_all) const;
  [[nodiscard]] double plane_at(const Panel&, double level, double diffuse,
                                std::size_t hour_of_year) const;
  void find_panels();
  void find_tilt(const design::resolved::Array&, Panel&) const;
  void find_loads(Habit);

  const design::Design& design_;
  Weather weather_;
  DeliveredList delivered_;
  std::vector<Panel> panels_;
  double charging_V_ = 0.0;
  int patterns_ = 1;
  double load_from_C_ = 0.0;                                   // of the first row below
  std::array<std::array<std::vector<double>, 24>, 7> by_air_;  // W by pattern, hour, each kelvin
};

}  // namespace housepower::energy

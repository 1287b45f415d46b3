// SPDX-License-Identifier: Apache-2.0
// What a design uses and gathers in the mean day of each month, what its bank can give, and how
// long that lasts without charging. Typed results; rules judge them, reports print them.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/energy/habit.hpp"
#include "housepower/working/working.hpp"

namespace housepower::energy {

/// One consumer in the mean day of a month, counted at the bank: what an inverter loses for a.c.
/// appliances is in their share; standby lines are consumers of their own ("inverter, no load",
/// "bank, own draw").
struct ConsumerDay {
  std::string name;
  std::string path;  // "appliance/Fridge", "inverter/inverter/no_load"
  Energy energy{};
  Charge charge{};  // energy / nominal voltage of the bank
};

/// "January" for 0.
[[nodiscard]] std::string_view month_name(int month);

struct MonthDay {
  int month = 0;                      // 0 January … 11
  Temperature ambient{};              // mean of the day
  Energy load{}, solar{}, balance{};  // balance = solar − load
  Charge load_charge{};
  std::vector<ConsumerDay> consumers;
  std::array<Energy, 24> load_by_hour{}, solar_by_hour{};
  Energy clipped{};  // what the controllers could not take
};

/// What the bank gives between arriving and the reserve, at the promised age and in the cold.
struct Usable {
  Ratio age_factor = 1.0, temperature_factor = 1.0;
  Temperature temperature{};
  Energy energy{};
  Charge charge{};
};

/// How long the bank lasts without any source, hour by hour, at the promised age.
struct WithoutCharging {
  int month = 0;              // in which the stays begin
  Duration lasts{};           // what the promised chance of them reaches
  bool outlasts = false;      // all that was simulated: it lasts at least that long
  int years = 0, starts = 0;  // starts: all of them
};

struct Assessment {
  bool has_bank = false, has_place = false, has_array = false;
  std::vector<MonthDay> months;  // the stated month, or all twelve; one (no place) at 25 °C
  std::size_t judged = 0;        // index of the month where the promise is shortest
  std::optional<Usable> usable;  // of the judged month
  std::optional<WithoutCharging> without_charging;  // likewise; needs a place and its weather
  std::optional<Duration> autonomy;                 // what that says, or else the mean day
  std::optional<Duration> autonomy_mean_day;        // usable / load of the judged month
  Habit habit;                                      // as which all of this is used
  std::vector<std::string> notes;  // assumptions that a reader must know: sunshine factor, doubt …
  Ratio input_doubt = 0.08;        // of the radiation, by its source; see plant.hpp

  // Their code is made once, not in every source that moves one.
  Assessment();
  Assessment(const Assessment&);
  Assessment(Assessment&&) noexcept;
  Assessment& operator=(const Assessment&);
  Assessment& operator=(Assessment&&) noexcept;
  ~Assessment();
};

class Skies;  // weather.hpp
[[nodiscard]] Assessment assess(const design::Design&, const Habit& = {}, Skies* = nullptr);
/// Of one month only.
[[nodiscard]] Assessment assess(const design::Design&, int month, const Habit& = {});
/// By the mean days alone: nothing is simulated, and autonomy is the mean day's.
[[nodiscard]] Assessment assess_mean_days(const design::Design&, const Habit& = {});

// Pieces with their working, for the rules: each is the function `assess` itself calls.
[[nodiscard]] MonthDay month_day(const design::Design&, std::optional<int> month,
                                 Working* load = nullptr, Working* solar = nullptr,
                                 const Habit& = {});
/// Of the rated capacity, with cells at the month's mean minimum; 25 °C without a place.
struct GivenInCold {
  Temperature temperature{};
  Ratio share = 1.0;
};
[[nodiscard]] GivenInCold given_in_cold(const design::Design&, std::optional<int> month,
                                        Working* = nullptr);
[[nodiscard]] Usable usable_capacity(const design::Design&, std::optional<int> month,
                                     Working* = nullptr);
[[nodiscard]] Duration autonomy_of(const Usable&, const MonthDay&, Working* = nullptr);

/// The hour of the day in which most power is switched on, and what is; for a load case.
struct FullestHour {
  int hour = 0;
  std::vector<design::resolved::ApplianceId> running;
  std::optional<design::resolved::ApplianceId> largest_starter;  // of all d.c. appliances
};
[[nodiscard]] FullestHour fullest_hour(const design::Design&);

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// How long the bank lasts with the weather, over many years of it. A stay begins at the hour of
// arrival with the charge of arrival; its length is the first time that something is not served. Over
// starts and years it has a distribution: the answer is the length that a stated chance of them
// reaches. Two answers: parked, when the sun alone charges, and with the driving, mains and generator
// that are stated.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "housepower/energy/plant.hpp"

namespace housepower::energy {

/// Calls f(0) … f(count − 1), in any order and by several at once: years do not know each other.
using Each = std::function<void(int count, const std::function<void(int)>& f)>;
void one_after_another(int count, const std::function<void(int)>& f);

/// No longer is simulated where nothing longer is promised.
inline constexpr int horizon_days = 30;

struct StayQuestion {
  int month = 0;                       // in which the stays start; 0 January
  int longest_days = horizon_days;     // longer ones count as this
  int every = 1;                       // from one day of arrival to the next
  std::optional<Charging> charging{};  // instead of what [travel] says
  bool until_empty = false;            // lengths only, sooner
  bool without_sun = false;            // no light at all, on the roof or on the box
  std::optional<int> arrives{};        // hour of the day, instead of the promised time
};

/// All stays of a question: by year, then by day of arrival, then by plant. Which days of a week
/// something is used on is not known: stay number n begins with day n mod 7 of its pattern.
struct Stays {
  int years = 0, starts = 0, plants = 0, days = 0;
  std::vector<kernel::Outcome> all;
  [[nodiscard]] const kernel::Outcome& at(int year, int start, int plant) const {
    return all[std::size_t((year * starts + start) * plants + plant)];
  }
};
[[nodiscard]] Stays simulate(const Surroundings&, const StayQuestion&,
                             std::span<const kernel::Plant>, const Each& = one_after_another);
/// Days of weather, from the first of the month on, in which so many stays of a question lie.
[[nodiscard]] int days_of_weather(const StayQuestion&, int starts, int arrives);
/// Whether the chargers give anything in such a stay; and how long after arrival first.
[[nodiscard]] bool brings_anything(const Surroundings&, const Charging&);
[[nodiscard]] std::optional<Duration> first_charge(const Surroundings&, const Charging&,
                                                   const StayQuestion&);

/// A share of stays with its 95 % interval from the spread between years: overlapping stays of one
/// year are not independent. Nothing where fewer than ten years were seen.
struct Share {
  Ratio value = 0.0;
  std::optional<std::array<Ratio, 2>> interval{};
};
inline constexpr Source interval_source{
    SourceKind::from_memory, "Wilson's interval; Woodruff's for a length",
    "with the number of independent stays that the variance between years leaves"};

/// Share of the stays that last that long.
[[nodiscard]] Share lasting(const Stays&, int plant, Duration at_least);
/// What can be told of a share: the lower end of its interval; all where each of them lasts.
[[nodiscard]] Ratio sure(const Share&);
/// The length that a share of them reaches: an order statistic.
[[nodiscard]] Duration reached(const Stays&, int plant, Ratio chance);
/// Its 95 % interval, from the interval of the share.
[[nodiscard]] std::optional<std::array<Duration, 2>> reached_interval(const Stays&, int plant,
                                                                      Ratio chance);
/// Of all that was asked for.
[[nodiscard]] Ratio unserved_share(const Stays&, int plant);
/// The law of the simulation: energy in is energy out. Largest difference of any stay, as a share
/// of what passed through.
[[nodiscard]] Ratio largest_imbalance(const Stays&);

/// How long stays last, at the promised age.
struct Lasting {
  Duration met{};               // by the stated chance of them
  Duration first_percentile{};  // by all but the shortest in a hundred
  std::optional<std::array<Duration, 2>> sampling{};
  std::array<Duration, 2> doubt{};  // less sun and more load; more sun and less load
  bool all_outlast = false;         // every one outlasts what is simulated, also at the lower doubt
};
/// Of that share only the shortest stays fall short of `first_percentile`.
inline constexpr Ratio worst_share = 0.01;

/// One month answered, at the promised age and new, with the doubt of what went in. But for `parked`
/// all of it is with the travel that is stated.
struct StayAnswer {
  int month = 0;
  WeatherKind kind{};
  int years = 0, starts = 0;  // starts: all of them
  int arrives = 16;           // hour of the day
  Duration longest{};
  Ratio chance = 0.9;
  Duration met{}, met_when_new{}, first_percentile{};
  std::optional<std::array<Duration, 2>> sampling{};
  std::array<Duration, 2> doubt{};  // less sun and more load; more sun and less load
  std::optional<Share> promise{};   // chance of lasting as long as promised, at the promised age
  Ratio promise_parked = 0.0;       // likewise on the sun alone
  Ratio outlast = 0.0;              // share that outlasts `longest`, where the chance of them does
  bool unlimited = false;           // every one outlasts `longest`, also at the lower doubt
  bool travels = false;             // driving, mains or a generator bring anything
  std::optional<Duration> first_charge{};  // when they first do, after arrival
  Lasting parked{};                        // on the sun alone; the same where nothing else charges
  Ratio unserved = 0.0;
  Energy gathered{}, spilled{};      // a day, mean of all stays
  Energy heated{};                   // likewise, of the days until something was not served
  Temperature coldest{}, hottest{};  // of the cells
  Ratio shut_out = 0.0;              // share of days on which the cells took no charge
};
/// At most as many days as promised are simulated for the promise, `longest_days` for the length.
[[nodiscard]] std::optional<StayAnswer> stay(const design::Design&, const Surroundings&,
                                             const StayQuestion&, const Each& = one_after_another);

// ---- What people are told ----

/// Whole half days, rounded down; and rounded up.
[[nodiscard]] Duration half_days(Duration);
[[nodiscard]] Duration half_days_up(Duration);
/// Midnights that are passed in a stay from an hour of the day on.
[[nodiscard]] int nights(Duration lasted, int arrives);

/// A length as it is told.
struct Told {
  Duration point{};   // as simulated
  Duration length{};  // in half days, rounded down: the point, or the lower end of its sampling
                      // interval where that is wider than half a day
  bool at_lower_end = false;
  bool or_more = false;                // as long as is simulated
  int nights = 0;                      // of `length`
  std::array<Duration, 2> could_be{};  // by sampling and doubt, rounded outward: `length` is in it
  Duration first_percentile{};         // in half days, rounded down
};
[[nodiscard]] Told told(const Lasting&, Duration longest, int arrives);
/// What the stated travel adds never makes a stay shorter than one that was told parked.
struct ToldStay {
  Told parked, travelled;
};
[[nodiscard]] ToldStay told(const StayAnswer&);

}  // namespace housepower::energy

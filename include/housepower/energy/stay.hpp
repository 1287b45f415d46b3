// SPDX-License-Identifier: Apache-2.0
// How long the bank lasts with the weather, over many years of it. A stay starts on a day with the
// charge of arrival; its length is the first time that something is not served. Over starts and
// years it has a distribution: the answer is the length that a stated chance of them reaches.
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

struct StayQuestion {
  int month = 0;                       // in which the stays start; 0 January
  int longest_days = 30;               // longer ones count as this
  int every = 1;                       // from one day of arrival to the next
  std::optional<Charging> charging{};  // instead of what [travel] says
  bool until_empty = false;            // lengths only, sooner
  bool without_sun = false;            // no light at all, on the roof or on the box
};

/// All stays of a question: by year, then by day of arrival, then by plant.
struct Stays {
  int years = 0, starts = 0, plants = 0, days = 0;
  std::vector<kernel::Outcome> all;
  [[nodiscard]] const kernel::Outcome& at(int year, int start, int plant) const {
    return all[std::size_t((year * starts + start) * plants + plant)];
  }
};
[[nodiscard]] Stays simulate(const Surroundings&, const StayQuestion&,
                             std::span<const kernel::Plant>, const Each& = one_after_another);

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

/// One month answered, at the promised age and new, with the doubt of what went in.
struct StayAnswer {
  int month = 0;
  WeatherKind kind{};
  int years = 0, starts = 0;  // starts: all of them
  Duration longest{};
  Ratio chance = 0.9;
  Duration met{}, met_when_new{};
  std::optional<std::array<Duration, 2>> sampling{};
  std::array<Duration, 2> doubt{};  // less sun and more load; more sun and less load
  std::optional<Share> promise{};   // chance of lasting as long as promised, at the promised age
  bool unlimited = false;           // that chance of them outlasts all
  Ratio unserved = 0.0;
  Energy gathered{}, spilled{}, heated{};  // a day, mean of all stays
  Temperature coldest{}, hottest{};        // of the cells
  Ratio shut_out = 0.0;                    // share of days on which the cells took no charge
};
/// At most as many days as promised are simulated for the promise, `longest_days` for the length.
[[nodiscard]] std::optional<StayAnswer> stay(const design::Design&, const Surroundings&,
                                             const StayQuestion&, const Each& = one_after_another);

/// The month in which stays are shortest, from a coarse look at all twelve.
[[nodiscard]] int shortest_month(const design::Design&, const Surroundings&, StayQuestion,
                                 const Each& = one_after_another);

/// What people are told: whole half days, rounded down.
[[nodiscard]] Duration half_days(Duration);

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// The hourly simulation of a bank in plain doubles: the one place of this room without units, since
// ten thousand stays of thirty days are seven million hours. Every name ends in its unit. Made by
// `plant_of` and `gathered`, asked by `stay`; nothing else needs it.
//
// One step, `advance`, is a template in min, max and select: T = double now, T = lanes of doubles
// later. Weather runs in the outer loop, plants (ages, doubts, sizes) in the inner one.
#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace housepower::energy::kernel {

inline constexpr int coldest_C = -40, temperatures = 121;  // -40 to 80 °C, a row a kelvin
inline constexpr int charges = 21;                         // 0 to 100 %, a column each 5 %

inline constexpr double nearly_full = 0.94;

/// A bank at an age in its box, and how much sun and load are doubted.
struct Plant {
  double capacity_Wh = 0.0;                // aged, at the nominal voltage
  double arrive = 1.0;                     // share of it on arrival
  double stored_share = 1.0;               // of what goes in, that can be taken out again
  double kept_an_hour = 1.0;               // after self-discharge
  double discharge_W = 1e30;               // what the batteries let out
  double tail_from = 0.97, tail_W = 1e30;  // beyond this charge acceptance falls to tail_W at full
  double full_by_sun = 1.0, full_by_others = 1.0;  // share at which their voltage stops
  // Share at which the bank rests at their voltage: from it on they give nothing, to no load either.
  double rests_by_sun = 2.0, rests_by_others = 2.0;
  double sun_factor = 1.0, load_factor = 1.0;
  double others_factor = 1.0;  // 0: it stands where it is, and the sun alone charges
  // The box: cells follow the air about it by `decay` an hour, and rise by `rise_K_W` with heat.
  double decay = 0.0, rise_K_W = 0.0;
  double heater_W = 0.0, heater_on_C = 0.0, heater_off_C = 0.0;
  bool heater_by_bank = false;
  // By temperature: the charge at which nothing more may be taken, and what may be stored.
  std::array<double, temperatures> empty{}, accepts_W{};
  /// Watts lost in the cells for each squared watt drawn, by temperature and charge.
  std::array<std::array<double, charges>, temperatures> loss{};
};

/// The hours of a spell for one design, from a midnight on: what the sun gives behind the
/// controllers, what is drawn (a row for each day of a week's pattern), the air about the cells.
/// `others_W` counts from the arrival: what driving, mains and generator give in each hour of a stay.
struct Hours {
  std::span<const double> sun_W, air_C;
  std::array<std::span<const double>, 7> load_W;  // a day's pattern from midnight to midnight
  int patterns = 1;                               // how many of them differ: 1 or 7
  std::span<const double> others_W;
  int phase = 0;  // pattern of the day of arrival; the next day has the next one
};

/// What came of a stay. Energies in Wh; they balance: see `unbalanced_Wh`.
struct Outcome {
  double lasted_h = 0.0;  // until something was not served; all hours where everything was
  bool ended = false;
  double charge_Wh = 0.0, at_start_Wh = 0.0;
  double lowest = 1.0, highest = 0.0;  // share of the aged capacity at the end of an hour
  double full_h = -1.0;                // when it was as good as full, `nearly_full`; or never
  // Asked: by the load and by the heater, whoever supplies it. Heated: what it was given.
  double gathered = 0.0, spilled = 0.0, asked = 0.0, unserved = 0.0, heated = 0.0, lost = 0.0;
  double heated_until_ended = 0.0;  // of `heated` what was given while all was served
  int days_shut_out = 0;            // days with surplus of which the cells took nothing
  double coldest_C = 1e9, hottest_C = -1e9;
};
[[nodiscard]] double unbalanced_Wh(const Outcome&);

/// From hour `first` of the spell on, for so many `hours`, days of 24 of them. `plants` and `outcomes`
/// go together.
/// With `until_empty` it stops once every plant has ended: lengths are right, sums are not,
/// and the lowest charge is that up to the day of the end.
void run(const Hours&, int first, int hours, std::span<const Plant> plants,
         std::span<Outcome> outcomes, bool until_empty = false);

/// One stay for the eye: the charge at the end of each hour, as a share of the aged capacity.
void trace(const Hours&, int first, const Plant&, std::span<double> shares);

}  // namespace housepower::energy::kernel

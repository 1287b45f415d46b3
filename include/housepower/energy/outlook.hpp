// SPDX-License-Identifier: Apache-2.0
// What `check` asks of the hourly simulation: the promised stay, and the cells in all twelve months,
// whichever the promise is judged in. No longer than the promise is simulated.
#pragma once

#include "housepower/energy/stay.hpp"

namespace housepower::energy {

/// Years of made-up weather behind the promised stay, and behind the two temperatures.
inline constexpr int years_for_promise = 60, years_for_cells = 12;
inline constexpr std::uint64_t usual_seed = 1;

/// The cells of all hours simulated in a month.
struct CellsInMonth {
  int month = 0;
  Temperature coldest{}, hottest{};
  Ratio shut_out = 0.0;  // share of days with surplus of which they took nothing
};

/// Whether stays have no end, in the month in which they come nearest to one: each start, simulated
/// over `longest`, also with less sun and more use.
struct WithoutEnd {
  int month = 0, years = 0, starts = 0;  // starts: all of them
  Duration longest{};
  Ratio outlast = 0.0, outlast_with_less = 0.0;  // shares of the starts
  Ratio chance = 0.9;                            // the promised share of starts …
  Duration met{};                                // … lasts that long
};

struct Outlook {
  std::optional<WithoutEnd> without_end;  // where that is promised
  std::optional<StayAnswer> promised;     // where a stay is promised, in the month that counts
  // Of all twelve months those in which the cells get coldest and hottest; of the stated month, or of
  // all, that in which they refuse charge most often.
  std::optional<CellsInMonth> coldest_month, hottest_month, most_shut_out;

  // Their code is made once, not in every source that moves one.
  Outlook();
  Outlook(const Outlook&);
  Outlook(Outlook&&) noexcept;
  Outlook& operator=(const Outlook&);
  Outlook& operator=(Outlook&&) noexcept;
  ~Outlook();
};
/// Empty without a bank or a place. The chargers bring what the list says.
[[nodiscard]] Outlook outlook(const design::Design&, const DeliveredList&);
/// The cells alone: no stay is simulated.
[[nodiscard]] Outlook outlook_of_cells(const design::Design&, const DeliveredList&,
                                       Skies* = nullptr);
[[nodiscard]] std::optional<WithoutEnd> without_end(const design::Design&, const DeliveredList&,
                                                    Skies* = nullptr);
/// A stay in the month on which the promise rests, or else the shortest one, simulated over the
/// promise and at least so many days.
[[nodiscard]] std::optional<StayAnswer> stay_that_counts(const design::Design&,
                                                         const DeliveredList&, int longest_days);
/// Likewise its lengths and the chance of the promise alone, of so many years of weather: a third of
/// the time.
[[nodiscard]] std::optional<StayAnswer> lengths_that_count(const design::Design&,
                                                           const DeliveredList&, int longest_days,
                                                           int years = years_for_promise,
                                                           Skies* = nullptr);

}  // namespace housepower::energy

// SPDX-License-Identifier: Apache-2.0
// Months against each other: which is the hardest, by what is told of each.
#pragma once

#include <span>

#include "housepower/energy/stay.hpp"

namespace housepower::energy {

/// The lengths of a month's stays, and the chance of the promise, alone: of `StayAnswer` all but the
/// bank when new, sums, temperatures and doubt (which is no wider than the length). It is told as long
/// as by `stay`.
[[nodiscard]] StayAnswer lengths(const design::Design&, const Surroundings&, const StayQuestion&,
                                 const Each& = one_after_another);

/// Told shorter: as they travel, else parked, else as simulated.
[[nodiscard]] bool harder(const StayAnswer&, const StayAnswer&);

/// What the chance of stays reaches in each of twelve months; from a coarse look.
struct MonthMet {
  Duration parked{}, met{};  // on the sun alone; as they travel
  Ratio lowest = 0.0;        // of the bank, mean of the lowest charge of each stay
  Ratio outlast = 0.0;       // share of the stays, as they travel, that outlast the horizon
};
using Months = std::array<MonthMet, 12>;
[[nodiscard]] Months month_by_month(const design::Design&, const Surroundings&, StayQuestion,
                                    const Each& = one_after_another);
/// Where stays are shortest; of those that outlast the horizon alike, where fewest do, then where the
/// bank gets emptiest.
[[nodiscard]] int shortest(const Months&);

/// Months that a coarse look does not tell from the shortest: within 30 % or 2 d of it, whichever
/// is more (judgement; of 24 examples and places 15 % or 1 d left the wrong one in four). As they
/// travel, and parked where all outlast the horizon with that. Where all outlast it parked, too, those in
/// which fewest
/// stays do, within a tenth of them, and of months in which every one does the emptiest.
[[nodiscard]] std::vector<int> near_shortest(const Months&, Duration horizon);
/// Likewise of a question itself: where stays are short, none is followed further than tells that.
[[nodiscard]] std::vector<int> near_shortest(const design::Design&, const Surroundings& few,
                                             const StayQuestion& few_question,
                                             const Each& = one_after_another);

/// The hardest: a coarse look of few years finds those that may be, all years decide between them.
[[nodiscard]] int hardest_month(const design::Design&, const Surroundings& few,
                                const StayQuestion& few_question, const Surroundings& all,
                                StayQuestion, const Each& = one_after_another);
/// Where the promise is kept least, of stays no longer than that: where they are shortest, or else
/// where fewest of them last, as they travel.
[[nodiscard]] int month_kept_least(const design::Design&, const Surroundings& few,
                                   const StayQuestion& few_question, const Surroundings& all,
                                   StayQuestion, const Each& = one_after_another);
/// Where the fewest starts outlast the question, with less sun and more use: of all twelve months.
[[nodiscard]] int month_outlast_least(const design::Design&, const Surroundings& all, StayQuestion,
                                      const Each& = one_after_another);
/// Every start of every month outlasts the question.
[[nodiscard]] bool outlast_in_every_month(const Surroundings& all, StayQuestion,
                                          const kernel::Plant&, const Each& = one_after_another);
/// The hardest of some months.
[[nodiscard]] StayAnswer hardest(const design::Design&, std::span<const int> months,
                                 const Surroundings& all, StayQuestion,
                                 const Each& = one_after_another);

/// The easiest likewise, of those that the coarse look does not tell from the longest.
[[nodiscard]] StayAnswer easiest(const design::Design&, const Months& coarse,
                                 const Surroundings& all, StayQuestion,
                                 const Each& = one_after_another);

}  // namespace housepower::energy

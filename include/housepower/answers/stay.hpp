// SPDX-License-Identifier: Apache-2.0
// How long a stay lasts: a first figure soon, and the whole answer with its months, places and what
// would change it.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "housepower/answers/given_design.hpp"
#include "housepower/energy/outlook.hpp"
#include "housepower/energy/questions.hpp"
#include "housepower/energy/stays_seen.hpp"
#include "housepower/pack/levers.hpp"
#include "housepower/reading/diagnostic.hpp"

namespace housepower::answers {

inline constexpr int most_years = 2000;  // of made-up weather

/// What is asked beside the design.
struct StayAsked {
  energy::Use use = energy::Use::typical;
  int years = 100;  // of made-up weather, 1 to most_years; a weather file has its own
  std::uint64_t seed = energy::usual_seed;
  bool every_month = false;                    // all twelve in full
  bool every_town = false;                     // every town of the tables
  bool plots = false;                          // what plots show, and all twelve months
  bool charge = false;                         // hour by hour, over a typical and the worst stay
  std::vector<std::string> with{}, without{};  // appliances, as typed: said in the answer only
};

/// The shortest month at a place.
struct PlaceStay {
  std::string place, title, month;
  Duration parked{}, met{};
};

/// The month in which stays are shortest, and that in which they are longest, each as it is told
/// when asked by itself.
struct Seasons {
  energy::StayAnswer hardest{}, easiest{};
  bool alike = false;  // all twelve are told the same
};

/// The whole answer. The design outlives it.
struct StayReport {
  const design::Design& design;
  energy::StayAnswer answer{};
  // Every stay outlasts all, also at the lower doubt, and the mean day gathers what it uses: as they
  // travel, and on the sun alone.
  bool unlimited = false, parked_unlimited = false;
  energy::Assessment day{};                  // the mean day of that month
  std::vector<energy::StayAnswer> months{};  // all twelve, where they were asked for
  std::optional<Seasons> seasons{};
  std::vector<PlaceStay> places{};  // where they were asked for
  pack::Levers levers{};
  energy::DeliveredList charging{};  // what arrives from each charger
  std::vector<energy::ToStayOn> to_stay_on{};
  std::vector<energy::Runtime> runtimes{};
  std::vector<energy::Refill> refills{};
  energy::Night night{};
  std::optional<energy::Parked> parked{};
  std::string use{}, left_off{}, taken_along{};
  std::string inputs_digest{};
  std::optional<energy::StaysSeen> seen{};  // for plots, or the charge
};

/// In the month that the design states, or else in the hardest one. Nothing, and told, without a bank
/// or a place, or for too few or too many years. What the caller's Each throws passes through: so it is stopped.
[[nodiscard]] std::optional<StayReport> stay(const GivenDesign&, const StayAsked&, Diagnostics&,
                                             const energy::Each& = energy::one_after_another);

/// How long stays last, as `stay` tells it, without what would change it: of the answer the lengths
/// alone (as of energy::lengths). The same month is looked for, and the same is refused.
[[nodiscard]] std::optional<energy::StayAnswer>
length_of_a_stay(const GivenDesign&, const StayAsked&, Diagnostics&,
                 const energy::Each& = energy::one_after_another);

/// A first figure, soon: of few years and days of arrival, and of the lengths alone (`answer` as of
/// energy::lengths), without what would change them.
struct FirstFigure {
  energy::StayAnswer answer{};
  // Where the whole answer's lengths lie, by its 95 % sampling interval; over all months that may yet
  // turn out to be the hardest.
  std::array<Duration, 2> parked{}, met{};
  bool coarse = true;  // false: it is the whole answer's figure already
};
/// As `stay`: the same month is looked for, and the same is refused.
[[nodiscard]] std::optional<FirstFigure>
first_figure_of_a_stay(const GivenDesign&, const StayAsked&, Diagnostics&,
                       const energy::Each& = energy::one_after_another);

}  // namespace housepower::answers

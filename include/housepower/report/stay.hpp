// SPDX-License-Identifier: Apache-2.0
// The answer of `stay`.
#pragma once

#include "housepower/energy/questions.hpp"
#include "housepower/energy/stays_seen.hpp"
#include "housepower/report/page.hpp"
#include "housepower/sizing/levers.hpp"

namespace housepower::report {

/// The shortest month at a place.
struct PlaceStay {
  std::string place, title, month;
  Duration met{};
};

struct StayReport {
  const design::Design& design;
  energy::StayAnswer answer;
  bool unlimited = false;                  // it outlasts all, and the mean day gathers what it uses
  energy::Assessment day;                  // the mean day of that month
  std::vector<energy::StayAnswer> months;  // all twelve, where they were asked for
  std::vector<PlaceStay> places;           // likewise
  sizing::Levers levers;
  std::vector<energy::ToStayOn> to_stay_on;
  std::vector<energy::Runtime> runtimes;
  std::vector<energy::Refill> refills;
  energy::Night night;
  std::optional<energy::Parked> parked;
  std::string use, left_off, taken_along;
  std::string inputs_digest;
  std::optional<energy::StaysSeen> seen{};  // for plots
};
[[nodiscard]] Page stay_page(const StayReport&);
/// Its pieces: "Van, Hobart, July: 3 days", the answer in sentences, tables and single questions, and
/// what all of that rests on.
/// "2.5 days", "30 days or more": rounded down to half days.
[[nodiscard]] std::string stay_in_days(Duration met, Duration longest);
/// "90 % of stays"; of too few years no chance is claimed: "90 % of the days of arrival in that …".
[[nodiscard]] std::string stay_among(const energy::StayAnswer&);
[[nodiscard]] std::string stay_headline(const StayReport&);
[[nodiscard]] std::string stay_answer(const StayReport&);
[[nodiscard]] std::vector<Block> stay_blocks(const StayReport&);
[[nodiscard]] std::vector<std::string> stay_rests_on(const StayReport&);
[[nodiscard]] std::string stay_json(const StayReport&);

}  // namespace housepower::report

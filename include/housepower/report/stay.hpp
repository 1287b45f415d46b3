// SPDX-License-Identifier: Apache-2.0
// The answer of `stay`.
#pragma once

#include "housepower/answers/stay.hpp"
#include "housepower/page/page.hpp"

namespace housepower::report {

using namespace page;

using answers::PlaceStay;
using answers::Seasons;
using answers::StayReport;
[[nodiscard]] Page stay_page(const StayReport&);
/// "Van, Hobart, July: 2.5 days parked (3 nights), 3 days with your travel (3 nights)".
[[nodiscard]] std::string stay_headline(const StayReport&);
/// What the inverters cannot run, a line each: it is said before anything that counts it.
[[nodiscard]] std::vector<std::string> stay_beyond_inverters(const design::Design&);
/// The answer in sentences, each with its condition, and what it assumes.
[[nodiscard]] std::string stay_answer(const StayReport&);
/// What customers ask most, one sentence each.
[[nodiscard]] std::vector<std::string> stay_asked(const StayReport&);
/// Tables and single questions, and what all of that rests on.
[[nodiscard]] std::vector<Block> stay_blocks(const StayReport&);
[[nodiscard]] std::vector<std::string> stay_rests_on(const StayReport&);
[[nodiscard]] std::string stay_json(const StayReport&);

/// A first figure, which says of itself whether it is coarse; without what would change it.
[[nodiscard]] Page first_figure_page(const answers::FirstFigure&, const answers::GivenDesign&);
[[nodiscard]] std::string first_figure_json(const answers::FirstFigure&,
                                            const answers::GivenDesign&);

// ---- One function for each phrase, so that no two views say it differently ----

/// "2.5 days", "30 days or more", "less than half a day": a length that is told already.
[[nodiscard]] std::string stay_in_days(Duration told, bool or_more);
/// The same of a simulated length, rounded down to half days.
[[nodiscard]] std::string stay_in_days(Duration met, Duration longest);
/// "2.5 days (3 nights)"; "unlimited".
[[nodiscard]] std::string stay_told(const energy::Told&, bool unlimited);
/// "2.9 rounded down; could be 2 to 3.5"; empty where there is nothing to add.
[[nodiscard]] std::string stay_doubt(const energy::Told&);
/// "1 in 100 ends after 1.5 days"; of too few years: "the shortest ends after 1.5 days".
[[nodiscard]] std::string stay_worst(const energy::Told&, const energy::StayAnswer&);
/// "9 of 10 stays"; of too few years no chance is claimed: "9 of 10 days of arrival in that …".
[[nodiscard]] std::string stay_among(const energy::StayAnswer&);
/// "Hobart", or the weather file.
[[nodiscard]] std::string stay_place(const design::Design&);
/// "your travel (3 h of driving every 3 d, 1 of 7 nights on mains)"; empty where nothing is stated.
[[nodiscard]] std::string stay_travel(const design::Design&);
/// With a change: what is told of it by itself, but no shorter than now where it relieves, and no longer
/// where it does not.
[[nodiscard]] Duration stay_changed(const energy::Told& as_it_is, Duration told, bool relieves);

}  // namespace housepower::report

// SPDX-License-Identifier: Apache-2.0
// The plots of a report, each from results that are already there; nothing is calculated anew.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "housepower/energy/assessment.hpp"
#include "housepower/energy/stay.hpp"
#include "housepower/page/plot.hpp"
#include "housepower/wiring/assessment.hpp"

namespace housepower::report {

using namespace page;

/// What each appliance takes in the mean day of a month, and what the sun gives; largest first.
[[nodiscard]] RowPlot daily_balance_plot(const energy::MonthDay&);

/// Load against sun, month by month.
[[nodiscard]] Plot monthly_plot(const energy::Assessment&);

/// State of charge hour by hour; shares of one.
struct ChargeSeries {
  std::string name;  // "worst stay"
  std::vector<double> hours, shares;
};
[[nodiscard]] Plot charge_plot(std::span<const ChargeSeries>, Ratio reserve);

/// Which share of the stays lasts at least so many days, each rounded down to a tenth.
struct StaySeries {
  std::string name;
  std::vector<double> days;  // a length for each stay
};
[[nodiscard]] Plot stay_plot(std::span<const StaySeries>, std::optional<Duration> promised,
                             Ratio chance);

/// How long stays last by their month of arrival: parked, with the stated travel, and with the bank
/// new.
[[nodiscard]] Plot stay_months_plot(std::span<const energy::StayAnswer>);

/// The consumer that loses most on its way in a case; nothing where none runs.
[[nodiscard]] const wiring::ConsumerInCase* worst_consumer(const wiring::CaseResult&);
/// Voltage between plus and minus along the way from the source to a consumer.
[[nodiscard]] Plot voltage_profile_plot(const design::Design&, const wiring::Assessment&,
                                        const wiring::CaseResult&, const wiring::ConsumerInCase&);

/// From the smallest to the largest fault that each device must open, what it can break, and how
/// soon it opens for the smallest.
[[nodiscard]] RowPlot faults_plot(const design::Design&, const wiring::Assessment&);

/// What a choice costs against what it achieves.
struct TradeOff {
  double cost = 0;     // in the axis' unit
  double chance = 0;   // share of one
  std::string name{};  // at its point; may be empty
};
[[nodiscard]] Plot trade_off_plot(std::span<const TradeOff>, Axis cost, Ratio promised);

}  // namespace housepower::report

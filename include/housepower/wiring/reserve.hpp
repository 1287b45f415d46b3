// SPDX-License-Identifier: Apache-2.0
// Down to which state of charge a bank still carries its inverters: at their ratings and at the
// largest start on them, through the whole network, aged as promised, in the coldest month, beside
// the heaviest case. No frozen corner is judged: the answer is that charge.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::wiring {

struct Assessment;

/// Voltage at the end of a way that is reckoned as one resistance.
inline constexpr Formula voltage_behind{
    "U_in",
    "voltage at the input",
    "U - R · I",
    {{"U", "open-circuit voltage"}, {"R", "resistance of source and way"}, {"I", "current"}},
    Source{SourceKind::common_practice, "Kirchhoff's voltage law", ""},
    [](Voltage u, Resistance r, Current i) -> Voltage { return u - r * i; }};

/// One load of an inverter, and how far down the bank carries it.
struct CarriedLoad {
  Power given{};                   // at its output
  std::optional<Ratio> down_to{};  // state of charge; nothing: not even a full bank carries it
  // At that charge, or at the full bank that does not carry it; zero where nothing balances.
  Voltage input{};
  Current drawn{}, busiest{};  // by the inverter; from the busiest battery
};

struct InverterReserve {
  design::resolved::InverterId inverter;
  std::string beside;         // the case that runs meanwhile
  Temperature temperature{};  // of the cells: the lowest mean minimum of the months that count
  CarriedLoad rated;
  std::optional<design::resolved::ApplianceId>
      starter{};                       // its largest; nothing: none starts on it
  std::optional<CarriedLoad> start{};  // beside what else the case runs on it
  std::optional<CarriedLoad> surge{};  // its surge rating, where that is stated
  std::string why_unknown;             // then nothing above holds
};

[[nodiscard]] design::List<InverterReserve, design::resolved::Inverter>
inverter_reserves(const design::Design&, const Assessment&);

/// The charge of one of these loads again, with its working; 1 where a full bank does not carry it.
[[nodiscard]] Ratio carried_down_to(const design::Design&, const InverterReserve&,
                                    const CarriedLoad&, Working* = nullptr);

/// The coldest mean minimum of the stated month, or of all; nothing without a place.
[[nodiscard]] std::optional<Temperature> coldest_month(const design::Design&);

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// What charges, at its own terminals: what the tow vehicle's feed delivers through its way to a
// dc-dc charger, what flows where a feed is joined to the bank itself, and an array's voltages and
// currents in frost and heat against its controller.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/wiring/assessment.hpp"
#include "housepower/wiring/reserve.hpp"

namespace housepower::wiring {

// ---- the feed of a dc-dc charger

/// At its cut-out a charger takes only what leaves that voltage at its input.
inline constexpr Formula current_at_cut_out{
    "I_in",
    "input current that keeps the input at its cut-out",
    "max(0, (U - U_co) / R)",
    {{"U", "open-circuit voltage"},
     {"U_co", "cut-out of the charger's input"},
     {"R", "resistance of source and way"}},
    Source{SourceKind::common_practice, "Ohm's law", ""},
    [](Voltage u, Voltage cut_out, Resistance r) -> Current {
      return std::max(Current{}, Current((u - cut_out) / r));
    }};
inline constexpr Formula charger_output{
    "I_out",
    "output current of a dc-dc charger",
    "U_in · I_in · η / U_c",
    {{"U_in", "input voltage"},
     {"I_in", "input current"},
     {"η", "efficiency"},
     {"U_c", "charge voltage"}},
    Source{SourceKind::common_practice, "power out = power in · η", ""},
    [](Voltage in, Current i, Ratio efficiency, Voltage charge) -> Current {
      return double(in / charge) * i * double(efficiency);
    }};

/// A dc-dc charger at one voltage of the car.
struct Delivery {
  Voltage car{};       // open circuit; or at the charger's own input, as stated
  Current delivers{};  // the most that leaves the input at or above its cut-out; never above stated
  bool folds_back = false;  // the stated current would pull the input below its cut-out
  Voltage input{};          // with what it delivers
  Current drawn{};          // at the input, likewise
  Current from_feed{};      // by everything on it, the charger trying for its stated current
};
struct TowFeed {
  int charger = 0;  // of the design's list
  int feed = -1;    // likewise; −1: its input's voltage is stated, no feed is drawn
  Delivery low, normal;
  std::string why_unknown;  // then what is above flatters, or is nothing
  bool known = true;        // false: there is nothing above
};
[[nodiscard]] std::vector<TowFeed> tow_feeds(const design::Design&, const Assessment&);
/// What it delivers again, with its working.
[[nodiscard]] Current delivered_current(const design::Design&, const TowFeed&, const Delivery&,
                                        Working* = nullptr);

/// A feed that runs join to the bank, with no charger between: at its highest voltage, low
/// resistances and cold conductors, into an empty bank.
struct DirectCharging {
  int feed = 0;
  Current drawn{}, busiest{};  // from the feed; into the battery that takes most
  std::string why_unknown;
};
[[nodiscard]] std::vector<DirectCharging> direct_charging(const design::Design&, const Assessment&);
[[nodiscard]] Current direct_current(const design::Design&, const DirectCharging&,
                                     Working* = nullptr);

// ---- arrays

/// What other strings drive back into one that is shaded or shorted.
inline constexpr Formula reverse_current{
    "I_rev",
    "current into one string from the others",
    "(n - 1) · I_sc · 1.25",
    {{"n", "strings in parallel"}, {"I_sc", "short-circuit current of a module"}},
    Source{SourceKind::common_practice, "strings in parallel",
           "all but the one add up, with the 1.25 of strong sun"},
    [](Ratio strings, Current isc) -> Current {
      return std::max(0.0, double(strings) - 1.0) * isc * 1.25;
    }};

/// A string open in the coldest morning; nothing where voltage, coefficient or cold is not stated.
[[nodiscard]] std::optional<Voltage>
cold_string_voltage(const design::Design&, const design::resolved::Array&, Working* = nullptr);
/// A string at best power under 1000 W/m² in the hottest month; nothing where it is not known.
[[nodiscard]] std::optional<Voltage>
hot_string_voltage(const design::Design&, const design::resolved::Array&, Working* = nullptr);
/// What a hot string must reach: charge voltage of its controller and the drop on the way to it.
[[nodiscard]] Voltage charging_voltage_needed(const design::Design&, const Assessment&,
                                              const design::resolved::Array&, Working* = nullptr);
/// All arrays of a controller in the strongest sun; nothing where one does not state its current.
[[nodiscard]] std::optional<Current>
array_short_circuit(const design::Design&, design::resolved::ControllerId, Working* = nullptr);
/// From the other strings of the same controller into one of this array.
[[nodiscard]] std::optional<Current>
reverse_current_of(const design::Design&, const design::resolved::Array&, Working* = nullptr);
/// Strings in parallel on a controller.
[[nodiscard]] int strings_on(const design::Design&, design::resolved::ControllerId);

// ---- sums

/// What can charge at once, by name, as the design states it.
struct ChargingSum {
  std::string name;     // "drive, sun"
  std::string in_case;  // "charging: drive, sun"
  std::vector<Term<Current>> parts;
  Current total{};
  std::optional<Current> busiest{};  // into the battery that takes most, by the solved network
  std::string why_unknown;           // of the busiest
};
[[nodiscard]] std::vector<ChargingSum> charging_sums(const design::Design&, const Assessment&);

}  // namespace housepower::wiring

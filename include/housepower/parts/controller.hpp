// SPDX-License-Identifier: Apache-2.0
// A solar controller between an array and the bank: what goes in, what comes out, what it cannot
// take.
#pragma once

#include <algorithm>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::parts {

/// Output of a controller that converts.
inline constexpr Formula converted_power{
    "P_out",
    "power the controller could give",
    "P_in · η",
    {{"P_in", "power of the array"}, {"η", "efficiency of the controller"}},
    Source{SourceKind::common_practice, "efficiency of a converter", ""},
    [](Power in, Ratio efficiency) -> Power { return in * double(efficiency); }};

/// Output of a controller that only connects: the module's current at the bank's voltage.
inline constexpr Formula direct_power{
    "P_out",
    "power through a direct controller",
    "U · I · G / 1000",
    {{"U", "voltage of the charging bank"},
     {"I", "current of the strings at best power"},
     {"G", "irradiance, W/m²"}},
    Source{SourceKind::common_practice, "I = I_mp, P = U_bank · I_mp", ""},
    [](Voltage u, Current strings, Irradiance g) -> Power {
      return u * strings * (g.value() / 1000.0);
    }};

/// What the controller lets through: its current limit at the voltage of the charging bank.
inline constexpr Formula within_limit{
    "P",
    "power of the controller",
    "min(P_out, U · I_max)",
    {{"P_out", "power it could give"},
     {"U", "voltage of the charging bank"},
     {"I_max", "largest charging current"}},
    Source{SourceKind::supplier, "the controller's largest charging current", ""},
    [](Power out, Voltage u, Current most) -> Power { return std::min(out, Power(u * most)); }};

/// What an array gives to its controller in one state of sun and air.
struct ArrayOutput {
  Power power{};      // of all modules, after the losses named by the caller
  Current strings{};  // at best power under 1000 W/m², all strings; 0 where imp was not stated
  Irradiance sun{};
};

/// What the controller gives to a bank that charges at `at`, from all its arrays.
struct ControllerOutput {
  Power given{}, clipped{};
};
[[nodiscard]] ControllerOutput controller_output(const design::resolved::Controller&,
                                                 std::span<const ArrayOutput>, Voltage at,
                                                 Working* = nullptr);

}  // namespace housepower::parts

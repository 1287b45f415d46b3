// SPDX-License-Identifier: Apache-2.0
// Joints and contacts under current: what each loses, how hot that makes it, and what resistance
// would do. A joint of parallel conductors is reckoned with the current of all of them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/wiring/carried.hpp"

namespace housepower::wiring {

inline constexpr Formula contact_voltage{
    "U_j",
    "voltage lost at one joint or contact",
    "I · R_j",
    {{"I", "current, r.m.s."}, {"R_j", "resistance of the joint"}},
    Source{SourceKind::common_practice, "U = R·I", ""},
    [](Current i, Resistance r) -> Voltage { return i * r; }};

inline constexpr Formula contact_heat{
    "P_j",
    "heat of one joint or contact",
    "I² · R_j",
    {{"I", "current, r.m.s."}, {"R_j", "resistance of the joint"}},
    Source{SourceKind::common_practice, "P = R·I²", ""},
    [](Current i, Resistance r) -> Power { return i * i * r; }};

inline constexpr Formula contact_resistance{
    "R_max",
    "largest resistance of a joint that keeps within a voltage",
    "U_max / I",
    {{"U_max", "voltage that it may lose"}, {"I", "current, r.m.s."}},
    Source{SourceKind::common_practice, "R = U / I", ""},
    [](Voltage u, Current i) -> Resistance { return u / i; }};

inline constexpr Formula contact_current{
    "I_c",
    "current of one contact of a connector",
    "I / n",
    {{"I", "current of the pole, r.m.s."}, {"n", "contacts in parallel"}},
    Source{SourceKind::common_practice, "contacts that are alike share alike", ""},
    [](Current i, Ratio n) -> Current { return i / double(n); }};

struct Contact {
  Voltage lost{};
  Power heat{};
  std::optional<Resistance> sufficient{};  // nothing where no current flows
};
/// A joint or contact at a current, against the voltage that it may lose.
[[nodiscard]] Contact contact_of(Current, Resistance, const Source&, Voltage may_lose, Working*);

/// What each contact carries of the pole of a run that it stands in.
[[nodiscard]] Current contact_current_of(const design::Design&, const Assessment&,
                                         design::resolved::RunId,
                                         const design::resolved::InlineItem& connector,
                                         design::Pole, Working* = nullptr);

}  // namespace housepower::wiring

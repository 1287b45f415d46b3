// SPDX-License-Identifier: Apache-2.0
// How long the bank lasts without charging, and what a day leaves over.
#pragma once

#include "housepower/working/working.hpp"

namespace housepower::energy {

inline constexpr Formula usable_energy{
    "E_use",
    "usable energy",
    "Q_use · U_n",
    {{"Q_use", "usable charge"}, {"U_n", "nominal voltage of the bank"}},
    Source{SourceKind::common_practice, "charge counted at nominal voltage", ""},
    [](Charge q, Voltage u) -> Energy { return q * u; }};

inline constexpr Formula days_of_autonomy{
    "t_aut",
    "time without charging",
    "E_use / E_load · 86400",
    {{"E_use", "usable energy"}, {"E_load", "energy used in a day"}},
    Source{SourceKind::common_practice, "energy in store over energy used in a day", ""},
    [](Energy usable, Energy load) -> Duration { return double(usable / load) * day; }};

inline constexpr Formula daily_balance{
    "E_left",
    "left over in the mean day",
    "E_sun - E_load",
    {{"E_sun", "gathered"}, {"E_load", "used"}},
    Source{SourceKind::common_practice, "energy balance", ""},
    [](Energy sun, Energy load) -> Energy { return sun - load; }};

}  // namespace housepower::energy

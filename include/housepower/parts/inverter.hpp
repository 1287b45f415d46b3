// SPDX-License-Identifier: Apache-2.0
// What an inverter draws from the bank for what it gives.
#pragma once

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::parts {

/// P_dc = P_ac + P_0 + k · P_ac² / P_r.  P_0 no-load draw; P_r rating; k of the type.
inline constexpr Formula inverter_input{
    "P_dc",
    "power drawn from the bank",
    "P_ac + P_0 + k · P_ac² / P_r",
    {{"P_ac", "power given"},
     {"P_0", "no-load draw"},
     {"k", "loss coefficient"},
     {"P_r", "rating"}},
    Source{SourceKind::published, "Notton, Lazarov, Stoyanov, Renewable Energy 35 (2010) 541",
           "P_dc = P_ac + P_r·(p0 + k·p²), as transcribed in a university's research code"},
    [](Power ac, Power no_load, Ratio k, Power rating) -> Power {
      return ac + no_load + double(k) * (ac * double(ac / rating));
    }};

/// The same from a flat efficiency.
inline constexpr Formula inverter_input_flat{
    "P_dc",
    "power drawn from the bank",
    "P_ac / η",
    {{"P_ac", "power given"}, {"η", "efficiency"}},
    Source{SourceKind::supplier, "the design's efficiency", ""},
    [](Power ac, Ratio efficiency) -> Power { return ac / double(efficiency); }};

/// Input power for an output; the no-load draw is in it. An output of zero draws no_load.
[[nodiscard]] Power dc_power(const design::resolved::Inverter&, Power ac, Working* = nullptr);

}  // namespace housepower::parts

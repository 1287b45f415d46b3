// SPDX-License-Identifier: Apache-2.0
// Links between parallel batteries and the leads of single ones: what they carry and bear.
#pragma once

#include "housepower/wiring/assessment.hpp"

namespace housepower::wiring {

/// Largest steady current in the links of one pole of the bank, or of the busiest battery.
[[nodiscard]] Current current_in_links(const design::Design&, const Assessment&, design::Pole,
                                       Working* = nullptr);
[[nodiscard]] Current current_in_leads(const Assessment&, Working* = nullptr);

/// Of the bank's current the part that flows in the busiest link of a pole, or in the busiest
/// battery's lead: batteries alike and alike charged, at their low or their high resistance, whichever
/// brings more into it.
struct LinkShare {
  Ratio share{};
  int open = 0;  // number of the battery that is disconnected; 0: all are in
};
enum class Batteries { all_in, one_open };  // the one whose loss is worst
[[nodiscard]] LinkShare share_in_links(const design::Design&, design::Pole, Batteries,
                                       Working* = nullptr);
[[nodiscard]] LinkShare share_in_leads(const design::Design&, Batteries, Working* = nullptr);

/// What the devices of the bank's runs may let through together for a link to bear its part.
inline constexpr Formula borne_by_links{
    "I_most",
    "largest current of the bank that its links or leads bear",
    "I_z / s",
    {{"I_z", "ampacity of a link or lead"}, {"s", "part of the bank's current in it"}},
    Source{SourceKind::common_practice, "Kirchhoff's laws", ""},
    [](Current ampacity, Ratio share) -> Current { return ampacity / double(share); }};

/// A design does not state how links and leads are insulated: they count as lying free, one
/// circuit, insulated as the worst of the bank's runs and in the hottest air at their bank ends.
struct LieOfLeads {
  Temperature insulation{}, ambient{};
  design::Insulation material{};
};
/// Nothing where no run leaves the bank.
[[nodiscard]] std::optional<LieOfLeads> lie_of_leads(const design::Design&);
[[nodiscard]] AmpacityAnswer ampacity_of_lead(const design::Design&, const design::resolved::Lead&,
                                              Working* = nullptr);

}  // namespace housepower::wiring

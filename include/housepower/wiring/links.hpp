// SPDX-License-Identifier: Apache-2.0
// Links between parallel batteries and the leads of single ones: what they carry and bear.
#pragma once

#include "housepower/wiring/assessment.hpp"

namespace housepower::wiring {

/// Largest steady current in the links of one pole of the bank, or of the busiest battery.
[[nodiscard]] Current current_in_links(const design::Design&, const Assessment&, design::Pole,
                                       Working* = nullptr);
[[nodiscard]] Current current_in_leads(const Assessment&, Working* = nullptr);

/// A design does not state how links and leads are insulated: they count as lying free, one
/// circuit, insulated as the worst of the bank's runs and in the hottest air at their bank ends.
[[nodiscard]] AmpacityAnswer ampacity_of_lead(const design::Design&, const design::resolved::Lead&,
                                              Working* = nullptr);

}  // namespace housepower::wiring

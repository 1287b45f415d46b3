// SPDX-License-Identifier: Apache-2.0
// Input of an inverter from its output.
#include "housepower/parts/inverter.hpp"

namespace housepower::parts {

Power dc_power(const design::resolved::Inverter& inverter, Power ac, Working* working) {
  const Source stated{SourceKind::supplier, "the design's inverter", ""};
  const Power no_load = given(working, "P_0", "no-load draw", inverter.no_load, stated);
  if (inverter.k) return step(working, inverter_input, ac, no_load, *inverter.k, inverter.rating);
  const Power flat =
      inverter.efficiency ? step(working, inverter_input_flat, ac, *inverter.efficiency) : ac;
  return largest<Power>(working, "P_dc", "power drawn from the bank",
                        {{"under load", flat}, {"no load", no_load}});
}

}  // namespace housepower::parts

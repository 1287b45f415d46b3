// SPDX-License-Identifier: Apache-2.0
// Joints and contacts under current.
#include "housepower/wiring/joints.hpp"

namespace housepower::wiring {

Contact contact_of(Current i, Resistance r, const Source& source, Voltage may_lose,
                   Working* working) {
  given(working, "R_j", "resistance of one joint or contact", r, source);
  Contact contact{step(working, contact_voltage, i, r), step(working, contact_heat, i, r), {}};
  if (i.value() > 0.0) contact.sufficient = step(working, contact_resistance, may_lose, i);
  return contact;
}

Current contact_current_of(const design::Design& d, const Assessment& a, design::resolved::RunId id,
                           const design::resolved::InlineItem& connector, design::Pole pole,
                           Working* working) {
  const Current carried = carried_of(d, a, id, pole, working);
  const Ratio contacts = double(connector.cavities(pole).size());
  return step(working, contact_current, carried, contacts);
}

}  // namespace housepower::wiring

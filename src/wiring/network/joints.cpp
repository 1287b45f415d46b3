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

}  // namespace housepower::wiring

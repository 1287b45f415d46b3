// SPDX-License-Identifier: Apache-2.0
// What a controller makes of its arrays.
#include "housepower/parts/controller.hpp"

namespace housepower::parts {

ControllerOutput controller_output(const design::resolved::Controller& controller,
                                   std::span<const ArrayOutput> arrays, Voltage at,
                                   Working* working) {
  Power out{};
  if (controller.kind == design::ControllerKind::direct) {
    std::vector<Term<Power>> terms;
    for (const ArrayOutput& array : arrays)
      terms.push_back({"array", step(working, direct_power, at, array.strings, array.sun)});
    out = sum(working, "P_out", "power the controller could give", terms);
  } else {
    std::vector<Term<Power>> terms;
    for (const ArrayOutput& array : arrays) terms.push_back({"array", array.power});
    out = step(working, converted_power, sum(working, "P_in", "power of the arrays", terms),
               controller.efficiency);
  }
  const Power through = step(working, within_limit, out, at, controller.max_charge_current);
  return {through, out - through};
}

}  // namespace housepower::parts

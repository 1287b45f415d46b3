// SPDX-License-Identifier: Apache-2.0
// What the runs of a design join: whether what charges is drawn as far as the bank. A lead that is not
// drawn is not checked; what it brings is counted, and that is said. In a design without any run
// nothing is drawn.
#pragma once

#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/design/subject.hpp"

namespace housepower::design {

/// Two places between which a run is missing, and what it would feed or charge.
struct Undrawn {
  Subject subject;
  std::string from, to;  // "controller.out" and "the bank"
  bool counts = true;    // its charge is known all the same; not what an undrawn line delivers
};
/// "no run joins "controller.out" to the bank".
[[nodiscard]] std::string in_words(const Undrawn&);
/// The edit that draws it.
[[nodiscard]] std::string cure_of(const Undrawn&);

/// Every lead of arrays, controllers and chargers that no run draws. Of a design without runs or
/// without a bank none.
[[nodiscard]] std::vector<Undrawn> undrawn_leads(const Design&);

/// Places where appliances may hang by their own leads: the end of a run that leads nowhere else.
/// On a bank, a panel, a bar or a way through there is a lead, and a device, that nobody described.
[[nodiscard]] bool hangs_on_a_run(const Design&, const resolved::Appliance&);

}  // namespace housepower::design

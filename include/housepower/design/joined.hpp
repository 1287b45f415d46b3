// SPDX-License-Identifier: Apache-2.0
// What the runs of a design join: whether what charges is drawn as far as the bank. In a design
// without any run nothing is drawn and everything counts as joined; once one is drawn, what is not
// drawn is not there.
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
  bool counts = false;   // its charge is known all the same: the design states what its input finds
};
/// "no run joins "controller.out" to the bank".
[[nodiscard]] std::string in_words(const Undrawn&);
/// The edit that draws it.
[[nodiscard]] std::string cure_of(const Undrawn&);

/// Every lead of arrays, controllers and chargers that no run draws. Of a design without runs or
/// without a bank none.
[[nodiscard]] std::vector<Undrawn> undrawn_leads(const Design&);

/// Runs join an array to its controller and that to the bank.
[[nodiscard]] bool is_joined(const Design&, const resolved::Array&);
/// Runs join a charger's output to the bank.
[[nodiscard]] bool is_joined(const Design&, const resolved::Charger&);

/// Places where appliances may hang by their own leads: the end of a run that leads nowhere else.
/// On a bank, a panel, a bar or a way through there is a lead, and a device, that nobody described.
[[nodiscard]] bool hangs_on_a_run(const Design&, const resolved::Appliance&);

}  // namespace housepower::design

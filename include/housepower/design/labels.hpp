// SPDX-License-Identifier: Apache-2.0
// What stands on the sleeves of conductors: the one rule for the build list, the diagram and every
// sheet. A conductor is named by the label of its run and its pole, "W07+"; no two are alike, since
// labels of runs are unique and only digits follow the sign.
#pragma once

#include <string>

#include "housepower/design/design.hpp"

namespace housepower::design {

/// "W07+", "W07−"; of parallel conductors "W07+1", "W07+2".
[[nodiscard]] std::string conductor_label(const Design&, resolved::RunId, Pole, int number = 1);

/// The sleeve at one end, here first: "W07+ bank → panel". Long names are cut short.
[[nodiscard]] std::string label_of(const Design&, resolved::RunId, Pole, int number, RunEnd end);

/// Inside the bank: a link from battery to battery, or the lead of one to the common bars.
struct BankConductor {
  Pole pole = Pole::outgoing;
  int battery = 1;  // numbered from 1; a link goes on to the next
  bool is_lead = false;
};
/// "B1-2" of a link, "B1" of a lead: as a run's label, and never equal to one.
[[nodiscard]] std::string bank_label(const Design&, const BankConductor&);
/// "B1-2+"
[[nodiscard]] std::string conductor_label(const Design&, const BankConductor&);
[[nodiscard]] std::string label_of(const Design&, const BankConductor&, RunEnd end);

/// "+" or "−".
[[nodiscard]] std::string_view sign_of(Pole);

}  // namespace housepower::design

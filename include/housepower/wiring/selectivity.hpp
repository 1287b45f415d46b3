// SPDX-License-Identifier: Apache-2.0
// Which of two devices in a row opens first: the one nearer to the fault should.
#pragma once

#include <string>
#include <vector>

#include "housepower/wiring/assessment.hpp"

namespace housepower::wiring {

/// A device and one between it and the source, over the faults that reach both, at the current where
/// the upstream one comes nearest to opening first.
struct Meeting {
  std::size_t device = 0, upstream = 0;  // of Assessment::devices
  std::string unknown;                   // which curve or fault is not known
  Current at{};
  Duration opens{};                 // the device, at the latest
  std::optional<Duration> holds{};  // the upstream one, at the earliest; nothing: for good
  bool switches_first = false;      // the batteries' own switches may open before the device has
  /// What must not go dark and would: it hangs on the upstream device, not on this one, and the
  /// design leaves it on day and night (no `between`, no `per_day`): a fridge, a gas detector.
  std::string in_the_dark;
  [[nodiscard]] bool selective() const { return unknown.empty() && (!holds || opens <= *holds); }
};

/// Every device with every one upstream of it on the way from its source.
[[nodiscard]] std::vector<Meeting> meetings_of(const design::Design&, const Assessment&);
/// The times of one meeting, at its current.
[[nodiscard]] Duration opens_at(const design::Design&, const Assessment&, const Meeting&,
                                Working* = nullptr);

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// Devices that can be bought, and which of them fits where one is needed.
#pragma once

#include "housepower/choice/choose.hpp"
#include "housepower/choice/trial.hpp"

namespace housepower::choice::inside {

struct Offer {
  std::string type;
  Current rating{};
  Current breaking{};  // known, or it is not offered
  Source source;       // of the rating
};

/// All types whose breaking capacity and voltage are known, in each of their ratings: first those
/// that the design uses, the least breaking capacity first; then blade, bolt-in, cube, strip and
/// class T fuses of the tables. A type whose series was not read is not offered.
[[nodiscard]] std::vector<Offer> offers_for(const design::Document&, const tables::Tables&);

/// An end of a run that lacks a device, and what was tried there.
struct WantedDevice {
  design::RunEnd end = design::RunEnd::from;
  const Offer* chosen = nullptr;
  std::vector<const Offer*> rejected{};
  std::vector<std::string> rejected_types{};
};

/// What a device must bear and break there, as the trial has it.
struct DeviceNeed {
  Current least{}, most{};          // rating: by the load, by the conductor
  std::optional<Current> breaking;  // nothing: the fault is not known
};
[[nodiscard]] DeviceNeed need_of(const Trial&, std::size_t run, design::RunEnd);

/// The first offer that is enough; null where none is.
[[nodiscard]] const Offer* first_fit(const std::vector<Offer>&, const WantedDevice&,
                                     const DeviceNeed&);

/// As it is written into the design: at the very end of the conductor, at the bank through the wall
/// of its box, at a node or a tow vehicle where that is. There the fault is largest.
[[nodiscard]] design::ProtectionOfRun written(const WantedDevice&, const design::Document&,
                                              const design::Run&);

}  // namespace housepower::choice::inside

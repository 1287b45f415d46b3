// SPDX-License-Identifier: Apache-2.0
// Changes of a design's wiring: which keys may be changed, to what, what that costs, and how it is
// written as a path and a value.
#pragma once

#include <compare>
#include <map>

#include "devices.hpp"
#include "housepower/choice/mend.hpp"

namespace housepower::choice::inside {

/// One thing of a design that may be changed.
struct Knob {
  enum class Of {
    conductor,
    return_conductor,
    link_positive,
    link_negative,
    lead,
    takeoff,
    device,
    device_place,
    new_device,
    item
  };
  Of of = Of::conductor;
  std::size_t run = 0;     // in the document
  std::size_t number = 0;  // of the device or item; of a new device its end
  auto operator<=>(const Knob&) const = default;
};

/// What it is turned to; which members count goes by the knob.
struct Setting {
  const tables::Conductor* conductor = nullptr;
  std::string type{};
  Current rating{};
  Length distance{};
  std::vector<int> takeoff{};
  friend bool operator==(const Setting&, const Setting&) = default;
};

using State = std::map<Knob, Setting>;

[[nodiscard]] Document with(Document, const State&);
/// The same as it is written for somebody to work from: where a device has been moved to stands as
/// assumed until a person has measured it.
[[nodiscard]] Document to_be_measured(Document, const State&);

/// "run/cooler/conductor" from "1.5 mm2" to "4 mm2": the keys that a knob changes.
[[nodiscard]] std::vector<MendedPart> changes_of(const Document& before, const Knob&,
                                                 const Setting&);
/// The same of a whole state as `--set` takes it: "run/cooler/conductor=4 mm2".
[[nodiscard]] std::vector<std::string> overrides_of(const Document& before, const State&);
/// "4 mm2 for run "cooler"".
[[nodiscard]] std::string words_of(const Document& before, const Knob&, const Setting&);
/// Every setting of a state in one text, to tell states apart.
[[nodiscard]] std::string key_of(const State&);

/// Copper that a state adds to a design; less than none where it takes some away.
[[nodiscard]] Mass copper_added(const Document&, const tables::Tables&, const State&);
/// What is bought for it, as far as parts state a price; nothing where one does not.
[[nodiscard]] std::optional<design::Money> price_of(const Document&, const tables::Tables&,
                                                    const State&);

}  // namespace housepower::choice::inside

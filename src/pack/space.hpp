// SPDX-License-Identifier: Apache-2.0
// All combinations of what may be chosen: a slot for the bank, one for the array, one for each
// controller, charger and inverter that is not kept; each with its options.
#pragma once

#include <cstdint>

#include "housepower/pack/pack.hpp"

namespace housepower::pack::inside {

struct Option {
  const design::Part* part = nullptr;  // null: as the design has it
  int count = 1;                       // batteries in parallel, or modules
  int in_series = 1;
  double cost = 0.0;  // kg or money
  double mass_kg = 0.0;
  std::optional<double> price;
  double square_metres = 0.0;
};

struct Slot {
  enum class What { bank, array, controller, charger, inverter };
  What what = What::bank;
  std::string name;  // of the equipment in the design; "bank"
  std::vector<Option> options;
};

/// An option of each slot.
using Pick = std::vector<std::uint16_t>;

struct Space {
  const design::Document& document;
  std::vector<Slot> slots;          // the bank first, then the array
  std::string currency;             // of all prices; empty where none is stated
  double kept_mass_kg = 0.0;        // of equipment that stays as it is
  double kept_square_metres = 0.0;  // of arrays that stay
  std::optional<double> kept_price;
  std::vector<std::string> notes, unpriced;
  [[nodiscard]] std::size_t size() const;
  [[nodiscard]] Pick pick(std::size_t number) const;
  [[nodiscard]] double cost(const Pick&) const;
};

/// Nothing where something is missing, which is told. The document has defaults filled in nowhere.
[[nodiscard]] std::optional<Space> space_of(const design::Document&,
                                            const std::vector<design::Part>&, const PackQuestion&,
                                            Diagnostics&);

/// The design with these options in it; its runs as they were.
[[nodiscard]] design::Document written(const Space&, const Pick&);
[[nodiscard]] Pack pack_of(const Space&, const Pick&);
/// Why a pick is beyond a stated limit; empty where it is not.
[[nodiscard]] std::string beyond_limit(const Space&, const Pick&);

}  // namespace housepower::pack::inside

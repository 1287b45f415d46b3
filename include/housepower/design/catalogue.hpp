// SPDX-License-Identifier: Apache-2.0
// The parts that can be bought: [[part]] in a design, or in a file of its own.
//
//   schema = 1
//   [[part]]
//   is = "battery"            # module, controller, charger, inverter, conductor, device
//   name = "B100"
//   capacity = "100 Ah"       # keys as [bank], [array.module], [[controller]] … have them
//   price = "420 EUR"
#pragma once

#include <optional>
#include <vector>

#include "housepower/design/document.hpp"
#include "housepower/reading/fields.hpp"

namespace housepower::design {

struct Catalogue {
  int schema = 1;
  std::vector<Part> part;
};

/// Reads a file of parts. Every problem goes to the list; no two parts may have one name.
[[nodiscard]] std::optional<Catalogue> catalogue_of(const Node&, Diagnostics&);
/// The same check for parts that stand in a design.
void check_names(const std::vector<Part>&, Diagnostics&);
/// Figures of a part that cannot be, as those of a design's array are refused.
void check_figures(const std::vector<Part>&, Diagnostics&);

/// The keys of a part of that kind, beside `name` and `is`.
[[nodiscard]] FieldList part_fields(PartKind);
/// `name`, `is`, and every key that some kind has; none of these is required.
[[nodiscard]] FieldList all_part_fields();
/// The field list of the file, for the schema and the manual.
[[nodiscard]] FieldList catalogue_fields();

[[nodiscard]] bool read_part(const Node&, Part&, const Field&, Reading&);
[[nodiscard]] Node node_of(const Part&);

/// The part in the design: its stated keys take the place of the design's. A battery goes to
/// [bank]; the others to the equipment of that name (a module to the array of that name).
void put(const Part&, Document&, std::string_view name);

}  // namespace housepower::design

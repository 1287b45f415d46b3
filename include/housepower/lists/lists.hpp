// SPDX-License-Identifier: Apache-2.0
// Load lists and parts lists as spreadsheets hold them (CSV), into the tables of the design file and
// back. Each value goes through the very field list of the design, so limits, units and messages
// are the same.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "housepower/design/catalogue.hpp"
#include "housepower/lists/sheet.hpp"

namespace housepower::lists {

using design::PartKind;

struct ListOptions {
  SheetOptions sheet;
  std::optional<char> delimiter;
  std::optional<PartKind> is;  // of a parts list: what every row is
};

/// What was understood of a file, also where something in it is wrong; the document only where
/// nothing is.
struct ReadList {
  Sheet sheet;
  std::optional<Node> document;  // [[appliance]] of each row; or schema and [[part]]
};
[[nodiscard]] ReadList read_loads(std::string_view text, std::string_view file, const ListOptions&,
                                  Diagnostics&);
[[nodiscard]] ReadList read_parts(std::string_view text, std::string_view file, const ListOptions&,
                                  Diagnostics&);

/// The appliances of a design, or the parts of a catalogue, as CSV; nothing, and errors, where they
/// do not read.
[[nodiscard]] std::optional<std::string> write_loads(const Node& design, SheetStyle, Diagnostics&);
[[nodiscard]] std::optional<std::string> write_parts(const Node& catalogue, SheetStyle,
                                                     Diagnostics&);

}  // namespace housepower::lists

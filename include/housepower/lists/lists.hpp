// SPDX-License-Identifier: Apache-2.0
// Load lists, cable schedules and parts lists as spreadsheets hold them, into the tables of the design
// file and back. Each value goes through the very field list of the design, so limits, units and messages
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
  std::optional<PartKind> is;           // of a parts list: what every row is
  std::optional<std::string> device{};  // of a cable schedule: the type of devices that name none
};

/// What was understood of a file, also where something in it is wrong; the document only where
/// nothing is.
struct ReadList {
  Sheet sheet;
  std::optional<Node> document;      // [[appliance]] or [[run]] of each row; or schema and [[part]]
  std::vector<std::string> meeting;  // of a cable schedule: where several runs meet
};
/// From the cells, of CSV or of a workbook.
[[nodiscard]] ReadList read_loads(const Csv&, const ListOptions&, Diagnostics&);
[[nodiscard]] ReadList read_runs(const Csv&, const ListOptions&, Diagnostics&);
[[nodiscard]] ReadList read_parts(const Csv&, const ListOptions&, Diagnostics&);
/// From the text of CSV.
[[nodiscard]] ReadList read_loads(std::string_view text, std::string_view file, const ListOptions&,
                                  Diagnostics&);
[[nodiscard]] ReadList read_runs(std::string_view text, std::string_view file, const ListOptions&,
                                 Diagnostics&);
[[nodiscard]] ReadList read_parts(std::string_view text, std::string_view file, const ListOptions&,
                                  Diagnostics&);

/// The appliances or the runs of a design, or the parts of a catalogue, as CSV; nothing, and errors,
/// where they do not read.
[[nodiscard]] std::optional<std::string> write_loads(const Node& design, SheetStyle, Diagnostics&);
[[nodiscard]] std::optional<std::string> write_runs(const Node& design, SheetStyle, Diagnostics&);
[[nodiscard]] std::optional<std::string> write_parts(const Node& catalogue, SheetStyle,
                                                     Diagnostics&);

}  // namespace housepower::lists

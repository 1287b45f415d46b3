// SPDX-License-Identifier: Apache-2.0
// Rows of the looms and their columns, for sheets, CSV and spreadsheets.
#pragma once

#include "build_rows.hpp"
#include "housepower/report/looms.hpp"

namespace housepower::report {

/// Tables for people that a column of wires stands in: what is cut, and how its ends are made up.
namespace wires_in {
inline constexpr unsigned cutting = 1, ends = 2;
}

/// One wire; `assembly` is empty where it is laid on the line.
struct WireRow {
  std::string assembly;
  range::Wire wire;
};
[[nodiscard]] std::vector<WireRow> wire_rows(const std::string& assembly,
                                             const std::vector<range::Wire>&);
[[nodiscard]] const Columns<WireRow>& wire_columns();

/// What goes into a cavity of an assembly's half of a connector.
struct CavityRow {
  std::string assembly, connector, mate;
  int cavity = 0;
  std::optional<std::string> label{}, conductor{}, contact{};
};
[[nodiscard]] std::vector<CavityRow> cavity_rows(const range::Loom&);
[[nodiscard]] const Columns<CavityRow>& cavity_columns();

[[nodiscard]] const Columns<range::Crossing>& crossing_columns();

/// "X3 cavity 1", "panel".
[[nodiscard]] std::string place_of(const range::WireEnd&);

}  // namespace housepower::report

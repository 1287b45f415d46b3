// SPDX-License-Identifier: Apache-2.0
// Rows of the looms and their columns, for sheets, CSV and spreadsheets.
#pragma once

#include "build_rows.hpp"
#include "housepower/report/looms.hpp"

namespace housepower::report {

/// One wire; `assembly` is empty where it is laid on the line.
struct WireRow {
  std::string assembly;
  range::Wire wire;
};
[[nodiscard]] std::vector<WireRow> wire_rows(const std::string& assembly,
                                             const std::vector<range::Wire>&);
/// For people those of cutting: bit 1.
[[nodiscard]] const Columns<WireRow>& wire_columns();

/// A piece of a wire, and how its ends are made up.
struct PieceRow {
  std::string assembly, label;
  range::Piece piece;
};
[[nodiscard]] std::vector<PieceRow> piece_rows(const std::string& assembly,
                                               const std::vector<range::Wire>&);
[[nodiscard]] const Columns<PieceRow>& piece_columns();

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

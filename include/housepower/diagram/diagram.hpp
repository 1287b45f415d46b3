// SPDX-License-Identifier: Apache-2.0
// The single-line diagram: both poles of the network drawn as one, from the bank to the loads, with
// the currents and voltages of one case. The layout is data (boxes, lines, symbols on sheets of
// paper), so that it can be measured; drawing it is another step. Units are points, 1/72 inch, on
// the paper times `enlarged`.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/answers/checked_design.hpp"
#include "housepower/page/svg.hpp"

namespace housepower::diagram {

// The words of a drawing are this room's own.
using namespace page;
using answers::CheckedDesign;

/// In the manner of IEC 60617.
enum class Symbol {
  battery,
  fuse,
  circuit_breaker,
  isolator,
  contactor,
  shunt,
  plug,
  converter,
  charger,
  inverter,
  array,
  load,
  terminal,
  vehicle,
  chassis,
  onward
};

struct DiagramSymbol {
  Symbol symbol;
  Box box;
  checks::Verdict verdict = checks::Verdict::pass;
};

struct DiagramLine {
  enum class Kind { conductor, bar, joint, link, return_, frame } kind;
  std::vector<Point> points;
  checks::Verdict verdict = checks::Verdict::pass;
};

/// One line of text with the room that is kept for it.
struct DiagramLabel {
  enum class Role { run_label, figures, device, name, flag, note, heading } role;
  Box box;
  std::string text, whole;  // as shown; whole only where that is cut
  std::string subject;      // whose label or name it is, as findings print it; empty: of none
  checks::Verdict verdict = checks::Verdict::pass;
  bool at_right = false;  // the text ends at the right edge of its box
};

struct DiagramSheet {
  std::vector<DiagramLine> lines;
  std::vector<DiagramSymbol> symbols;
  std::vector<DiagramLabel> labels;
};

struct Diagram {
  std::string title, says;       // its text alternative
  std::string paper;             // "A4", "A3"; landscape
  double width = 0, height = 0;  // of a sheet
  double enlarged = 1.0;         // beyond the least size of text that is used
  std::vector<DiagramSheet> sheets;
  [[nodiscard]] double points_of_text() const;  // the smallest on the paper
};

/// The solved case in which a consumer loses most on its way; nothing where there is none.
[[nodiscard]] const wiring::CaseResult* worst_drop_case(const wiring::Assessment&);

/// `in`: whose voltages and currents; null: none are shown, and that is said.
[[nodiscard]] Diagram diagram_of(const CheckedDesign&, const wiring::CaseResult* in);

/// All sheets, one below the other; or one of them.
[[nodiscard]] std::string svg(const Diagram&, SvgFor);
[[nodiscard]] std::string svg(const Diagram&, std::size_t sheet, SvgFor);

}  // namespace housepower::diagram

// SPDX-License-Identifier: Apache-2.0
// What stands at the foot of each sheet: the symbols used, what the drawing is and shows, and a block
// for its number, revision, date and who drew and checked it. What is not stated is left to fill in.
#pragma once

#include <set>

#include "tree.hpp"

namespace housepower::diagram {

/// Whose voltages and currents are shown, in a sentence.
[[nodiscard]] std::string case_text(const CheckedDesign&, const wiring::CaseResult* in);

class Foot {
public:
  Foot(const DiagramTree&, const CheckedDesign&, const wiring::CaseResult* in);
  [[nodiscard]] double height(double width) const;
  /// `title` of the sheet; `at`: the left upper corner.
  void draw(DiagramSheet&, const std::string& title, Point at, double width) const;

private:
  double draw_legend(DiagramSheet&, Point at, double width) const;
  double draw_left(DiagramSheet&, const std::string& title, Point at, double width) const;
  double draw_middle(DiagramSheet&, Point at, double width) const;
  double draw_verdicts(DiagramSheet&, Point at, double width) const;
  void draw_block(DiagramSheet&, Box) const;
  double draw_all(DiagramSheet&, const std::string& title, Point at, double width) const;

  std::string name_, verdicts_text_, made_with_;
  std::vector<std::string> notes_;
  std::set<Symbol> symbols_;
  std::set<checks::Verdict> verdicts_;
  design::Drawing block_;
};

}  // namespace housepower::diagram

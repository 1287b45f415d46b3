// SPDX-License-Identifier: Apache-2.0
// What a single-line diagram tells, before anything has a place on paper: a tree of places joined
// by runs, the links that close loops, and every text.
#pragma once

#include "housepower/diagram/diagram.hpp"

namespace housepower::diagram {

/// Something that is drawn with its text on a conductor.
struct OnWire {
  Symbol symbol;
  std::string text;
  bool far = false;  // at the end away from the root
};

/// What the findings say about a part: a line of one verdict, worst first.
struct Flag {
  checks::Verdict verdict;
  std::string text;  // "fail: drop, ampacity"
};

/// A run as it is drawn, from the place nearer to the root.
struct Wire {
  std::string label, figures;  // "W07"; "2.5 mm², 5 m, 3.2 A →"
  std::vector<OnWire> items;   // in the order of drawing
  std::string separate;        // "return 4 mm², 5 m" where it differs
  std::vector<Flag> flags;
  bool is_return = false;  // the minus side alone, to another place
  std::string subject{};   // as findings print it
  [[nodiscard]] checks::Verdict verdict() const;
};

struct PlaceOnDiagram {
  enum class Shape { bank, bar, joint, device } shape = Shape::joint;
  std::optional<Symbol> symbol;
  std::string name, figures, subject;
  std::vector<std::string> notes;  // what hangs on it
  std::vector<Flag> flags;
  std::vector<std::string> batteries;  // of the bank: a line each
  bool fused_batteries = false;        // each by its own device
  int parent = -1;
  std::vector<int> children;
  Wire wire;  // from the parent
};

/// A run, or a return of its own, that is not of the tree.
struct LinkOnDiagram {
  int from, to;
  Wire wire;
  int run = -1;  // whose findings stand on it; −1: equipment, or a return alone
};

struct DiagramTree {
  std::vector<PlaceOnDiagram> places;
  std::vector<int> roots;  // of parts that no conductor joins
  std::vector<LinkOnDiagram> links;
  std::vector<std::string> elsewhere;  // what fails or cautions and is of no part that is drawn
};

[[nodiscard]] DiagramTree diagram_tree(const CheckedDesign&, const wiring::CaseResult* in);

}  // namespace housepower::diagram

// SPDX-License-Identifier: Apache-2.0
// A tree of the diagram while it is made: `places.cpp` writes its places and conductors, `tree.cpp` joins
// them.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <vector>

#include "tree.hpp"

namespace housepower::diagram {

struct Making {
  const CheckedDesign& c;
  const wiring::CaseResult* in;
  DiagramTree tree{};
  design::resolved::PerPost<int> place_of_post{};
  std::vector<int> run_of_place{};        // its way from the parent
  design::resolved::PerPost<int> ends{};  // of runs and separate returns
  struct Within {
    int from, to;
    Wire wire;
  };
  std::vector<Within> within{};  // equipment between its two posts, where more ends at one of them

  [[nodiscard]] const design::Design& d() const { return c.design; }
  int place(design::resolved::PostId post) const { return place_of_post[post]; }
  std::optional<Voltage> voltage(design::resolved::PostId post) const {
    if (!in || in->post.empty()) return {};
    return in->post[post];
  }
};

/// A run as it is drawn; `along`: from its `from` to its `to`.
[[nodiscard]] Wire wire_of(const Making&, std::size_t run, bool along);
/// Its return, where that is drawn by itself.
[[nodiscard]] Wire return_wire(const Making&, std::size_t run);
/// "2.5 mm²": the trade's way to write what tables call "2.5 mm2".
[[nodiscard]] std::string size_text(std::string name);

/// The number of the new place, to which these posts belong.
int add_place(Making&, PlaceOnDiagram::Shape, std::optional<Symbol>, std::string name,
              std::initializer_list<design::resolved::PostId>);
/// All places of the design, the bank first, then what feeds.
void add_places(Making&);

}  // namespace housepower::diagram

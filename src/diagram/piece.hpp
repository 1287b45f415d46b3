// SPDX-License-Identifier: Apache-2.0
// A piece of the tree with every box, line and symbol at its place: columns by depth, a row for
// each end of a branch. A tidy tree: parents stand in the middle of their children, and no subtree
// reaches into the rows of another.
#pragma once

#include <set>

#include "tree.hpp"

namespace housepower::diagram {

/// Heights in points at the least size of text.
namespace room {
inline constexpr double text = 7.2, line = 8.8, half_wire = 5.2, gap = 2.0, stub = 8.0, lane = 6.0;
inline constexpr double widest_name = 150.0, widest_item = 110.0, widest_figures = 225.0,
                        widest_flag = 210.0;
}  // namespace room
[[nodiscard]] double size_of(DiagramLabel::Role);
[[nodiscard]] bool is_bold(DiagramLabel::Role);

/// Which part of the tree: what starts at `root`, but not what other pieces start at.
struct PieceOf {
  int root = 0;
  std::size_t from = 0, to = std::size_t(-1);  // of the root's children
  std::string heading;                         // "part 2"; of the first: empty
};

struct Rank {
  double start = 0;   // where conductors of this depth begin
  double bar = 0;     // where they end
  double beyond = 0;  // where the next begin, or the names of ends
  double right = 0;   // how far names and notes reach
};

struct Piece {
  DiagramSheet drawn;  // from (0, 0)
  double width = 0, height = 0;
  std::vector<Rank> ranks;
  struct Inner {
    int place, depth;
    double height;
  };
  std::vector<Inner> inner;  // whose subtrees could be pieces of their own
  int leaves = 0;
};

/// All pieces, and the number of that which each place belongs to.
struct Parts {
  bool low_rows = false;  // all text of a conductor above it: less high, but wider
  std::vector<PieceOf> pieces;
  std::vector<int> of_place;
};
[[nodiscard]] Piece laid_out(const DiagramTree&, const Parts&, std::size_t piece);

}  // namespace housepower::diagram

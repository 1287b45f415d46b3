// SPDX-License-Identifier: Apache-2.0
// Which runs end where: made once, it lets a walk through the network ask each post for its own
// runs instead of asking every run; and the walk itself.
#pragma once

#include <vector>

#include "housepower/design/design.hpp"

namespace housepower::wiring {

/// A run seen from a post at one of its ends.
struct Neighbour {
  design::resolved::RunId run;
  design::resolved::PostId other;  // its other end
  bool along = true;               // leaving here goes from the run's `from` to its `to`
};

/// By post: the runs that end there on one pole, in the order of the design. On the return a run
/// ends at its `to` and where its return leads.
using Neighbours = design::resolved::PerPost<std::vector<Neighbour>>;
[[nodiscard]] Neighbours neighbours_of(const design::Design&, design::Pole);

using Reached = design::resolved::PerPost<bool>;

/// Walks the runs breadth first from a post: at each run to a post that is not yet reached,
/// `goes(here, next)` says whether the walk goes there. Adds to what is reached already.
template <class Goes>
void walk(const Neighbours& neighbours, design::resolved::PostId start, Reached& reached,
          const Goes& goes) {
  std::vector<design::resolved::PostId> queue{start};
  reached[start] = true;
  for (std::size_t i = 0; i < queue.size(); ++i) {
    const design::resolved::PostId here = queue[i];
    for (const Neighbour& next : neighbours[here]) {
      if (reached[next.other] || !goes(here, next)) continue;
      reached[next.other] = true;
      queue.push_back(next.other);
    }
  }
}

/// The posts that are joined with one by runs other than these two.
[[nodiscard]] Reached joined_without(const Neighbours&, design::resolved::PostId,
                                     design::resolved::RunId, design::resolved::RunId another = {});

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// Stays simulated no longer than what is asked of them needs. A share of the shortest decides how long
// stays are told to last; those that last longer are alike. What is asked comes out as from stays
// that were simulated to the end, bit for bit.
#pragma once

#include "housepower/energy/kernel_lanes.hpp"
#include "housepower/energy/stay.hpp"

namespace housepower::energy::inside {

using Outcomes = std::span<const kernel::Outcome>;

/// The longest of the lengths that are asked of the stays of a plant.
using Asked = std::function<Duration(const Stays&, int plant)>;

/// Plants that are run after others, the stays of each side by side.
struct Group {
  std::size_t end;  // behind the last of its plants; it begins where the one before ends
  kernel::Until until;
  /// By what came of the plants of a group before: where they outlast everything this one does, too.
  struct Outlasts {
    std::size_t by;  // number of that group; asked only where it was simulated to the end
    std::function<bool(Outcomes)> so;
  };
  std::optional<Outlasts> outlasts{};
  /// For so many hours this plant goes through what one of a group before does: a stay of that one
  /// that ended before then did so here, too. Its length is known, and no more is asked of it.
  struct Alike {
    std::size_t plant;
    double hours;
  };
  std::optional<Alike> alike{};
  /// Nothing: the stays are simulated to the end. Otherwise those that last longer than all that is
  /// asked count as longer, not as what they are.
  Asked asked{};
};

[[nodiscard]] Stays simulate(const Surroundings&, const StayQuestion&,
                             std::span<const kernel::Plant>, std::span<const Group>, const Each&);

/// The length that this chance of stays reaches, or the upper end of its interval.
[[nodiscard]] Duration longest_known(const Stays&, int plant, Ratio chance);

/// More stays than so many end within what is simulated; no more years than say so are looked at.
[[nodiscard]] bool more_end_than(int so_many, const Surroundings&, const StayQuestion&,
                                 const kernel::Plant&, const Each&);
/// Every stay outlasts what is simulated.
[[nodiscard]] bool all_outlast(const Surroundings&, const StayQuestion&, const kernel::Plant&,
                               const Each&);

/// How many stays may be shorter than what this share of all of them reaches.
[[nodiscard]] int shorter_ones(std::size_t stays, double share);

}  // namespace housepower::energy::inside

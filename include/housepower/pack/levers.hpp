// SPDX-License-Identifier: Apache-2.0
// What would change a stay, which is what customers ask: each change tried by itself, by simulating
// again, from the same hour of arrival and by the same chance as the answer.
#pragma once

#include <string>
#include <vector>

#include "housepower/energy/stay.hpp"

namespace housepower::pack {

struct Lever {
  /// Those of the same kind answer the same question.
  enum class Kind {
    battery,
    modules,
    without,
    inverter,
    frugal,
    people,
    no_sun,
    trees,
    kettle,
    cooler,
    driving
  };
  /// Of a kind that never makes a stay shorter.
  [[nodiscard]] bool relieves() const {
    return kind == Kind::battery || kind == Kind::modules || kind == Kind::without ||
           kind == Kind::inverter || kind == Kind::frugal || kind == Kind::driving;
  }
  Kind kind{};
  std::string change;  // "one more battery"
  Duration parked{};   // on the sun alone, by the stated chance
  Duration met{};      // with the travel that is stated, or that it names
  // As told of a stay: in half days, by the lower end of the interval where that is wide.
  Duration parked_told{}, told{};
  std::string why{};  // it changes nothing, and why; or: it cannot be done
  bool possible = true;
};

/// A change by which a bank may last longer: of the design, or of how it is used.
struct Relief {
  Lever::Kind kind{};
  std::string change;
  design::Document document;
  energy::Habit habit;
};
/// One more battery, one more string of each array, each of the largest consumers of the month left off,
/// inverters off while nothing runs on them, frugal use.
[[nodiscard]] std::vector<Relief> reliefs(const design::Document&, const design::Design&, int month,
                                          const energy::Habit&);

/// All of them on the same weather; the bases are the design as it is.
struct Levers {
  Duration base_parked{}, base{};
  std::vector<Lever> all;  // the best first
};
/// Those of `reliefs`, more people, no sun at all, trees about the van, a kettle or an air conditioner
/// where there is none, and other driving.
[[nodiscard]] Levers levers(const design::Document&, const design::Design&, const tables::Tables&,
                            const energy::Weather&, const energy::StayQuestion&,
                            const energy::Habit&, const energy::DeliveredList&,
                            const energy::Each&);

}  // namespace housepower::pack

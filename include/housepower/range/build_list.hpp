// SPDX-License-Identifier: Apache-2.0
// What the line cuts, crimps and fits for one van: each conductor with its colour, label and length,
// what its ends land on, devices and items. Nothing is chosen or guessed here: what the design does
// not state is listed as not stated. Drums, offcuts and waste are not reckoned.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "housepower/design/design.hpp"
#include "housepower/tables/colours.hpp"

namespace housepower::range {

/// What an end of a conductor lands on.
struct Landing {
  enum class On { stud, not_stated, no_lug } on = On::not_stated;
  std::string at;    // "main bar", "class T 300 A"
  std::string what;  // thread of a stud, "M8"; what is no lug, "way of a panel"; else empty
  design::resolved::AssemblyId assembly{};  // of the place; none of a device on the way
  std::optional<design::resolved::ConnectorId> connector{};
  std::vector<int> cavities{};  // of the connector, of this conductor
};

/// Where a conductor is cut for a device or an item in it; both new ends land on that.
struct Break {
  Landing on;
  std::optional<Length> at;  // from where the conductor begins; nothing: not stated
};

/// One conductor of a run or of the bank, from one end to the other.
struct BuildConductor {
  std::string run;    // its name, or "bank"
  std::string wire;   // label of the run, "W07"
  std::string label;  // its own, "W07+"
  std::string label_from, label_to;
  design::Pole pole{};
  std::optional<tables::Conductor> conductor;  // nothing: still to be chosen
  std::optional<Temperature> insulation;       // a design states none of the bank's conductors
  std::optional<design::Insulation> material;
  std::string colour;
  Length length{}, to_cut{};  // of all its pieces; to_cut with the allowance of each
  std::vector<Break> breaks;  // as they follow, as far as that is stated
  Landing from, to;
  [[nodiscard]] int pieces() const { return 1 + int(breaks.size()); }
};

/// A device (by type) or an item in line (by kind), and where.
struct BuildPart {
  std::string what;
  std::optional<Current> rating;
  std::string wire;  // label of its run, "W07"; "B1" … of a battery's device
};

struct BuildList {
  tables::ColourSet colours;
  bool colours_stated = false;
  std::optional<Length> allowance;
  std::vector<BuildConductor> conductors;
  std::vector<BuildPart> devices, items;
  std::vector<std::string> left_out;  // what is needed and not stated, so not in the list
};
[[nodiscard]] BuildList build_list(const design::Design&);

/// One model of a plan, and how many of it are built.
struct Model {
  const BuildList& list;
  std::string name;
  int vans = 1;
};
/// How many one van of a model needs, and on which wires.
struct Use {
  std::size_t model = 0;  // in the plan
  int each = 0;
  std::vector<std::string> wires;
};

/// Sums over all vans of a plan. `number` counts pieces, lugs, devices or items.
struct Total {
  int number = 0;
  std::vector<Use> uses;
};
struct CableTotal : Total {
  std::optional<tables::Conductor> conductor;
  std::optional<Temperature> insulation;
  std::optional<design::Insulation> material;
  std::string colour;
  Length to_cut{};
  Mass copper{};
};
struct EndTotal : Total {
  std::optional<tables::Conductor> conductor;
  Landing on;  // `at` only where no stud is stated
};
struct PartTotal : Total {
  std::string what;
  std::optional<Current> rating;
};
struct BuildTotals {
  std::vector<CableTotal> cables;  // by size, insulation and colour; what is to be chosen first
  std::vector<EndTotal> ends;      // lugs by size and stud, then not stated, then no lugs
  std::vector<PartTotal> devices, items;
  Mass copper{};
};
[[nodiscard]] BuildTotals totals_of(std::span<const Model>);

}  // namespace housepower::range

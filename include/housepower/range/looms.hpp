// SPDX-License-Identifier: Apache-2.0
// What each bench makes: the wires of every assembly's loom from end to end, its half of each
// connector, and what remains to be wired on the line. What the design does not state is absent.
//
// A conductor is divided where it passes a connector. From its first end on it belongs to the assembly
// of that end, behind a connector to the one on the connector's other side.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "housepower/range/build_list.hpp"

namespace housepower::range {

/// One end of a wire: where it goes, and how it is made up by the works' own table ([build]).
struct WireEnd {
  std::string place;  // a node, equipment, a device, or the connector's name
  std::optional<std::string> connector{};
  std::vector<int> cavities{};        // of the connector; several share
  std::optional<std::string> stud{};  // "M8"
  std::optional<std::string>
      lug{};  // the works' name, or size and stud; what it ends in where no lug
  std::optional<std::string> die{};
  std::optional<Length> strip{};
  std::optional<Torque> torque{};
  bool in_loom = false;     // it lands on what is built into the same assembly
  bool on_the_way = false;  // a device or item that stands in the conductor itself
};

/// What is cut in one: a wire, or what is between two devices in it.
struct Piece {
  std::optional<Length> length{};  // nothing: a place is not stated
  WireEnd first{}, last{};
};

/// A conductor of one loom, from place to place or to a connector.
struct Wire {
  std::string run, label;                        // the conductor's, "W04+"
  std::optional<tables::Conductor> conductor{};  // nothing: still to be chosen
  std::optional<Temperature> insulation{};
  std::optional<design::Insulation> material{};
  std::string colour;
  // Of all its pieces; nothing: not stated where it passes a connector.
  std::optional<Length> length{}, to_cut{};
  WireEnd first{}, last{};
  std::vector<Piece> pieces;  // one, where no device or item stands in it
};

/// An assembly's half of a connector.
struct Half {
  std::string connector;
  int cavities = 0;
  std::string mate;  // the assembly on its other side
  std::optional<std::string> contact{};
};

struct Loom {
  std::string assembly;
  std::optional<std::string> station{}, fitted_at{};
  std::vector<Wire> wires;
  std::vector<Half> connectors;
};

/// A run of which a pole passes from one assembly to another without a connector.
struct Crossing {
  std::string run, label;
  std::string from, to;  // assemblies
  bool outgoing = false, back = false;
};

struct Looms {
  std::vector<Loom> looms;    // one for each assembly, in the order of the design
  std::vector<Wire> on_line;  // of no assembly, or joined on the line
  std::vector<Crossing> crossings;
};
[[nodiscard]] Looms looms_of(const design::Design&, const BuildList&);

}  // namespace housepower::range

// SPDX-License-Identifier: Apache-2.0
// What each station of the line cuts, crimps, fits, joins and tests, summed over the vans of a plan.
// A loom is made at its assembly's station; what lies between assemblies belongs to where they are
// fitted, and what belongs to none to the line.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "housepower/range/looms.hpp"

namespace housepower::range {

enum class Task { cut, crimp, fit, join, test };

/// `number` of one kind at one station: pieces of cable, ends, nuts, connectors, wires.
struct StationTotal : Total {
  std::optional<std::string> station{};  // nothing: not stated
  Task task{};
  std::string what;  // "red 90 °C cable", lug or contact, "nut M8", connector
  std::optional<tables::Conductor> conductor{};
  std::optional<std::string> die{};
  std::optional<Length> strip{};
  std::optional<Torque> torque{};
  Length to_cut{};         // of cable, as far as lengths are stated
  int without_length = 0;  // pieces of which the length is not stated
};

/// One model of a plan, and how many of it are built.
struct LoomModel {
  const Looms& looms;
  int vans = 1;
};
/// By station in the order in which the designs name them, what is not stated last; within it by task.
[[nodiscard]] std::vector<StationTotal> stations_of(std::span<const LoomModel>);

}  // namespace housepower::range

// SPDX-License-Identifier: Apache-2.0
// I_z of a run: table value × min(ambient, terminal) × grouping × how it lies, at its least
// favourable section. A conductor of another series is rated as the next row down; ambient takes the
// next hotter band and grouping the next larger group. Beyond the end of a table of factors the
// answer is the safe one: air as hot as the insulation's limit leaves 0 A. Which table: the
// profile's, by insulation; within 1 m of a device or terminal no more than at the temperature that
// the profile, or the node, says of them, in the air of that place.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "housepower/design/design.hpp"
#include "housepower/working/working.hpp"

namespace housepower::wiring {

struct Ampacity {
  Current value{};         // of the whole pole: all its parallel conductors
  std::string_view table;  // "bs-7671-4f2-90"
  std::string row;         // "35", "2/0 AWG"
  Current listed{};        // of the table, one conductor
  std::optional<Temperature> base_ambient{};
  Temperature ambient_used{};  // of the governing section
  Temperature limit{};         // conductor temperature for which it stands (for heating up)
  Ratio ambient = 1.0, grouping = 1.0, laid = 1.0;
  Ratio terminal = 1.0;      // the limit near a device or terminal, of that by the insulation
  bool at_terminal = false;  // that limit governs
  Source source{};           // the weakest of the values it rests on
  std::string note;          // what else a reader must know; may be empty
  std::string beyond;        // where its factors were reckoned beyond their tables; may be empty
};
/// Absent, and why: "bs-7671-4f2-90 begins at 4 mm²", "no row for 90 °C".
struct NoAmpacity {
  std::string why;
};
using AmpacityAnswer = std::variant<Ampacity, NoAmpacity>;

/// `return_` pole: the run's return conductor. The conductor is given apart, for choosing.
[[nodiscard]] AmpacityAnswer ampacity_of(const design::Design&, const design::resolved::Run&,
                                         const tables::Conductor&, design::Pole,
                                         Working* = nullptr);
/// By the profile's table even where the design names another: a conductor gets no cooler by the
/// choice of a more generous table.
[[nodiscard]] AmpacityAnswer heating_ampacity_of(const design::Design&,
                                                 const design::resolved::Run&,
                                                 const tables::Conductor&, design::Pole);

}  // namespace housepower::wiring

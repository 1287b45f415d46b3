// SPDX-License-Identifier: Apache-2.0
// Drop and size by the formula of a named text, for comparison with charts and worked examples.
// The engine's own way is the table's resistance at the conductor's temperature.
#pragma once

#include <optional>
#include <span>

#include "housepower/tables/tables.hpp"
#include "housepower/working/working.hpp"

namespace housepower::wiring {

/// The text's own resistivity: ABYC E-11 K = 10.75 Ω·cmil/ft; ISO 10133 0.0164 Ω·mm²/m (below pure
/// copper: it flatters the drop by 5 to 40 %); EN 1648-2 0.01989 Ω·mm²/m (copper at 50 °C).
enum class NamedMethod { table, abyc_e11, iso_10133, en_1648 };

struct ByNamedMethod {
  Area needed{};                                // for the allowed drop
  std::optional<Voltage> drop{};                // with the given conductor
  std::optional<tables::Conductor> smallest{};  // of the series; absent: none suffices
};

/// `loop` is out and back; the sizes count by their nominal area where they name mm², else by copper.
[[nodiscard]] ByNamedMethod by_named_method(NamedMethod, Current, Length loop, Voltage allowed,
                                            const std::optional<tables::Conductor>& given_conductor,
                                            std::span<const tables::Conductor> series,
                                            Working* = nullptr);

}  // namespace housepower::wiring

// SPDX-License-Identifier: Apache-2.0
// The units that people write and read: one table for the parser, the printer, the JSON Schema
// and the unit of a JSON value. AWG and trade sizes are conductor sizes, not units (tables room).
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>

#include "housepower/units/number.hpp"

namespace housepower {

/// One spelling of one unit. value in SI = written · factor + offset (offset: °C only).
struct Unit {
  std::string_view symbol;
  Kind kind;
  double factor = 1.0;
  double offset = 0.0;
};

/// Every accepted spelling, the preferred one of each unit first ("Ω" before "ohm"). Also read, and
/// not listed: the other sign for ohm and for micro, raised digits for digits, a dot for a space.
[[nodiscard]] std::span<const Unit> units();

/// The unit in which a value of this kind stands in JSON and CSV: V, A, Ω, W, m, mm², °C, K, s,
/// Ah, Wh, kg, °, mΩ/m, A²s, 1 for a ratio …  A kind without a unit of its own counts in SI; its
/// symbol here is empty, and plain_symbol spells it out.
[[nodiscard]] Unit plain_unit(Kind kind);

/// The symbol of that unit; of a kind without a unit of its own in SI base units: "kg·m²·s⁻²".
[[nodiscard]] std::string plain_symbol(Kind kind);

/// The unit of that spelling; nothing where it is not known.
[[nodiscard]] std::optional<Unit> unit_named(std::string_view symbol);

[[nodiscard]] constexpr double in_unit(Number n, const Unit& unit) {
  return (n.si - unit.offset) / unit.factor;
}

/// "a voltage", "a length": for messages.
[[nodiscard]] std::string_view name_of(Kind kind);

/// Why a text is no quantity: what was wrong, and the next step. `column` counts code points from 1
/// within the text.
struct ParseProblem {
  std::string message;  // "wants a length such as \"3.5 m\" or \"12 ft\", got a current"
  std::string hint;     // "did you mean \"2.5 mm2\"?"; may be empty
  int column = 1;
};

/// Reads "35 mm2", "40 °C", "4.2A", "-0.28 %/K", "90 %", and with a decimal comma "2,4 m". A bare
/// number is a ratio only. Refuses another kind, a missing or unknown unit, anything between
/// thousands, a comma that may be either ("1,200 W"), nan, inf and what overflows.
[[nodiscard]] std::variant<Number, ParseProblem> parse_quantity(std::string_view text, Kind wanted);

/// How the number at the beginning of a text shows its decimals. A `point_or_thousands` ("1.200") is
/// read as a point, but means thousands to whoever writes decimal commas.
enum class DecimalMark { none, point, comma, point_or_thousands };
[[nodiscard]] DecimalMark decimal_mark_of(std::string_view text);
/// What is wrong with a `point_or_thousands` where others have decimal commas.
[[nodiscard]] ParseProblem problem_of_thousands(std::string_view text);

/// A plain decimal number in the C locale, whole text; nothing where it is not one or not finite.
[[nodiscard]] std::optional<double> parse_double(std::string_view text);

/// "0.958 V", "35 mm²", "7.98 mΩ/m", "40 °C", "3.2 d": `digits` significant, the trade's unit and
/// prefix; a ratio up to the whole in %, above it bare ("1.22"). For people: in the units that are
/// shown, "13.1 ft", "104 °F", "35 mm² (2–1 AWG)" where those are US units.
[[nodiscard]] std::string print(Number number, int digits = 3);

/// The same as a design file holds it, whichever units are shown. Reading it again gives the value
/// within its digits, except for kinds without a unit of their own.
[[nodiscard]] std::string written(Number number, int digits = 3);

/// As written, and what people are shown besides where that differs: "4 m (13.1 ft)".
[[nodiscard]] std::string print_both(Number number, int digits = 3);

/// The units that people are shown, whatever a design is written in. As usual: metric, a conductor by
/// its own name; metric and US besides tell a conductor of the other series in theirs.
enum class UnitsShown { as_usual, metric, us };
/// Of this thread.
[[nodiscard]] UnitsShown units_shown();
/// While it lives, this thread shows these units.
class ShowUnits {
public:
  explicit ShowUnits(UnitsShown);
  ShowUnits(const ShowUnits&) = delete;
  ShowUnits& operator=(const ShowUnits&) = delete;
  ~ShowUnits();

private:
  UnitsShown before_;
};
/// The unit in which people read a column whose numbers stand in that unit.
[[nodiscard]] Unit shown_unit(const Unit& unit);

/// The wire gauge of a conductor's copper, or the two between which it lies: "10 AWG", "6–4 AWG",
/// "250 kcmil".
[[nodiscard]] std::string gauge_of(Area copper);
/// " (10 AWG)" behind the area of a conductor where US units are shown; else nothing.
[[nodiscard]] std::string gauge_beside(Number area);

/// The same in one given unit, for columns of a table.
[[nodiscard]] std::string print_in(Number number, const Unit& unit, int digits = 3);

/// A bare number with `digits` significant digits, no exponent between 1e-4 and 1e7, "." always.
[[nodiscard]] std::string print_plain(double value, int digits = 3);

}  // namespace housepower

// SPDX-License-Identifier: Apache-2.0
// Numbers as people read them: significant digits, the trade's unit, always a decimal point.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include "kinds.hpp"

namespace housepower {
namespace {

/// The value in that unit, without what subtracting 273.15 leaves of a nought.
double shown(Number n, const Unit& unit) {
  const double value = in_unit(n, unit);
  return unit.offset != 0 && std::abs(value) < 1e-9 ? 0.0 : value;
}

/// Whether the value, as it will be printed, reaches `from`: 999.9 W is 1 kW.
bool reaches(double value, double from, int digits) {
  if (value >= from || value < 0.9 * from) return value >= from;
  return parse_double(print_plain(value, digits)) >= from;
}

Unit unit_to_print(Number n, int digits) {
  const auto* facts = kinds::facts_of(n.kind);
  if (!facts || facts->ladder[0].unit.symbol.empty()) return plain_unit(n.kind);
  if (n.si == 0) n.si = facts->plain.factor;  // nought: as one of its plain unit
  const Unit* smallest = nullptr;
  for (const auto& rung : facts->ladder) {
    if (rung.unit.symbol.empty()) break;
    smallest = &rung.unit;
    if (reaches(std::abs(shown(n, rung.unit)), rung.from, digits)) break;
  }
  return *smallest;
}

std::string with_unit(double value, std::string_view symbol, int digits) {
  std::string text = print_plain(value, digits);
  if (symbol.empty() || symbol == "1") return text;
  if (symbol != "°") text += ' ';
  return text.append(symbol);
}

}  // namespace

std::string print_plain(double value, int digits) {
  if (!std::isfinite(value)) return std::isnan(value) ? "nan" : value < 0 ? "-inf" : "inf";
  if (value == 0) return "0";
  const int places = std::clamp(digits, 1, 17) - 1;
  std::array<char, 40> raw{};  // "d.ddde±xx"; twice as fast as printf, and heeds no locale
  fmt::format_to_n(raw.data(), raw.size() - 1, "{:.{}e}", std::abs(value), places);
  const std::string_view written(raw.data());
  const auto mantissa = written.substr(0, written.find('e'));
  const int exponent = std::atoi(raw.data() + mantissa.size() + 1);

  std::string figures(mantissa.substr(0, 1));
  figures += mantissa.substr(mantissa.size() - static_cast<std::size_t>(places));
  figures.erase(figures.find_last_not_of('0') + 1);
  const int size = static_cast<int>(figures.size());

  std::string text = value < 0 ? "-" : "";
  const bool plain = exponent >= -4 && exponent < 7;
  const int point = plain ? exponent + 1 : 1;  // stands before this figure
  if (point <= 0) text.append("0.").append(static_cast<std::size_t>(-point), '0').append(figures);
  for (int i = 0; point > 0 && i < std::max(point, size); ++i) {
    if (i == point) text += '.';
    text += i < size ? figures[static_cast<std::size_t>(i)] : '0';
  }
  return plain ? text : text.append("e").append(std::to_string(exponent));
}

std::string print_in(Number number, const Unit& unit, int digits) {
  return with_unit(shown(number, unit), unit.symbol, digits);
}

std::string print(Number number, int digits) {
  const Unit unit = unit_to_print(number, digits);
  if (unit.symbol.empty()) return with_unit(number.si, plain_symbol(number.kind), digits);
  return print_in(number, unit, digits);
}

}  // namespace housepower

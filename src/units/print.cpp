// SPDX-License-Identifier: Apache-2.0
// Numbers as people read them: significant digits, the trade's unit, always a decimal point.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <span>

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

/// Of a ladder that is not empty.
Unit rung_for(Number n, std::span<const kinds::Rung> ladder, int digits) {
  if (n.si == 0) n.si = plain_unit(n.kind).factor;  // nought: as one of its plain unit
  const Unit* smallest = nullptr;
  for (const auto& rung : ladder) {
    if (rung.unit.symbol.empty()) break;
    smallest = &rung.unit;
    if (reaches(std::abs(shown(n, rung.unit)), rung.from, digits)) break;
  }
  return *smallest;
}

bool has_rungs(std::span<const kinds::Rung> ladder) { return !ladder[0].unit.symbol.empty(); }

Unit unit_to_print(Number n, int digits) {
  const auto* facts = kinds::facts_of(n.kind);
  return facts && has_rungs(facts->ladder) ? rung_for(n, facts->ladder, digits)
                                           : plain_unit(n.kind);
}

thread_local UnitsShown shown_here = UnitsShown::as_usual;

/// The gauges that are sold, and the n of each in d = 0.127 mm · 92^((36 - n)/39): ASTM B258, as in
/// tables/conductors/astm-b258.toml; which of them are sold as in tables/conductors/nec-8.toml.
struct Gauge {
  std::string_view name;
  int n;
};
constexpr std::array gauges{Gauge{"20", 20}, Gauge{"18", 18},  Gauge{"16", 16},  Gauge{"14", 14},
                            Gauge{"12", 12}, Gauge{"10", 10},  Gauge{"8", 8},    Gauge{"6", 6},
                            Gauge{"4", 4},   Gauge{"3", 3},    Gauge{"2", 2},    Gauge{"1", 1},
                            Gauge{"1/0", 0}, Gauge{"2/0", -1}, Gauge{"3/0", -2}, Gauge{"4/0", -3}};

Area area_of(const Gauge& gauge) {
  const double diameter = 0.127e-3 * std::pow(92.0, (36 - gauge.n) / 39.0);
  return Area::from_value(3.14159265358979323846 / 4.0 * diameter * diameter);
}

bool is_wire_unit(const Unit& unit) { return unit.symbol == spellings::row("mm²").symbol; }

/// What US readers are shown; nothing where it is as written.
std::optional<std::string> in_us_units(Number n, int digits) {
  const auto* facts = kinds::facts_of(n.kind);
  if (!facts || !has_rungs(facts->us)) return std::nullopt;
  const Unit unit = rung_for(n, facts->us, digits);
  if (is_wire_unit(unit)) return written(n, digits) + gauge_beside(n);
  return print_in(n, unit, digits);
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

std::string written(Number number, int digits) {
  const Unit unit = unit_to_print(number, digits);
  if (unit.symbol.empty()) return with_unit(number.si, plain_symbol(number.kind), digits);
  return print_in(number, unit, digits);
}

std::string print(Number number, int digits) {
  const auto us = shown_here == UnitsShown::us ? in_us_units(number, digits) : std::nullopt;
  return us ? *us : written(number, digits);
}

std::string print_both(Number number, int digits) {
  const std::string as_written = written(number, digits), shown_too = print(number, digits);
  if (shown_too.starts_with(as_written)) return shown_too;
  return as_written + " (" + shown_too + ")";
}

UnitsShown units_shown() { return shown_here; }

ShowUnits::ShowUnits(UnitsShown units) : before_(shown_here) { shown_here = units; }
ShowUnits::~ShowUnits() { shown_here = before_; }

Unit shown_unit(const Unit& unit) {
  if (shown_here != UnitsShown::us || unit.symbol.empty()) return unit;
  const auto* facts = kinds::facts_of(unit.kind);
  if (!facts || !has_rungs(facts->us)) return unit;
  return rung_for({unit.factor + unit.offset, unit.kind}, facts->us, 3);
}

std::string gauge_beside(Number number) {
  if (shown_here != UnitsShown::us || !(number.kind == spellings::area) || !(number.si > 0.0))
    return {};
  const Unit unit = rung_for(number, kinds::facts_of(number.kind)->us, 3);
  return is_wire_unit(unit) ? " (" + gauge_of(Area::from_value(number.si)) + ")" : "";
}

std::string gauge_of(Area copper) {
  constexpr double as_good_as = 0.01;  // of an area: what the tables of one gauge differ by
  const Gauge* below = nullptr;
  for (const Gauge& gauge : gauges) {
    const double ratio = copper / area_of(gauge);
    if (std::abs(ratio - 1.0) <= as_good_as) return std::string(gauge.name) + " AWG";
    if (ratio < 1.0)
      return (below ? std::string(below->name) + "–" : "less than ") + std::string(gauge.name) +
             " AWG";
    below = &gauge;
  }
  return print_in(copper, spellings::row("kcmil"));
}

}  // namespace housepower

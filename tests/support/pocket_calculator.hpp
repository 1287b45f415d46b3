// SPDX-License-Identifier: Apache-2.0
// Reads a line of a working the way a person with a pocket calculator does: a formula's text, with
// symbols, or the printed line, with numbers and units. Tests only: the engine evaluates no text.
//
// What the numbers of a text mean: temperatures in °C, angles in degrees (also as the argument of
// sin( and the result of acos( ), everything else in SI base units, temperature differences in K;
// what its symbol gives a unit counts in that.
// A number may carry a unit: "25 °C", "7.98 mΩ/m", "35°".
// Functions: √( exp( ln( sin( cos( tan( asin( acos( atan( tanh( abs( min( max( ; signs + - − · × /
// ² ³ ^ and brackets; π.
#pragma once

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "housepower/units/unit.hpp"
#include "housepower/working/working.hpp"

namespace housepower::test {

/// The number that stands for a value in a text.
inline double in_text(const Number& n) {
  if (n.kind.point) return n.si - 273.15;
  return n.kind == kind_of<Angle> ? n.si / degree.value() : n.si;
}

inline double in_text(const Number& n, const Symbol& symbol) {
  return symbol.unit.empty() ? in_text(n) : in_unit(n, unit_named(symbol.unit).value());
}

class PocketCalculator {
public:
  using ValueOf = std::function<double(std::string_view symbol)>;
  explicit PocketCalculator(std::string_view text, ValueOf value_of = no_symbols)
      : rest_(text), value_of_(std::move(value_of)) {}

  /// Throws std::invalid_argument where the text cannot be read.
  double result() {
    take("");
    const double value = sum();
    if (!rest_.empty()) fail("cannot read: ");
    return value;
  }

private:
  std::string_view rest_;
  ValueOf value_of_;

  static double no_symbols(std::string_view symbol) {
    throw std::invalid_argument("no value for " + std::string(symbol));
  }
  [[noreturn]] void fail(const std::string& why) const {
    throw std::invalid_argument(why + std::string(rest_));
  }
  bool take(std::string_view token) {
    if (!rest_.starts_with(token)) return false;
    rest_.remove_prefix(token.size());
    while (rest_.starts_with(' ')) rest_.remove_prefix(1);
    return true;
  }
  double sum() {
    double value = product();
    for (;;) {
      if (take("+")) value += product();
      else if (take("-") || take("−")) value -= product();
      else return value;
    }
  }
  double product() {
    double value = power();
    for (;;) {
      if (take("·") || take("×")) value *= power();
      else if (take("/")) value /= power();
      else return value;
    }
  }
  double power() {
    if (take("-") || take("−")) return -power();
    if (take("+")) return power();
    const double base = atom();
    if (take("²")) return base * base;
    if (take("³")) return base * base * base;
    if (take("^")) return std::pow(base, power());
    return base;
  }
  double atom() {
    if (take("(")) return closed(sum());
    if (take("√(")) return std::sqrt(closed(sum()));
    if (take("π")) return pi;
    if (!rest_.empty() && std::isdigit(static_cast<unsigned char>(rest_[0])) != 0) return number();
    const std::string_view name = rest_.substr(0, name_size());
    if (name.empty()) fail("cannot read: ");
    take(name);
    if (take("(")) return function(name);
    return value_of_(name);
  }
  double closed(double value) {
    if (!take(")")) fail("no ) at: ");
    return value;
  }
  double function(std::string_view name) {
    if (name == "min" || name == "max") {
      double best = sum();
      while (take(",")) best = name == "min" ? std::min(best, sum()) : std::max(best, sum());
      return closed(best);
    }
    using Function = double (*)(double);
    static constexpr std::pair<std::string_view, Function> functions[] = {
        {"exp", [](double x) { return std::exp(x); }},
        {"ln", [](double x) { return std::log(x); }},
        {"sin", [](double x) { return std::sin(x * pi / 180.0); }},
        {"cos", [](double x) { return std::cos(x * pi / 180.0); }},
        {"tan", [](double x) { return std::tan(x * pi / 180.0); }},
        {"asin", [](double x) { return std::asin(x) * 180.0 / pi; }},
        {"acos", [](double x) { return std::acos(x) * 180.0 / pi; }},
        {"atan", [](double x) { return std::atan(x) * 180.0 / pi; }},
        {"tanh", [](double x) { return std::tanh(x); }},
        {"abs", [](double x) { return std::abs(x); }}};
    for (const auto& [known, f] : functions)
      if (name == known) return f(closed(sum()));
    fail("no function " + std::string(name) + " before: ");
  }

  /// "12", "0.5", "2e-3", each with or without a unit.
  double number() {
    const auto figures = [this](std::size_t from) {
      return std::min(rest_.find_first_not_of("0123456789", from), rest_.size());
    };
    std::size_t size = figures(0);
    if (rest_.substr(size).starts_with('.')) size = figures(size + 1);
    if (rest_.substr(size).starts_with('e')) {
      const std::size_t mark = size + 1 + (rest_.substr(size + 1).starts_with('-') ? 1 : 0);
      if (figures(mark) > mark) size = figures(mark);
    }
    const auto value = parse_double(rest_.substr(0, size));
    if (!value) fail("no number: ");
    rest_.remove_prefix(size);
    return with_unit(*value);
  }
  double with_unit(double value) {
    std::string_view ahead = rest_;
    while (ahead.starts_with(' ')) ahead.remove_prefix(1);
    const auto spelled_out = base_units(ahead);
    Unit unit{"", {}};
    std::size_t size = 0;
    for (std::size_t n = 1; n <= std::min<std::size_t>(ahead.size(), 20); ++n)
      if (const auto known = unit_named(ahead.substr(0, n)); known && unit_may_end(ahead, n)) {
        unit = *known;
        size = n;
      }
    if (spelled_out > size) size = spelled_out;
    else if (size > 0) value = in_text({value * unit.factor + unit.offset, unit.kind});
    if (size > 0) rest_ = ahead.substr(size);
    take("");
    return value;
  }
  static bool unit_may_end(std::string_view text, std::size_t at) {
    return at >= text.size() || std::string_view(" )/,").find(text[at]) != std::string_view::npos;
  }
  /// Bytes of a unit such as "kg·m²·s⁻³", which counts as 1; 0 where none stands there.
  static std::size_t base_units(std::string_view text) {
    const auto begins = [&](std::size_t at, std::initializer_list<std::string_view> tokens) {
      for (const auto token : tokens)
        if (text.substr(std::min(at, text.size())).starts_with(token)) return token.size();
      return std::size_t{0};
    };
    for (std::size_t size = 0;;) {
      const auto base = begins(size, {"kg", "rad", "m", "s", "A", "K"});
      if (base == 0) return 0;
      size += base;
      while (const auto raised = begins(size, {"⁻", "¹", "²", "³", "⁴", "⁵", "⁶"})) size += raised;
      const auto dot = begins(size, {"·"});
      if (dot == 0) return unit_may_end(text, size) ? size : 0;
      size += dot;
    }
  }

  /// A symbol or a function's name: everything up to a sign, a space or a bracket. A raised figure
  /// belongs to the symbol only where the symbol is known so ("k²").
  std::size_t name_size() const {
    static constexpr std::array<std::string_view, 4> signs{"·", "×", "−", "√"};
    static constexpr std::array<std::string_view, 2> raised{"²", "³"};
    const auto at_one_of = [this](std::size_t at, const auto& tokens) {
      return std::any_of(tokens.begin(), tokens.end(), [&](std::string_view token) {
        return rest_.substr(at).starts_with(token);
      });
    };
    std::size_t shortest = 0, size = 0;
    for (; size < rest_.size(); ++size) {
      const auto c = static_cast<unsigned char>(rest_[size]);
      if (c < 0x80 && std::isalnum(c) == 0 && c != '_') break;
      if (at_one_of(size, signs)) break;
      if (shortest == 0 && at_one_of(size, raised)) shortest = size;
    }
    if (shortest == 0) return size;
    return knows(rest_.substr(0, size)) ? size : shortest;
  }
  bool knows(std::string_view symbol) const {
    try {
      value_of_(symbol);
      return true;
    } catch (const std::invalid_argument&) {
      return false;
    }
  }

  static constexpr double pi = 3.14159265358979323846;
};

}  // namespace housepower::test

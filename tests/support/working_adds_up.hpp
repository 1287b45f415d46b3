// SPDX-License-Identifier: Apache-2.0
// Redoes a step of a working with the pocket calculator. Two questions, each answered with what is
// wrong, or with nothing: does the text say what the code computes, to 1e-12; and does the printed
// line give the printed value within its digits. What the numbers mean: pocket_calculator.hpp.
#pragma once

#include <cmath>
#include <string>

#include "housepower/units/unit.hpp"
#include "housepower/working/working.hpp"
#include "pocket_calculator.hpp"

namespace housepower::test {

namespace detail {

/// The text with these numbers for its operands.
inline double evaluated(const Step& s, const std::vector<double>& numbers) {
  return PocketCalculator(s.formula.text,
                          [&](std::string_view symbol) {
                            for (std::size_t i = 0; i < numbers.size(); ++i)
                              if (s.formula.operands[i].symbol == symbol) return numbers[i];
                            throw std::invalid_argument("no operand " + std::string(symbol));
                          })
      .result();
}

/// How far the result moves when each operand is wrong by `doubt(number in the text, Number)`.
template <class Doubt> double spread(const Step& s, const Doubt& doubt) {
  std::vector<double> numbers;
  for (std::size_t i = 0; i < s.operands.size(); ++i)
    numbers.push_back(in_text(s.operands[i], s.formula.operands[i]));
  const double middle = evaluated(s, numbers);
  double total = 0;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    double most = 0;
    const double exact = numbers[i];
    for (const double sign : {-1.0, 1.0}) {
      numbers[i] = exact + sign * doubt(exact, s.operands[i]);
      const double moved = std::abs(evaluated(s, numbers) - middle);
      if (moved > most) most = moved;  // not where the text has no value just outside its range
    }
    numbers[i] = exact;
    total += most;
  }
  return total;
}

inline std::string against(double redone, double value, double tolerance) {
  if (std::abs(redone - value) <= tolerance) return {};
  return "gives " + print_plain(redone, 15) + ", not " + print_plain(value, 15) + " (± " +
         print_plain(tolerance, 2) + ")";
}

/// Half a unit of the last of `digits` figures, at most.
inline double half_unit(double x, int digits) {
  return 0.5 * std::pow(10.0, 1 - digits) * std::abs(x);
}

/// The terms of a sum as a line without their names: "12.3 Ah + 4.5 Ah".
inline std::string without_names(const Step& s, std::string line) {
  std::size_t from = 0;
  for (const std::string& name : s.names) {
    const auto at = line.find(name + " ", from);
    if (at == std::string::npos) return "does not name " + name;
    line.erase(at, name.size() + 1);
    from = at;
  }
  return line;
}

inline double combined(const Step& s) {
  double result = s.how == Step::How::sum || s.operands.empty() ? 0 : in_text(s.operands[0]);
  for (const Number& n : s.operands) {
    const double x = in_text(n);
    if (s.how == Step::How::sum) result += x;
    else if (s.how == Step::How::largest ? x > result : x < result) result = x;
  }
  return result;
}

inline double magnitude(const Step& s) {
  double all = std::abs(in_text(s.value));
  for (const Number& n : s.operands) all += std::abs(in_text(n));
  return all;
}

}  // namespace detail

/// The text of the formula with the operands, or the sum, largest or smallest of the terms, against
/// the recorded value. Empty where they agree to 1e-12, and a few units in the last place of each
/// operand (a temperature in °C is a difference of two larger numbers).
inline std::string text_against_code(const Step& s) {
  if (s.how == Step::How::given) return {};
  const double value = in_text(s.value);
  if (s.how != Step::How::formula)
    return detail::against(detail::combined(s), value, 1e-12 * detail::magnitude(s));
  try {
    std::vector<double> numbers;
    for (std::size_t i = 0; i < s.operands.size(); ++i)
      numbers.push_back(in_text(s.operands[i], s.formula.operands[i]));
    const auto doubt = [](double x, const Number& n) {
      return n.kind.point ? 1e-15 * std::abs(n.si) : 1e-15 * std::abs(x);
    };
    const double offset = s.value.kind.point ? 1e-15 * std::abs(s.value.si) : 0.0;
    return detail::against(detail::evaluated(s, numbers), value,
                           1e-12 * std::abs(value) + offset + detail::spread(s, doubt));
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
}

/// The printed line against the printed value: they may differ by half a unit of the value's last
/// digit and by what the rounding of the operands does.
inline std::string line_against_value(const Step& s, int digits = 4) {
  try {
    const std::string line = with_numbers(s, digits);
    const auto read = [](const std::string& text) { return PocketCalculator(text).result(); };
    const double value = read(print(s.value, digits));
    double tolerance = 1e-12 * std::abs(value) + detail::half_unit(value, digits);
    if (s.how == Step::How::given) return detail::against(read(line), value, tolerance);
    if (s.how == Step::How::formula) {
      tolerance +=
          detail::spread(s, [&](double x, const Number&) { return detail::half_unit(x, digits); });
      return detail::against(read(line), value, tolerance);
    }
    for (const Number& n : s.operands) tolerance += detail::half_unit(in_text(n), digits);
    std::string terms = detail::without_names(s, line);
    if (s.how == Step::How::largest && terms.starts_with("largest of "))
      terms = "max(" + terms.substr(11) + ")";
    if (s.how == Step::How::smallest && terms.starts_with("smallest of "))
      terms = "min(" + terms.substr(12) + ")";
    return detail::against(read(terms), value, tolerance);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
}

}  // namespace housepower::test

// SPDX-License-Identifier: Apache-2.0
// Formulas that show their working.
//
// A Formula is one object: the code that computes, and beside it the text that a person redoes.
// Engines call formulas through `step`, which computes and, if someone asked, writes the step
// down. There is no second computation to drift. That text and code of one object agree is
// tested for every step of every finding: the tests of checks evaluate the text.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "housepower/units/number.hpp"
#include "housepower/working/source.hpp"

namespace housepower {

/// An operand as the text names it, and what it stands for.
struct Symbol {
  std::string_view symbol;   // "L"
  std::string_view meaning;  // "one-way length"
  std::string_view unit{};   // in which it counts in the text, "mm²"; empty: in SI
};

/// What a step tells about its formula, free of its types. In a text, temperatures count in °C,
/// angles in degrees (sin(α), acos(…)), all else in SI unless its symbol names a unit; a number may
/// carry its unit ("25 °C").
struct FormulaText {
  std::string_view symbol;           // "U_drop"
  std::string_view meaning;          // "voltage lost out and back"
  std::string_view text;             // "2 · L · I · r"
  std::span<const Symbol> operands;  // in the order of the arguments
  Source source;
  std::string_view unit{};   // of an equation between bare numbers, "A·√s/mm²"; else empty
  std::string_view holds{};  // the range where it holds, in words; may be empty
};

template <std::size_t N, class Compute> struct Formula {
  std::string_view symbol, meaning, text;
  std::array<Symbol, N> operands;
  Source source;
  Compute compute;
  std::string_view holds{};
  std::string_view unit{};

  constexpr Formula(std::string_view symbol_, std::string_view meaning_, std::string_view text_,
                    const Symbol (&operands_)[N], Source source_, Compute compute_,
                    std::string_view holds_ = {}, std::string_view unit_ = {})
      : symbol(symbol_), meaning(meaning_), text(text_), operands(std::to_array(operands_)),
        source(source_), compute(compute_), holds(holds_), unit(unit_) {}

  template <class... Q> constexpr auto operator()(const Q&... q) const {
    static_assert(sizeof...(Q) == N, "one argument for each operand of the text");
    return compute(q...);
  }
  [[nodiscard]] constexpr FormulaText about() const {
    return {symbol, meaning, text, operands, source, unit, holds};
  }
};

/// One line of a working.
struct Step {
  enum class How { given, formula, sum, largest, smallest };
  How how = How::given;
  FormulaText formula;             // of a given value: symbol, meaning and source only
  std::vector<Number> operands;    // in the order of the formula, or the terms
  std::vector<std::string> names;  // of the terms of a sum, largest or smallest
  Number value;
};

using Working = std::vector<Step>;

/// A value taken from a table, the design or a solution, named with its source.
template <class Q>
const Q& given(Working* working, std::string_view symbol, std::string_view meaning, const Q& q,
               const Source& source) {
  if (working)
    working->push_back({Step::How::given, {symbol, meaning, {}, {}, source}, {}, {}, Number(q)});
  return q;
}

/// Computes `formula`; writes the step down where a working is kept.
template <std::size_t N, class F, class... Q>
constexpr auto step(Working* working, const Formula<N, F>& formula, const Q&... q) {
  const auto value = formula(q...);
  if (working)
    working->push_back({Step::How::formula, formula.about(), {Number(q)...}, {}, Number(value)});
  return value;
}

template <class Q> struct Term {
  std::string name;
  Q value;
};

/// "Q_day = fridge 12.3 Ah + lights 4.5 Ah + …"; likewise the largest or smallest of named values.
template <class Q>
Q combine(Working* working, Step::How how, std::string_view symbol, std::string_view meaning,
          std::span<const Term<Q>> terms) {
  Q value{};
  for (std::size_t i = 0; i < terms.size(); ++i) {
    const Q& term = terms[i].value;
    if (how == Step::How::sum) value += term;
    else if (i == 0 || (how == Step::How::largest ? value < term : term < value)) value = term;
  }
  if (working) {
    Step& s =
        working->emplace_back(Step{how, {symbol, meaning, {}, {}, {}}, {}, {}, Number(value)});
    for (const auto& term : terms) {
      s.names.push_back(term.name);
      s.operands.push_back(Number(term.value));
    }
  }
  return value;
}
template <class Q>
Q sum(Working* working, std::string_view symbol, std::string_view meaning,
      const std::vector<Term<Q>>& terms) {
  return combine<Q>(working, Step::How::sum, symbol, meaning, terms);
}
template <class Q>
Q largest(Working* working, std::string_view symbol, std::string_view meaning,
          const std::vector<Term<Q>>& terms) {
  return combine<Q>(working, Step::How::largest, symbol, meaning, terms);
}
template <class Q>
Q smallest(Working* working, std::string_view symbol, std::string_view meaning,
           const std::vector<Term<Q>>& terms) {
  return combine<Q>(working, Step::How::smallest, symbol, meaning, terms);
}

/// "2 · 4 m · 15 A · 7.98 mΩ/m": the text with its numbers put in, each with `digits` significant
/// digits, ratios bare, and so is what counts in a unit of its symbol; a sum as "fridge 12.3 Ah + lights 4.5 Ah - sun 3.2 Ah", a choice as "largest
/// of pump 4 A, fridge 12 A". The line evaluates to the printed value within its digits.
[[nodiscard]] std::string with_numbers(const Step& step, int digits = 4);

}  // namespace housepower

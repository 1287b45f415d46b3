// SPDX-License-Identifier: Apache-2.0
// Formulas by name: for `housepower formula`, for the manual, and for the test of text against
// code. Each room lists its own formulas; the report room joins the lists.
#pragma once

#include <utility>

#include "housepower/working/working.hpp"

namespace housepower {

struct FormulaEntry {
  std::string_view name;  // "voltage-drop"
  FormulaText about;      // text and symbols; a procedure of several formulas says so in its text
  std::span<const Kind> kinds;  // of the operands
  Kind kind;                    // of the value
  Number (*evaluate)(std::span<const Number> operands, Working*);
};

namespace detail {
template <class Call> struct Signature;
template <class Closure, class R, class... Q> struct Signature<R (Closure::*)(Q...) const> {
  static constexpr std::array<Kind, sizeof...(Q)> kinds{kind_of<std::remove_cvref_t<Q>>...};
  static constexpr Kind kind = kind_of<R>;
  template <class F, std::size_t... I>
  static Number call(const F& formula, std::span<const Number> n, Working* working,
                     std::index_sequence<I...>) {
    return Number(step(working, formula, std::remove_cvref_t<Q>::from_value(n[I].si)...));
  }
};
template <class F> using SignatureOf = Signature<decltype(&decltype(F::compute)::operator())>;

template <class Function> struct ProcedureOf;
template <class R, class... Q> struct ProcedureOf<R (*)(Q...)> {
  static constexpr std::array<Kind, sizeof...(Q)> kinds{kind_of<std::remove_cvref_t<Q>>...};
  static constexpr Kind kind = kind_of<R>;
  template <auto function, std::size_t... I>
  static Number call(std::span<const Number> n, std::index_sequence<I...>) {
    return Number(function(std::remove_cvref_t<Q>::from_value(n[I].si)...));
  }
};
}  // namespace detail

/// A formula object under its name.
template <const auto& formula> constexpr FormulaEntry entry(std::string_view name) {
  using F = std::remove_cvref_t<decltype(formula)>;
  using S = detail::SignatureOf<F>;
  return {name, formula.about(), S::kinds, S::kind,
          [](std::span<const Number> operands, Working* working) {
            return S::call(formula, operands, working, std::make_index_sequence<S::kinds.size()>{});
          }};
}

/// A procedure of several steps (the sun's altitude, a diffuse share with cases) under its name.
/// `function` takes quantities and returns one; `about` tells its symbols and its source.
template <auto function>
constexpr FormulaEntry procedure(std::string_view name, const FormulaText& about) {
  using P = detail::ProcedureOf<decltype(function)>;
  return {name, about, P::kinds, P::kind, [](std::span<const Number> operands, Working*) {
            return P::template call<function>(operands,
                                              std::make_index_sequence<P::kinds.size()>{});
          }};
}

}  // namespace housepower
